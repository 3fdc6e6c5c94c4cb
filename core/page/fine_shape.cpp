#include "core/page/fine_shape.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "core/page/tolerances.h"

namespace tearline::page {

namespace {

using Ends = std::pair<std::int32_t, std::int32_t>;  ///< of a side, the smaller vertex first

Ends ends_of(std::int32_t a, std::int32_t b) {
    return {std::min(a, b), std::max(a, b)};
}

/// A corner of a facet, with its parameters on the facet's face.
struct Corner {
    std::int32_t vertex;
    Vec2 uv;
    /// Per parameter: the place is the same whatever it is, as u at the pole of a sphere.
    std::array<bool, 2> any{false, false};
};

struct Facet {
    FaceId face;
    std::array<Corner, 3> corners;
};

/// The mean of some corners' parameters, of each by those that mean one.
template <typename... Corners>
Vec2 mean_uv(const Corners&... corners) {
    Vec2 mean;
    for (std::size_t i = 0; i < 2; ++i) {
        const auto k = static_cast<Eigen::Index>(i);
        const int count = (int(!corners.any[i]) + ...);
        mean[k] = count > 0 ? ((corners.any[i] ? 0.0 : corners.uv[k]) + ...) / count
                            : (corners.uv[k] + ...) / double(sizeof...(corners));
    }
    return mean;
}

/// How far a place lies off the line through two others [mm].
double off_line(const Vec3& place, const Vec3& from, const Vec3& to) {
    const Vec3 along = to - from, there = place - from;
    const double square = along.squaredNorm();
    return square > 0.0 ? along.cross(there).norm() / std::sqrt(square) : there.norm();
}

/// Splits facets round by round.
class Splitter {
public:
    explicit Splitter(const hull::Hull& hull) : cad_(*hull.cad), vertices_(hull.vertices) {
        for (std::size_t t = 0; t < hull.triangles.size(); ++t) facets_.push_back(as_read(hull, t));
        for (const hull::EdgeOnCad& edge : hull.cad_edges)
            on_edge_.emplace(ends_of(edge.from, edge.to), edge);
    }

    /// Until nothing is off, or a round would make more than `most`.
    Shape split(std::size_t most) {
        while (true) {
            find_middles();
            std::size_t made = facets_.size();
            for (const Facet& facet : facets_)
                for (int k = 0; k < 3; ++k) made += middle_of(facet, k) >= 0 ? 1 : 0;
            if (made == facets_.size() || made > most) break;
            split_all();
        }
        Shape out{vertices_, {}, 1.0};
        for (const auto& [face, corners] : facets_)
            out.triangles.push_back({corners[0].vertex, corners[1].vertex, corners[2].vertex});
        return out;
    }

private:
    [[nodiscard]] const Vec3& place(std::int32_t vertex) const {
        return vertices_[static_cast<std::size_t>(vertex)];
    }

    [[nodiscard]] Facet as_read(const hull::Hull& hull, std::size_t t) const {
        Facet facet{hull.face[t], {}};
        double longest = 0.0;
        for (std::size_t k = 0; k < 3; ++k) {
            facet.corners[k] = {hull.triangles[t][k], hull.corner_uv[t][k]};
            longest = std::max(
                longest,
                (place(hull.triangles[t][k]) - place(hull.triangles[t][(k + 1) % 3])).norm());
        }
        for (Corner& corner : facet.corners) {
            const hull::FacePoint point = cad_.evaluate(facet.face, corner.uv);
            const std::array<double, 2> pace{point.du.norm(), point.dv.norm()};
            for (std::size_t i = 0; i < 2; ++i)
                corner.any[i] = pace[i] * span(facet, i) < tolerance::standstill * longest;
        }
        return facet;
    }

    /// How far the corners of a facet lie apart in one parameter.
    static double span(const Facet& facet, std::size_t parameter) {
        const auto k = static_cast<Eigen::Index>(parameter);
        const auto [low, high] =
            std::minmax({facet.corners[0].uv[k], facet.corners[1].uv[k], facet.corners[2].uv[k]});
        return high - low;
    }

    static const Corner& corner(const Facet& facet, int k) {
        return facet.corners[static_cast<std::size_t>(k % 3)];
    }

    static Ends side(const Facet& facet, int k) {
        return ends_of(corner(facet, k).vertex, corner(facet, k + 1).vertex);
    }

    static Vec2 uv_between(const Facet& facet, int k) {
        return mean_uv(corner(facet, k), corner(facet, k + 1));
    }

    /// The middle of a side on the model.
    [[nodiscard]] Vec3 middle_place(const Facet& facet, int k) const {
        if (const auto edge = on_edge_.find(side(facet, k)); edge != on_edge_.end())
            return cad_.edge_point(edge->second.edge, middle_parameter(edge->second));
        return cad_.evaluate(facet.face, uv_between(facet, k)).position;
    }

    static double middle_parameter(const hull::EdgeOnCad& edge) {
        return 0.5 * (edge.parameter_from + edge.parameter_to);
    }

    /// The vertex that halves a side, or -1.
    [[nodiscard]] std::int32_t middle_of(const Facet& facet, int k) const {
        const auto found = middles_.find(side(facet, k));
        return found == middles_.end() ? -1 : found->second.vertex;
    }

    /// A facet lies off its face where one of its sides does, or, on a saddle, its middle alone.
    void find_middles() {
        middles_.clear();
        for (const Facet& facet : facets_) {
            for (int k = 0; k < 3; ++k) {
                const auto [found, fresh] = middles_.try_emplace(side(facet, k));
                if (!fresh) continue;
                found->second.place = middle_place(facet, k);
                found->second.wanted =
                    off_line(found->second.place, place(found->first.first),
                             place(found->first.second)) > tolerance::off_the_faces;
            }
        }
        for (const Facet& facet : facets_)
            if (bulges(facet)) middles_.at(side(facet, longest(facet))).wanted = true;
        std::erase_if(middles_, [](const auto& one) { return !one.second.wanted; });
        if (!middles_.empty()) number_middles();
    }

    [[nodiscard]] bool bulges(const Facet& facet) const {
        const auto& [first, second, third] = facet.corners;
        const Vec2 uv = mean_uv(first, second, third);
        const Vec3 &a = place(first.vertex), &b = place(second.vertex);
        const Vec3 normal = (b - a).cross(place(third.vertex) - a);
        const double off = (cad_.evaluate(facet.face, uv).position - a).dot(normal);
        return std::abs(off) > tolerance::off_the_faces * normal.norm();
    }

    [[nodiscard]] int longest(const Facet& facet) const {
        int best = 0;
        double length = -1.0;
        for (int k = 0; k < 3; ++k) {
            const Ends ends = side(facet, k);
            const double here = (place(ends.first) - place(ends.second)).squaredNorm();
            if (here > length) length = here, best = k;
        }
        return best;
    }

    void number_middles() {
        auto next = static_cast<std::int32_t>(vertices_.size());
        for (auto& [ends, middle] : middles_) middle.vertex = next++;
    }

    void split_all() {
        for (const auto& [ends, middle] : middles_) {
            vertices_.push_back(middle.place);
            halve_edge(ends, middle.vertex);
        }
        std::vector<Facet> before;
        before.swap(facets_);
        for (const Facet& facet : before) split_one(facet);
    }

    void halve_edge(const Ends& ends, std::int32_t middle) {
        const auto found = on_edge_.find(ends);
        if (found == on_edge_.end()) return;
        const hull::EdgeOnCad whole = found->second;
        on_edge_.erase(found);
        const double at = middle_parameter(whole);
        // The middle is numbered last: it is the larger end of both halves.
        on_edge_.emplace(Ends(whole.from, middle),
                         hull::EdgeOnCad{whole.from, middle, whole.edge, whole.parameter_from, at});
        on_edge_.emplace(Ends(whole.to, middle),
                         hull::EdgeOnCad{whole.to, middle, whole.edge, whole.parameter_to, at});
    }

    /// Parameters of a side's middle on the facet's face.
    [[nodiscard]] Vec2 middle_uv(const Facet& facet, int k, std::int32_t middle) const {
        const Vec2 between = uv_between(facet, k);
        const auto half = on_edge_.find(Ends(corner(facet, k).vertex, middle));
        if (half == on_edge_.end()) return between;
        return cad_.edge_uv(half->second.edge, facet.face, half->second.parameter_to, between);
    }

    void split_one(const Facet& facet) {
        std::array<std::optional<Corner>, 3> middle;
        int halved = 0;
        for (int k = 0; k < 3; ++k) {
            const std::int32_t vertex = middle_of(facet, k);
            if (vertex < 0) continue;
            middle[static_cast<std::size_t>(k)] = {vertex, middle_uv(facet, k, vertex)};
            ++halved;
        }
        // Corners and middles in order round the facet; ears are cut at the corners between two
        // middles, and what is left is one triangle, or two.
        std::vector<Corner> round;
        for (std::size_t k = 0; k < 3; ++k) {
            const auto &before = middle[(k + 2) % 3], &after = middle[k];
            if (before && after)
                facets_.push_back({facet.face, {*before, facet.corners[k], *after}});
            else
                round.push_back(facet.corners[k]);
            if (after) round.push_back(*after);
        }
        if (halved == 1) begin_at_middle(round, middle);
        if (halved == 2) begin_at_shorter(round);
        for (std::size_t i = 2; i < round.size(); ++i)
            facets_.push_back({facet.face, {round[0], round[i - 1], round[i]}});
    }

    /// Four corners are parted from the first.
    static void begin_at_middle(std::vector<Corner>& round,
                                const std::array<std::optional<Corner>, 3>& middle) {
        const auto single = std::find_if(middle.begin(), middle.end(),
                                         [](const auto& one) { return one.has_value(); });
        std::rotate(
            round.begin(),
            std::find_if(round.begin(), round.end(),
                         [&](const Corner& one) { return one.vertex == (*single)->vertex; }),
            round.end());
    }

    void begin_at_shorter(std::vector<Corner>& round) const {
        const auto apart = [&](std::size_t a, std::size_t b) {
            return (place(round[a].vertex) - place(round[b].vertex)).squaredNorm();
        };
        if (apart(1, 3) < apart(0, 2)) std::rotate(round.begin(), round.begin() + 1, round.end());
    }

    struct Middle {
        Vec3 place{0, 0, 0};
        bool wanted = false;
        std::int32_t vertex = -1;
    };

    const hull::CadFaces& cad_;
    std::vector<Vec3> vertices_;
    std::vector<Facet> facets_;
    std::map<Ends, hull::EdgeOnCad> on_edge_;
    std::map<Ends, Middle> middles_;  ///< ordered, so that vertices are numbered alike each time
};

}  // namespace

Shape fine_shape(const hull::Hull& hull, std::size_t most) {
    return Splitter(hull).split(most);
}

}  // namespace tearline::page

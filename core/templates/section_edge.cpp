#include "core/templates/section_edge.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "core/base/tolerances.h"

namespace tearline::templates {

namespace {

constexpr int secant_steps = 4;  // an edge's arc is nearly a parabola: the third is exact already
constexpr int parts = 4;         // of the way through one triangle

using Edge = std::pair<std::int32_t, std::int32_t>;

struct Cut {
    const surface::Patch& patch;
    Vec3 middle, normal, axis, side;

    [[nodiscard]] double off(const Vec3& point) const { return (point - middle).dot(side); }
    [[nodiscard]] Vec2 flat(const Vec3& point) const {
        return {(point - middle).dot(axis), (point - middle).dot(normal)};
    }
    [[nodiscard]] Vec3 at(std::size_t triangle, const Vec3& weights) const {
        return patch.sample({TriangleId(triangle), weights}).position;
    }
};

/// Where the plane crosses the surface over the edge from corner i to the next, as weights.
Vec3 crossing(const Cut& cut, std::size_t triangle, int i) {
    const auto& v = cut.patch.mesh.triangle[triangle];
    const int j = (i + 1) % 3;
    const auto weights = [&](double t) {
        Vec3 w(0, 0, 0);
        w[i] = 1.0 - t;
        w[j] = t;
        return w;
    };
    double low = 0.0, high = 1.0;
    double off_low = cut.off(cut.patch.mesh.position[static_cast<std::size_t>(v[i])]);
    double off_high = cut.off(cut.patch.mesh.position[static_cast<std::size_t>(v[j])]);
    double t = off_low / (off_low - off_high);
    for (int step = 0; step < secant_steps; ++step) {
        const double off = cut.off(cut.at(triangle, weights(t)));
        if (off == 0.0) break;
        ((off >= 0.0) == (off_low >= 0.0) ? low : high) = t;
        ((off >= 0.0) == (off_low >= 0.0) ? off_low : off_high) = off;
        t = low + (high - low) * off_low / (off_low - off_high);
    }
    return weights(t);
}

/// The way through one triangle: its two crossed edges and points between.
struct Passage {
    Edge from, to;
    std::vector<Vec2> points;  ///< from the one to the other
};

std::vector<Passage> passages(const Cut& cut) {
    std::vector<Passage> out;
    const auto& mesh = cut.patch.mesh;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
        const auto& v = mesh.triangle[t];
        std::vector<int> crossed;
        for (int i = 0; i < 3; ++i) {
            const auto a = static_cast<std::size_t>(v[i]);
            const auto b = static_cast<std::size_t>(v[(i + 1) % 3]);
            if ((cut.off(mesh.position[a]) >= 0.0) != (cut.off(mesh.position[b]) >= 0.0))
                crossed.push_back(i);
        }
        if (crossed.size() != 2) continue;
        const Vec3 from = crossing(cut, t, crossed[0]), to = crossing(cut, t, crossed[1]);
        const auto edge = [&](int i) { return Edge(std::minmax(v[i], v[(i + 1) % 3])); };
        Passage passage{edge(crossed[0]), edge(crossed[1]), {}};
        for (int k = 0; k <= parts; ++k)
            passage.points.push_back(
                cut.flat(cut.at(t, from + (to - from) * (static_cast<double>(k) / parts))));
        out.push_back(std::move(passage));
    }
    return out;
}

/// Follows the line from one passage over its `edge` to its end.
std::vector<Vec2> follow(const std::vector<Passage>& all,
                         const std::multimap<Edge, std::size_t>& by, std::size_t start, Edge edge) {
    std::vector<Vec2> line;
    std::set<std::size_t> seen{start};
    for (bool found = true; found;) {
        found = false;
        for (auto [it, end] = by.equal_range(edge); it != end && !found; ++it) {
            if (!seen.insert(it->second).second) continue;
            const Passage& next = all[it->second];
            std::vector<Vec2> points = next.points;
            if (next.from != edge) std::reverse(points.begin(), points.end());
            line.insert(line.end(), points.begin() + 1, points.end());
            edge = next.from == edge ? next.to : next.from;
            found = true;
        }
    }
    return line;
}

/// The run about the middle along which places only rise.
std::vector<Vec2> rising_part(const std::vector<Vec2>& points) {
    // A vertex on the plane is passed by triangles that the line only touches.
    std::vector<Vec2> line;
    for (const Vec2& point : points)
        if (line.empty() || (point - line.back()).norm() > tolerance::outline_thinning)
            line.push_back(point);
    if (line.front().x() > line.back().x()) std::reverse(line.begin(), line.end());
    const auto middle = std::min_element(
        line.begin(), line.end(),
        [](const Vec2& a, const Vec2& b) { return a.squaredNorm() < b.squaredNorm(); });
    auto first = middle, last = middle;
    while (first != line.begin() && (first - 1)->x() < first->x()) --first;
    while (last + 1 != line.end() && (last + 1)->x() > last->x()) ++last;
    return {first, last + 1};
}

}  // namespace

std::vector<Vec2> section_edge(const surface::Patch& patch, const Vec3& middle, const Vec3& normal,
                               const Vec3& axis) {
    const Cut cut{patch, middle, normal, axis, normal.cross(axis)};
    const std::vector<Passage> all = passages(cut);
    if (all.empty()) return {};
    std::multimap<Edge, std::size_t> by_edge;
    std::size_t start = 0;
    double nearest = all[0].points[0].norm();
    for (std::size_t k = 0; k < all.size(); ++k) {
        by_edge.insert({all[k].from, k});
        by_edge.insert({all[k].to, k});
        for (const Vec2& point : all[k].points)
            if (point.norm() < nearest) nearest = point.norm(), start = k;
    }
    std::vector<Vec2> line = follow(all, by_edge, start, all[start].from);
    std::reverse(line.begin(), line.end());
    line.insert(line.end(), all[start].points.begin(), all[start].points.end());
    const std::vector<Vec2> onwards = follow(all, by_edge, start, all[start].to);
    line.insert(line.end(), onwards.begin(), onwards.end());
    return rising_part(line);
}

namespace {

/// Fore and aft is "along"; a transom has none, and is told by "athwart".
std::string section_name(const std::string& end, const damage::FlatFrame& frame) {
    if (end == "bow" || end == "aft") return "along";
    const bool athwart = end == "starboard" || end == "port";
    return athwart && !frame.axis_from_is_bow ? "athwart" : "across";
}

}  // namespace

std::vector<Section> make_sections(const surface::Patch& patch, const damage::FlatFrame& frame,
                                   const Directions& directions) {
    std::vector<Section> sections;
    for (const std::size_t i : {0u, 1u}) {
        const Vec3& axis = i == 0 ? frame.x : frame.y;
        std::vector<Vec2> edge = section_edge(patch, frame.middle, frame.normal, axis);
        if (edge.size() < 2) continue;
        const std::string& end = directions.ends[i];
        sections.push_back({section_name(end, frame),
                            std::move(edge),
                            90.0 * static_cast<double>(i),
                            {directions.ends[i + 2], end}});
    }
    return sections;
}

}  // namespace tearline::templates

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/parallel/tolerances.h"
#include "core/parallel/trim_corner.h"
#include "core/parallel/trim_strip.h"

namespace tearline::parallel {
namespace {

tl::unexpected<Error> no_ridge(const Vec3& p) {
    return no_safe_answer(
        "the sheets beside the crease at (" + fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " +
            fixed(p.z(), 1) +
            ") mm do not meet at the ply's depth: fair the crease, make the repair "
            "shallower or lay it from the other side",
        p);
}

/// A place on the crease between vertices k and k + 1 of a line, or beyond its ends.
struct CreasePlace {
    std::size_t edge;
    double share;
};

/// Builds the nodes of strips of one crease line.
class StripBuilder {
public:
    StripBuilder(const BaseMesh& base, const CreaseSheets& sheets, std::size_t line,
                 const DepthAtChart& depth)
        : base_(base), sheets_(sheets), line_(sheets.lines[line]), depth_(depth) {
        for (const auto& loop : surface::boundary_loops(base.mesh)) {
            loops_.emplace_back();
            for (const std::int32_t v : loop) loops_.back().push_back(base.chart[v]);
        }
    }

    /// The node on the crease, not yet carried to the ridge.
    [[nodiscard]] StripNode crease_node(const CreasePlace& place) const {
        const CreaseVertex& a = line_.vertices[place.edge];
        const CreaseVertex& b = line_.vertices[place.edge + 1];
        const double s = place.share;
        const double clamped = std::clamp(s, 0.0, 1.0);
        StripNode node;
        node.along = a.along + s * (b.along - a.along);
        node.section.point =
            base_.mesh.position[a.vertex.index()] +
            s * (base_.mesh.position[b.vertex.index()] - base_.mesh.position[a.vertex.index()]);
        node.section.normal = ((1.0 - clamped) * a.tangent + clamped * b.tangent).normalized();
        node.centre = base_.chart[a.vertex.index()] +
                      s * (base_.chart[b.vertex.index()] - base_.chart[a.vertex.index()]);
        const auto foot = [&](CopyId copy_a, CopyId copy_b, TriangleId triangle) {
            const Vec3 n =
                (1.0 - clamped) * sheets_.normal[copy_a] + clamped * sheets_.normal[copy_b];
            return SheetFoot{node.centre,
                             {node.section.point, n.normalized(),
                              chart_carry(base_.mesh, base_.chart, triangle)}};
        };
        const auto& sides = line_.sides[place.edge];
        node.ridge.left = foot(a.left, b.left, sides[0]);
        node.ridge.right = foot(a.right, b.right, sides[1]);
        node.ridge.position = node.section.point;
        return node;
    }

    /// Carries a crease node to the ridge; false when there is none.
    [[nodiscard]] bool raise(StripNode& node) const {
        const Vec3 nl = node.ridge.left.point.normal;
        const Vec3 nr = node.ridge.right.point.normal;
        const Vec3& t = node.section.normal;
        const double turn = std::atan2(nl.cross(nr).dot(t), nl.dot(nr));
        const double width = depth_(node.centre) * std::tan(0.5 * turn);
        if (!(width > 0.0)) return false;
        RidgePoint start = node.ridge;
        move_foot(base_.at, start.left, width * nl.cross(t).normalized(), {&nr, 1});
        move_foot(base_.at, start.right, width * t.cross(nr).normalized(), {&nl, 1});
        const auto ridge = find_ridge(base_.at, depth_, node.section, start);
        if (!ridge) return false;
        node.ridge = *ridge;
        return true;
    }

    [[nodiscard]] bool inside(const Vec2& p) const {
        bool odd = false;
        for (const Loop2& loop : loops_) odd = odd != contains(loop, p);
        return odd;
    }

    /// Whether any of the mesh lies across the strip at a node.
    [[nodiscard]] bool touches_mesh(const StripNode& node) const {
        for (const Side side : {Side::left, Side::right})
            for (const double s : {0.0, 0.5, 1.0})
                if (inside(node.centre + s * (edge_of(node, side) - node.centre))) return true;
        return false;
    }

    /// Adds the nodes from the strip's first crease vertex to its last.
    [[nodiscard]] Result<void> run(TrimStrip& strip, const std::vector<CreaseWay>& ways) const {
        for (std::size_t e = strip.first; e <= strip.last; ++e) {
            const std::size_t edge = e < line_.sides.size() ? e : e - 1;
            const double length = line_.vertices[edge + 1].along - line_.vertices[edge].along;
            const int parts = e == strip.last
                                  ? 1
                                  : static_cast<int>(std::ceil(length / tolerance::strip_spacing));
            StripNode node = crease_node({edge, edge == e ? 0.0 : 1.0});
            if (reaches(strip, node.along)) {
                node.tip = ways[e] != CreaseWay::trimmed;
                if (!node.tip && !raise(node)) return no_ridge(node.section.point);
                strip.nodes.push_back(node);
            }
            for (int k = 1; k < parts; ++k) {
                StripNode between = crease_node({edge, static_cast<double>(k) / parts});
                if (reaches(strip, between.along) && raise(between)) strip.nodes.push_back(between);
            }
        }
        return {};
    }

    /// Finds the corners that the strip runs into.
    [[nodiscard]] Result<void> meet_corners(TrimStrip& strip,
                                            const PerId<CornerId, TrimCorner>& corners) const {
        const std::size_t last = line_.vertices.size() - 1;
        for (const CornerId c : corners.ids())
            for (const bool at_start : {true, false}) {
                const std::size_t i = at_start ? 0 : last;
                if ((at_start ? strip.first : strip.last) != i ||
                    line_.vertices[i].vertex != corners[c].vertex)
                    continue;
                const auto along = along_of(corners[c].position, at_start);
                if (!along) return no_ridge(base_.mesh.position[corners[c].vertex.index()]);
                (at_start ? strip.start : strip.end) = TrimStrip::CornerEnd{c, *along};
            }
        if (strip.start.corner.valid() && strip.end.corner.valid() &&
            !(strip.start.along < strip.end.along))
            return no_ridge(base_.mesh.position[line_.vertices[last].vertex.index()]);
        return {};
    }

    /// Ends the strip in the corner at one of its ends, if one is there: with a node in the section
    /// through it and one at the crease's own end, both with the corner's feet.
    [[nodiscard]] std::vector<StripNode> corner_nodes(const TrimStrip& strip,
                                                      const PerId<CornerId, TrimCorner>& corners,
                                                      bool at_start) const {
        const auto& met = at_start ? strip.start : strip.end;
        if (!met.corner.valid()) return {};
        const TrimCorner& corner = corners[met.corner];
        const std::size_t last = line_.vertices.size() - 1;
        const CreaseVertex& v = line_.vertices[at_start ? 0 : last];
        StripNode through = crease_node(place_at(met.along));
        through.ridge = {corner.foot_of(v.left), corner.foot_of(v.right), corner.position};
        StripNode end = through;
        end.along = v.along;
        end.centre = base_.chart[v.vertex.index()];
        if (at_start) return {end, through};
        return {through, end};
    }

    /// Way along the crease of the section that holds a point, searched from one of its ends; past
    /// the other if the crease leaves the mesh there.
    [[nodiscard]] std::optional<double> along_of(const Vec3& point, bool from_start) const {
        const std::size_t edges = line_.sides.size();
        const auto ahead = [&](std::size_t i) {
            const CreaseVertex& v = line_.vertices[i];
            return (point - base_.mesh.position[v.vertex.index()]).dot(v.tangent);
        };
        for (std::size_t k = 0; k < edges; ++k) {
            const std::size_t i = from_start ? k : edges - k;
            const std::size_t j = from_start ? i + 1 : i - 1;
            const double here = ahead(i);
            const double there = ahead(j);
            if (k == 0 && !(from_start ? here > 0.0 : here < 0.0)) return line_.vertices[i].along;
            if (here * there > 0.0) continue;
            const double share = here / (here - there);
            return line_.vertices[i].along +
                   share * (line_.vertices[j].along - line_.vertices[i].along);
        }
        if (from_start && line_.ends_on_rim) return line_.vertices.back().along + ahead(edges);
        if (!from_start && line_.starts_on_rim) return line_.vertices.front().along + ahead(0);
        return std::nullopt;
    }

    /// Nodes beyond the end of the line, nearest first, until the mesh is left behind.
    [[nodiscard]] std::vector<StripNode> beyond(const TrimStrip& strip, bool at_start) const {
        std::vector<StripNode> nodes;
        const std::size_t edge = at_start ? 0 : line_.sides.size() - 1;
        const double length = line_.vertices[edge + 1].along - line_.vertices[edge].along;
        for (int k = 1; k <= tolerance::most_strip_steps_beyond; ++k) {
            const double s = k * tolerance::strip_spacing / length;
            StripNode node = crease_node({edge, at_start ? -s : 1.0 + s});
            if (!reaches(strip, node.along)) continue;
            if (!raise(node)) break;
            nodes.push_back(node);
            if (!touches_mesh(node)) break;
        }
        return nodes;
    }

private:
    /// Whether a way along the crease lies between the strip's corners.
    [[nodiscard]] static bool reaches(const TrimStrip& strip, double along) {
        constexpr double apart = 0.1 * tolerance::strip_spacing;  // from the corner's own node
        return (!strip.start.corner.valid() || along > strip.start.along + apart) &&
               (!strip.end.corner.valid() || along < strip.end.along - apart);
    }

    [[nodiscard]] CreasePlace place_at(double along) const {
        std::size_t edge = 0;
        while (edge + 1 < line_.sides.size() && line_.vertices[edge + 1].along < along) ++edge;
        const double from = line_.vertices[edge].along;
        return {edge, (along - from) / (line_.vertices[edge + 1].along - from)};
    }

    const BaseMesh& base_;
    const CreaseSheets& sheets_;
    const CreaseLine& line_;
    const DepthAtChart& depth_;
    std::vector<Loop2> loops_;
};

}  // namespace

Eigen::Matrix<double, 3, 2> chart_carry(const surface::SurfaceMesh& mesh,
                                        const std::vector<Vec2>& chart, TriangleId triangle) {
    const auto& v = mesh.triangle[triangle.index()];
    Eigen::Matrix2d plane;
    plane << chart[v[1]] - chart[v[0]], chart[v[2]] - chart[v[0]];
    Eigen::Matrix<double, 3, 2> space;
    space << mesh.position[v[1]] - mesh.position[v[0]], mesh.position[v[2]] - mesh.position[v[0]];
    return space * plane.inverse();
}

Result<std::vector<TrimStrip>> trim_strips(const BaseMesh& base, const CreaseSheets& sheets,
                                           std::size_t line, const std::vector<CreaseWay>& ways,
                                           const DepthAtChart& depth,
                                           const PerId<CornerId, TrimCorner>& corners) {
    std::vector<TrimStrip> strips;
    std::optional<StripBuilder> builder;
    for (std::size_t i = 0; i < ways.size(); ++i) {
        if (ways[i] != CreaseWay::trimmed) continue;
        if (!builder) builder.emplace(base, sheets, line, depth);
        TrimStrip strip;
        strip.line = line;
        std::size_t end = i;
        while (end + 1 < ways.size() && ways[end + 1] == CreaseWay::trimmed) ++end;
        strip.first = i > 0 ? i - 1 : 0;
        strip.last = end + 1 < ways.size() ? end + 1 : end;
        if (const auto met = builder->meet_corners(strip, corners); !met)
            return tl::unexpected(met.error());
        strip.nodes = builder->corner_nodes(strip, corners, true);
        if (i == 0) {
            strip.nodes = builder->beyond(strip, true);
            std::reverse(strip.nodes.begin(), strip.nodes.end());
        }
        if (const auto done = builder->run(strip, ways); !done) return tl::unexpected(done.error());
        const auto more = end + 1 == ways.size() ? builder->beyond(strip, false)
                                                 : builder->corner_nodes(strip, corners, false);
        strip.nodes.insert(strip.nodes.end(), more.begin(), more.end());
        strips.push_back(std::move(strip));
        i = end;
    }
    return strips;
}

}  // namespace tearline::parallel

#include "core/parallel/trim_strip.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>

#include "core/base/numbers.h"
#include "core/parallel/tolerances.h"
#include "core/parallel/trim_corner.h"

namespace tearline::parallel {
namespace {

const Vec2& edge_of(const StripNode& node, Side side) {
    return side == Side::left ? node.ridge.left.chart : node.ridge.right.chart;
}

/// Index k of the span [k, k + 1] that holds `along`, and the share of the way through it.
std::pair<std::size_t, double> span_at(const std::vector<StripNode>& nodes, double along) {
    std::size_t k = 0;
    while (k + 2 < nodes.size() && nodes[k + 1].along < along) ++k;
    const double width = nodes[k + 1].along - nodes[k].along;
    return {k, width > 0.0 ? std::clamp((along - nodes[k].along) / width, 0.0, 1.0) : 0.0};
}

bool in_triangle(const Vec2& p, const Vec2& a, const Vec2& b, const Vec2& c) {
    if (cross2(b - a, c - a) == 0.0) return false;  // at a tip
    const double u = cross2(b - a, p - a);
    const double v = cross2(c - b, p - b);
    const double w = cross2(a - c, p - c);
    return (u >= 0.0 && v >= 0.0 && w >= 0.0) || (u <= 0.0 && v <= 0.0 && w <= 0.0);
}

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
        node.section.point = base_.mesh.position[a.vertex] +
                             s * (base_.mesh.position[b.vertex] - base_.mesh.position[a.vertex]);
        node.section.normal = ((1.0 - clamped) * a.tangent + clamped * b.tangent).normalized();
        node.centre = base_.chart[a.vertex] + s * (base_.chart[b.vertex] - base_.chart[a.vertex]);
        const auto foot = [&](std::int32_t copy_a, std::int32_t copy_b, std::int32_t triangle) {
            const Vec3 n =
                (1.0 - clamped) * sheets_.normal[copy_a] + clamped * sheets_.normal[copy_b];
            return SheetFoot{node.centre,
                             {node.section.point, n.normalized(), chart_carry(base_, triangle)}};
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
                                            const std::vector<TrimCorner>& corners) const {
        const std::size_t last = line_.vertices.size() - 1;
        for (std::size_t c = 0; c < corners.size(); ++c)
            for (const bool at_start : {true, false}) {
                const std::size_t i = at_start ? 0 : last;
                if ((at_start ? strip.first : strip.last) != i ||
                    line_.vertices[i].vertex != corners[c].vertex)
                    continue;
                const auto along = along_of(corners[c].position, at_start);
                if (!along) return no_ridge(base_.mesh.position[corners[c].vertex]);
                (at_start ? strip.start : strip.end) = {static_cast<std::int32_t>(c), *along};
            }
        if (strip.start.corner >= 0 && strip.end.corner >= 0 &&
            !(strip.start.along < strip.end.along))
            return no_ridge(base_.mesh.position[line_.vertices[last].vertex]);
        return {};
    }

    /// Ends the strip in the corner at one of its ends, if one is there: with a node in the section
    /// through it and one at the crease's own end, both with the corner's feet.
    [[nodiscard]] std::vector<StripNode> corner_nodes(const TrimStrip& strip,
                                                      const std::vector<TrimCorner>& corners,
                                                      bool at_start) const {
        const auto& met = at_start ? strip.start : strip.end;
        if (met.corner < 0) return {};
        const TrimCorner& corner = corners[static_cast<std::size_t>(met.corner)];
        const std::size_t last = line_.vertices.size() - 1;
        const CreaseVertex& v = line_.vertices[at_start ? 0 : last];
        StripNode through = crease_node(place_at(met.along));
        through.ridge = {corner.foot_of(v.left), corner.foot_of(v.right), corner.position};
        StripNode end = through;
        end.along = v.along;
        end.centre = base_.chart[v.vertex];
        if (at_start) return {end, through};
        return {through, end};
    }

    /// Way along the crease of the section that holds a point, searched from one of its ends; past
    /// the other if the crease leaves the mesh there.
    [[nodiscard]] std::optional<double> along_of(const Vec3& point, bool from_start) const {
        const std::size_t edges = line_.sides.size();
        const auto ahead = [&](std::size_t i) {
            const CreaseVertex& v = line_.vertices[i];
            return (point - base_.mesh.position[v.vertex]).dot(v.tangent);
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
        return (strip.start.corner < 0 || along > strip.start.along + apart) &&
               (strip.end.corner < 0 || along < strip.end.along - apart);
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

Eigen::Matrix<double, 3, 2> chart_carry(const BaseMesh& base, std::int32_t triangle) {
    const auto& v = base.mesh.triangle[triangle];
    Eigen::Matrix2d chart;
    chart << base.chart[v[1]] - base.chart[v[0]], base.chart[v[2]] - base.chart[v[0]];
    Eigen::Matrix<double, 3, 2> space;
    space << base.mesh.position[v[1]] - base.mesh.position[v[0]],
        base.mesh.position[v[2]] - base.mesh.position[v[0]];
    return space * chart.inverse();
}

Vec2 TrimStrip::edge_point(Side side, double along) const {
    const auto [k, s] = span_at(nodes, along);
    return (1.0 - s) * edge_of(nodes[k], side) + s * edge_of(nodes[k + 1], side);
}

Vec2 TrimStrip::centre_point(double along) const {
    const auto [k, s] = span_at(nodes, along);
    return (1.0 - s) * nodes[k].centre + s * nodes[k + 1].centre;
}

Section TrimStrip::section_at(double along) const {
    const auto [k, s] = span_at(nodes, along);
    const Section& a = nodes[k].section;
    const Section& b = nodes[k + 1].section;
    return {(1.0 - s) * a.point + s * b.point, ((1.0 - s) * a.normal + s * b.normal).normalized()};
}

RidgePoint TrimStrip::ridge_point(const SurfaceAtChart& at, const DepthAtChart& depth,
                                  double along) const {
    const auto [k, s] = span_at(nodes, along);
    const StripNode& a = nodes[k];
    const StripNode& b = nodes[k + 1];
    const StripNode& near = a.tip || (s > 0.5 && !b.tip) ? b : a;
    RidgePoint start = near.ridge;
    const Vec3 nl = start.left.point.normal;
    const Vec3 nr = start.right.point.normal;
    const auto carry_to = [&](SheetFoot& foot, Side side, const Vec3& other) {
        const Vec2 wanted = edge_point(side, along);
        move_foot(at, foot, foot.point.along * (wanted - foot.chart), {&other, 1});
    };
    carry_to(start.left, Side::left, nr);
    carry_to(start.right, Side::right, nl);
    if (const auto ridge = find_ridge(at, depth, section_at(along), start)) return *ridge;
    const auto down = [&](const SheetFoot& foot) {
        return Vec3(foot.point.position - depth(foot.chart) * foot.point.normal);
    };
    start.position = 0.5 * (down(start.left) + down(start.right));
    return start;
}

bool TrimStrip::covers(Side side, const Vec2& point) const {
    for (std::size_t k = 0; k + 1 < nodes.size(); ++k) {
        const Vec2& c0 = nodes[k].centre;
        const Vec2& c1 = nodes[k + 1].centre;
        const Vec2& e0 = edge_of(nodes[k], side);
        const Vec2& e1 = edge_of(nodes[k + 1], side);
        if (in_triangle(point, c0, c1, e1) || in_triangle(point, c0, e1, e0)) return true;
    }
    return false;
}

TrimStrip::Crossing TrimStrip::cross(Side side, const Vec2& from, const Vec2& to) const {
    Crossing best;
    const Vec2 run = to - from;
    for (std::size_t k = 0; k + 1 < nodes.size(); ++k) {
        const Vec2& e0 = edge_of(nodes[k], side);
        const Vec2 edge = edge_of(nodes[k + 1], side) - e0;
        const double denominator = cross2(run, edge);
        if (!(std::abs(denominator) > 0.0)) continue;
        const double share = cross2(e0 - from, edge) / denominator;
        const double on_edge = cross2(e0 - from, run) / denominator;
        if (!(share >= 0.0 && share <= 1.0 && on_edge >= 0.0 && on_edge <= 1.0)) continue;
        if (share > best.share)
            best = {share, nodes[k].along + on_edge * (nodes[k + 1].along - nodes[k].along)};
    }
    return best;
}

std::vector<CreaseWay> crease_ways(const CreaseLine& line, const std::vector<Vec2>& chart,
                                   const DepthAtChart& depth) {
    const std::size_t count = line.vertices.size();
    std::vector<CreaseWay> ways(count, CreaseWay::mitre);
    std::vector<double> depths(count);
    for (std::size_t i = 0; i < count; ++i) {
        const CreaseVertex& v = line.vertices[i];
        const double d = depth(chart[v.vertex]);
        depths[i] = std::abs(d);
        const bool end = i == 0 || i + 1 == count;
        const bool on_rim = i == 0 ? line.starts_on_rim : line.ends_on_rim;
        if (end && !on_rim) continue;  // others meet it there, or it ends inside a sheet
        const double mitre = 2.0 * d * std::tan(0.5 * v.turn);
        const double arc = std::abs(d * v.turn);
        // At the rim a mitre would bend the outline: an arc keeps its points where they belong.
        const bool needs_arc =
            end ? arc > tolerance::least_trim : -mitre - arc > tolerance::mitre_error;
        if (mitre > tolerance::least_trim)
            ways[i] = CreaseWay::trimmed;
        else if (mitre < 0.0 && needs_arc)
            ways[i] = CreaseWay::opened;
    }
    for (std::size_t i = 0; i + 1 < count; ++i) {
        const bool both = ways[i] != CreaseWay::mitre && ways[i + 1] != CreaseWay::mitre;
        if (both && ways[i] != ways[i + 1])
            ways[depths[i] < depths[i + 1] ? i : i + 1] = CreaseWay::mitre;
    }
    return ways;
}

Result<std::vector<TrimStrip>> trim_strips(const BaseMesh& base, const CreaseSheets& sheets,
                                           std::size_t line, const std::vector<CreaseWay>& ways,
                                           const DepthAtChart& depth,
                                           const std::vector<TrimCorner>& corners) {
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

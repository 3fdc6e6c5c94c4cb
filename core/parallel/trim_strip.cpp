#include "core/parallel/trim_strip.h"

#include <algorithm>
#include <cmath>

namespace tearline::parallel {
namespace {

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

}  // namespace

const Vec2& edge_of(const StripNode& node, Side side) {
    return side == Side::left ? node.ridge.left.chart : node.ridge.right.chart;
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

}  // namespace tearline::parallel

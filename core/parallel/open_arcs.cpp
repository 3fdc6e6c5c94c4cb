#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/parallel/lay_draft.h"
#include "core/parallel/tolerances.h"

namespace tearline::parallel {
namespace {

/// A point of an arc round a crease vertex.
struct ArcPoint {
    LayId vertex;
    Vec3 normal;
};

using Arc = std::vector<ArcPoint>;

/// The arc at a crease vertex, from the left sheet to the right; one point where it is closed.
Arc arc_at(LayDraft& draft, const CreaseVertex& v, CreaseWay way, int segments) {
    const LaidCopy& left = draft.copies[v.left];
    const LaidCopy& right = draft.copies[v.right];
    if (way != CreaseWay::opened) return {{left.vertex, left.normal}};
    Arc arc{{left.vertex, left.normal}};
    for (int k = 1; k < segments; ++k) {
        const Vec3 axis = std::copysign(1.0, v.turn) * left.normal.cross(right.normal).normalized();
        const Vec3 n = Eigen::AngleAxisd(v.turn * k / segments, axis) * left.normal;
        arc.push_back({draft.add_vertex(left.base - left.depth * n, left.base, left.chart), n});
    }
    arc.push_back({right.vertex, right.normal});
    return arc;
}

/// Two triangles between segment k of two arcs; one where either is a single point.
/// @param from, to  chart points of the two arcs' crease vertices
void fill_arc(LayDraft& draft, const Vec2& from, const Vec2& to, const Arc& before,
              const Arc& after, int k) {
    const auto pick = [](const Arc& arc, int i) {
        return arc[arc.size() > 1 ? static_cast<std::size_t>(i) : 0];
    };
    const auto normal = [&](const Arc& arc, const Arc& wide, int i) {
        return arc.size() > 1 ? pick(arc, i).normal : pick(wide, i).normal;
    };
    const std::array<ArcPoint, 4> corner{pick(before, k), pick(before, k + 1), pick(after, k + 1),
                                         pick(after, k)};
    const std::array<Vec3, 4> n{normal(before, after, k), normal(before, after, k + 1),
                                normal(after, before, k + 1), normal(after, before, k)};
    const std::array<Vec2, 4> chart{from, from, to, to};
    for (const auto& [a, b, c] : {std::array{0, 1, 2}, std::array{0, 2, 3}})
        draft.add_triangle({corner[a].vertex, corner[b].vertex, corner[c].vertex},
                           {n[a], n[b], n[c]}, {chart[a], chart[b], chart[c]}, std::nullopt);
}

void open_line(const BaseMesh& base, const CreaseLine& line, const std::vector<CreaseWay>& ways,
               LayDraft& draft) {
    int segments = 1;
    for (std::size_t i = 0; i < line.vertices.size(); ++i)
        if (ways[i] == CreaseWay::opened)
            segments =
                std::max(segments, static_cast<int>(std::ceil(std::abs(line.vertices[i].turn) /
                                                              tolerance::arc_segment)));
    const auto chart = [&](std::size_t i) { return base.chart[line.vertices[i].vertex.index()]; };
    Arc before = arc_at(draft, line.vertices[0], ways[0], segments);
    for (std::size_t i = 1; i < line.vertices.size(); ++i) {
        Arc after = arc_at(draft, line.vertices[i], ways[i], segments);
        for (int k = 0; k < segments && before.size() + after.size() > 2; ++k)
            fill_arc(draft, chart(i - 1), chart(i), before, after, k);
        before = std::move(after);
    }
}

}  // namespace

void open_arcs(const LayParts& parts, LayDraft& draft) {
    for (std::size_t l = 0; l < parts.sheets.lines.size(); ++l)
        open_line(parts.base, parts.sheets.lines[l], parts.ways[l], draft);
}

}  // namespace tearline::parallel

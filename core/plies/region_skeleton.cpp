#include "core/plies/region_skeleton.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <unordered_map>
#include <utility>

#include "core/base/tolerances.h"
#include "core/plane/box.h"
#include "core/plane/nearest_on_line.h"
#include "core/plane/segment.h"
#include "core/plies/resample.h"
#include "core/plies/tolerances.h"

namespace tearline::plies {
namespace {

/// Edges no longer than this times the radius: where a 40 mm bilge meets flat topsides, longer ones
/// turn what lies beyond it by 0.03 degrees (0.2 mm at an edge; measured against 32000 triangles).
constexpr double edge_over_radius = 0.13;
/// How fast edges may lengthen with distance.
constexpr double growth = 0.35;
/// Small radii may cost at most so many times the asked count.
constexpr double most_over_asked = 3.0;

/// Largest normal curvature that a triangle's corner normals show along its edges [1/mm].
double curvature_of(const surface::SurfaceMesh& mesh, std::size_t t) {
    double largest = 0.0;
    for (int i = 0; i < 3; ++i) {
        const int j = (i + 1) % 3;
        const Vec3 turn = mesh.corner_normal[t][j] - mesh.corner_normal[t][i];
        largest = std::max(largest, turn.norm() / mesh.edge_length[t][i]);
    }
    return largest;
}

SizingField sizes_of(const surface::Patch& patch, const Region2& region, std::size_t triangles) {
    const plane::Box box = plane::box_round(region.outer);
    const double of_one = std::sqrt(3.0) / 4.0;
    const double size = std::sqrt(area(region) / (of_one * static_cast<double>(triangles)));
    const auto by_curvature = [&](double floor) {
        SizingField sizes(box.low, box.high, size);
        const Vec2 margin = Vec2::Constant(size);
        for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t) {
            const auto& v = patch.mesh.triangle[t];
            const Vec2 centre = (patch.chart[v[0]] + patch.chart[v[1]] + patch.chart[v[2]]) / 3.0;
            if ((centre - box.low + margin).minCoeff() < 0.0) continue;
            if ((box.high - centre + margin).minCoeff() < 0.0) continue;
            const double curvature = curvature_of(patch.mesh, t);
            if (!(curvature * size > edge_over_radius)) continue;
            const double here = std::max(floor, edge_over_radius / curvature);
            sizes.limit(centre, here);
            for (const std::int32_t c : v) sizes.limit(patch.chart[c], here);
        }
        sizes.grade(growth);
        return sizes;
    };
    double floor = size / 8.0;
    SizingField sizes = by_curvature(floor);
    while (sizes.triangles_for(region) > most_over_asked * static_cast<double>(triangles) &&
           floor < size) {
        floor *= 1.25;
        sizes = by_curvature(floor);
    }
    return sizes;
}

/// A line to keep, and what for.
struct Line {
    MarkedCurve curve;
    plane::EdgeKind kind;
};

std::vector<bool> on_rim(const surface::Patch& patch) {
    std::vector<bool> rim(patch.chart.size(), false);
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (patch.neighbour[t][i] < 0)
                rim[patch.mesh.triangle[t][i]] = rim[patch.mesh.triangle[t][(i + 1) % 3]] = true;
    return rim;
}

/// Moves the end of a line a little farther out.
void run_on(Vec2& end, const Vec2& before) {
    end += tolerance::crease_runs_on * (end - before).normalized();
}

std::vector<Line> lines_to_keep(const surface::Patch& patch, const plane::Box& box,
                                const RegionMeshOptions& options) {
    std::vector<Line> lines;
    const auto add = [&](const std::vector<Vec2>& points, plane::EdgeKind kind) {
        if (!box.touches(plane::box_round(points))) return;
        // Closed lines are opened where they start: that point is kept like any end.
        Line line{mark_corners(points, false), kind};
        if (line.curve.points.size() > 1) lines.push_back(std::move(line));
    };
    const std::vector<bool> rim = on_rim(patch);
    for (const auto& chain : patch.crease_lines()) {
        std::vector<Vec2> points;
        for (const std::int32_t v : chain) points.push_back(patch.chart[v]);
        // Where a crease runs out at the hull's end a region's edge lies on that end to within
        // rounding: it is made to cross, or the edge would pass the corner by.
        if (points.size() > 1) {
            if (rim[chain.front()]) run_on(points.front(), points[1]);
            if (rim[chain.back()]) run_on(points.back(), points[points.size() - 2]);
        }
        add(points, plane::EdgeKind::crease);
    }
    for (const auto& points : options.lines)
        if (points.size() > 1) add(points, plane::EdgeKind::kink);
    return lines;
}

struct Crossing {
    std::size_t segment;
    double along;  ///< [-] of the segment
    Vec2 point;
};

std::size_t segments(const MarkedCurve& curve) {
    return curve.closed ? curve.points.size() : curve.points.size() - 1;
}

void insert_crossings(MarkedCurve& curve, std::vector<Crossing>& crossings) {
    std::sort(crossings.begin(), crossings.end(), [](const Crossing& a, const Crossing& b) {
        return a.segment != b.segment ? a.segment > b.segment : a.along > b.along;
    });
    for (const Crossing& c : crossings) insert_kept(curve, c.segment, c.point);
}

/// The box round a segment of a curve.
plane::Box box_of(const MarkedCurve& curve, std::size_t i) {
    const Vec2 &a = curve.points[i], &b = curve.points[(i + 1) % curve.points.size()];
    return {a.cwiseMin(b), a.cwiseMax(b)};
}

/// Puts a kept point on both curves wherever they cross.
void cross(MarkedCurve& one, MarkedCurve& other) {
    std::vector<Crossing> on_one, on_other;
    std::vector<plane::Box> boxes;
    for (std::size_t j = 0; j < segments(other); ++j) boxes.push_back(box_of(other, j));
    const plane::Box all = plane::box_round(other.points);
    for (std::size_t i = 0; i < segments(one); ++i) {
        const plane::Box box = box_of(one, i);
        if (!box.touches(all)) continue;
        const Vec2 &p = one.points[i], &p_end = one.points[(i + 1) % one.points.size()];
        for (std::size_t j = 0; j < boxes.size(); ++j) {
            if (!box.touches(boxes[j])) continue;
            const Vec2 &q = other.points[j], &q_end = other.points[(j + 1) % other.points.size()];
            const Vec2 u = p_end - p, v = q_end - q, w = q - p;
            const double den = cross2(u, v);
            if (den == 0.0) continue;
            const double s = cross2(w, v) / den, t = cross2(w, u) / den;
            if (!(s >= 0.0 && s <= 1.0 && t >= 0.0 && t <= 1.0)) continue;
            const Vec2 point = p + s * u;
            on_one.push_back({i, s, point});
            on_other.push_back({j, t, point});
        }
    }
    insert_crossings(one, on_one);
    insert_crossings(other, on_other);
}

bool comes_back(const Line& line) {
    return (line.curve.points.front() - line.curve.points.back()).norm() <= tolerance::chart_merge;
}

/// Creases meet at their ends alone, and of the lines asked for those that close are levels of one
/// depth; folds are open, and go through them.
bool may_cross(const Line& one, const Line& other) {
    if (one.kind != other.kind) return true;
    return one.kind == plane::EdgeKind::kink && comes_back(one) != comes_back(other);
}

/// The parts of a line inside the region.
std::vector<MarkedCurve> parts_inside(const MarkedCurve& line, const Region2& region) {
    std::vector<MarkedCurve> parts;
    bool open = false;
    for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
        if (!contains(region, 0.5 * (line.points[i] + line.points[i + 1]))) {
            open = false;
            continue;
        }
        if (!open) {
            parts.emplace_back();
            parts.back().points.push_back(line.points[i]);
            parts.back().keep.push_back(1);
        }
        open = true;
        parts.back().points.push_back(line.points[i + 1]);
        parts.back().keep.push_back(line.keep[i + 1]);
    }
    for (MarkedCurve& part : parts) part.keep.back() = 1;
    return parts;
}

/// Numbers points, the same place once.
class PointBook {
public:
    explicit PointBook(std::vector<Vec2>& points) : points_(points) {}
    std::int32_t number(const Vec2& p) {
        const std::int64_t x = std::llround(p.x() / tolerance::chart_merge);
        const std::int64_t y = std::llround(p.y() / tolerance::chart_merge);
        for (std::int64_t i = x - 1; i <= x + 1; ++i)
            for (std::int64_t j = y - 1; j <= y + 1; ++j)
                if (const auto found = at_.find({i, j}); found != at_.end()) return found->second;
        const auto id = static_cast<std::int32_t>(points_.size());
        points_.push_back(p);
        at_.emplace(std::pair{x, y}, id);
        return id;
    }

private:
    std::vector<Vec2>& points_;
    struct Hash {
        std::size_t operator()(const std::pair<std::int64_t, std::int64_t>& cell) const {
            return std::hash<std::int64_t>()(cell.first * 1'000'003 + cell.second);
        }
    };
    std::unordered_map<std::pair<std::int64_t, std::int64_t>, std::int32_t, Hash> at_;
};

/// A line without the points that crowd the outline, but for its ends. It is broken where what is
/// left out does not lie beside the chord over it: there it ran along the outline, which bends.
std::vector<std::vector<Vec2>> without_crowding(const std::vector<Vec2>& line,
                                                const Region2& region, const SizingField& sizes) {
    constexpr double crowded = 0.3, on_it = 0.02;  // [-] of the size asked for
    std::vector<std::vector<Vec2>> parts(1);
    bool stands_off = line.size() == 2;
    std::size_t kept = 0;
    const auto beside_chord = [&](std::size_t from, std::size_t to) {
        for (std::size_t i = from + 1; i < to; ++i)
            if (plane::distance_to_segment(line[from], line[to], line[i]) >
                crowded * sizes.at(line[i]))
                return false;
        return true;
    };
    for (std::size_t i = 0; i < line.size(); ++i) {
        const bool end = i == 0 || i + 1 == line.size();
        const double distance = end ? 0.0 : plane::distance_to_edge(region, line[i]);
        stands_off = stands_off || distance > on_it * sizes.at(line[i]);
        if (!end && !(distance > crowded * sizes.at(line[i]))) continue;
        if (!beside_chord(kept, i)) parts.emplace_back();
        parts.back().push_back(line[i]);
        kept = i;
    }
    // A line that runs along the outline all the way is the outline.
    if (!stands_off) parts.clear();
    return parts;
}

}  // namespace

RegionSkeleton region_skeleton(const surface::Patch& patch, const Region2& region,
                               const RegionMeshOptions& options) {
    RegionSkeleton out{{}, {}, sizes_of(patch, region, options.triangles)};
    const SizeAt size = [&](const Vec2& p) { return out.sizes.at(p); };

    std::vector<MarkedCurve> loops;
    loops.push_back(mark_corners(region.outer, true));
    for (const Loop2& hole : region.holes) loops.push_back(mark_corners(hole, true));
    std::vector<Line> lines = lines_to_keep(patch, plane::box_round(region.outer), options);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        for (MarkedCurve& loop : loops) cross(loop, lines[i].curve);
        for (std::size_t k = 0; k < i; ++k)
            if (may_cross(lines[k], lines[i])) cross(lines[k].curve, lines[i].curve);
    }

    PointBook book(out.skeleton.points);
    std::vector<std::pair<Vec2, double>> spacing;
    const auto add = [&](const std::vector<Vec2>& points, bool closed, plane::EdgeKind kind) {
        const std::size_t count = points.size();
        for (std::size_t i = 0; i + (closed ? 0 : 1) < count; ++i) {
            const Vec2& a = points[i];
            const Vec2& b = points[(i + 1) % count];
            const std::int32_t from = book.number(a), to = book.number(b);
            if (from == to) continue;
            out.skeleton.edges.push_back({from, to, kind});
            spacing.emplace_back(0.5 * (a + b), (b - a).norm());
        }
    };
    for (std::size_t i = 0; i < loops.size(); ++i) {
        Loop2 loop = resample(loops[i], size, Between::smooth);
        if (loop.size() < 3) continue;
        add(loop, true, plane::EdgeKind::outline);
        (i == 0 ? out.region.outer : out.region.holes.emplace_back()) = std::move(loop);
    }
    if (out.region.outer.empty()) return out;
    for (const Line& line : lines)
        for (const MarkedCurve& part : parts_inside(line.curve, region)) {
            const Between between =
                line.kind == plane::EdgeKind::crease ? Between::straight : Between::smooth;
            for (const auto& kept :
                 without_crowding(resample(part, size, between), out.region, out.sizes))
                add(kept, false, line.kind);
        }
    for (const auto& [place, length] : spacing) out.sizes.limit(place, length);
    out.sizes.grade(growth);
    return out;
}

}  // namespace tearline::plies

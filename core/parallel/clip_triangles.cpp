#include <algorithm>
#include <unordered_map>
#include <unordered_set>
#include <utility>

#include "core/parallel/strip_cut.h"
#include "core/parallel/tolerances.h"

namespace tearline::parallel {
namespace {

std::uint64_t directed_key(CopyId a, CopyId b) {
    return (static_cast<std::uint64_t>(static_cast<std::uint32_t>(a.value)) << 32) |
           static_cast<std::uint32_t>(b.value);
}

std::uint64_t edge_key(CopyId a, CopyId b) {
    return directed_key(std::min(a, b), std::max(a, b));
}

/// Clips triangles by the strips' edges.
class Clipping {
public:
    explicit Clipping(StripCut& cut) : cut_(cut) {}

    void run() {
        clip();
        fill_corners();
    }

private:
    /// The vertex where an edge leaves its strip, made at the first asking.
    CopyId cut_vertex(CopyId in, CopyId out, bool rim) {
        const auto known = made_.find(edge_key(in, out));
        if (known != made_.end()) return known->second;
        const auto found = cut_.leaving(in, out);
        const Vec2 point =
            cut_.cut.chart[in] + found.share * (cut_.cut.chart[out] - cut_.cut.chart[in]);
        CornerEnd* corner = cut_.corner_ends.near(found.mark, point, tolerance::jog);
        const CopyId made =
            corner
                ? standing_on(*corner)
                : cut_.cut.add(point, OnStrip{found.mark.strip, found.mark.side, found.along, rim});
        made_.emplace(edge_key(in, out), made);
        return made;
    }

    void keep(const std::array<CopyId, 3>& triangle, TriangleId source) {
        if (triangle[0] == triangle[1] || triangle[1] == triangle[2] || triangle[2] == triangle[0])
            return;  // two of its edges leave the strips in one corner
        std::array<Vec3, 3> normals;
        for (int k = 0; k < 3; ++k) {
            normals[k] = cut_.base.mesh.corner_normal[source.index()][k];
            for (int i = 0; i < 3; ++i)
                if (cut_.sheets.triangle[source][i] == triangle[k])
                    normals[k] = cut_.base.mesh.corner_normal[source.index()][i];
        }
        kept_.push_back(triangle);
        normals_.push_back(normals);
    }

    /// Whether a triangle whose corners all lie on a strip's edge lies inside the strip.
    [[nodiscard]] bool inside_strip(const std::array<CopyId, 3>& v) const {
        if (!cut_.on_edge(v[0]) || !cut_.on_edge(v[1]) || !cut_.on_edge(v[2])) return false;
        const Vec2 middle =
            (cut_.cut.chart[v[0]] + cut_.cut.chart[v[1]] + cut_.cut.chart[v[2]]) / 3.0;
        const OnStrip& on = cut_.cut.on[v[0]] ? *cut_.cut.on[v[0]] : cut_.cut.corner[v[0]]->ends[0];
        for (const StripSide& mark : cut_.corner_ends.with_mates({on.strip, on.side}))
            if (cut_.strips[mark.strip].covers(mark.side, middle)) return true;
        return false;
    }

    /// Fills what clipping leaves between the edges of two strips and the corner where they end.
    void fill_corners() {
        std::unordered_set<std::uint64_t> present;
        for (const auto& v : cut_.cut.triangle)
            for (int i = 0; i < 3; ++i)
                if (cut_.cut.on[v[i]] && cut_.cut.on[v[(i + 1) % 3]])
                    present.insert(directed_key(v[i], v[(i + 1) % 3]));
        for (const TriangleId t : cut_.cut.triangle.ids())  // those before the fill
            for (int i = 0; i < 3; ++i) {
                const CopyId a = cut_.cut.triangle[t][i];
                const CopyId b = cut_.cut.triangle[t][(i + 1) % 3];
                if (!cut_.cut.on[a] || !cut_.cut.on[b] || present.contains(directed_key(b, a)))
                    continue;
                const StripSide at_a{cut_.cut.on[a]->strip, cut_.cut.on[a]->side};
                const StripSide at_b{cut_.cut.on[b]->strip, cut_.cut.on[b]->side};
                if (at_a == at_b) continue;
                CornerEnd* corner = cut_.corner_ends.between(at_a, at_b);
                if (!corner || corner->made == corner->copy) continue;
                cut_.cut.triangle.add({b, a, standing_on(*corner)});
                const Vec3& normal =
                    cut_.corners[corner->on.corner].feet[corner->on.foot].foot.point.normal;
                cut_.cut.corner_normal.add({normal, normal, normal});
            }
    }

    /// The copy on a corner, made at the first asking.
    CopyId standing_on(CornerEnd& corner) {
        if (!corner.made.valid()) corner.made = cut_.cut.add(corner.foot, {}, corner.on);
        return corner.made;
    }

    void clip() {
        kept_.reserve(cut_.sheets.triangle.size());
        normals_.reserve(cut_.sheets.triangle.size());
        std::vector<CopyId> polygon;
        for (const TriangleId t : cut_.sheets.triangle.ids()) {
            const auto& v = cut_.sheets.triangle[t];
            polygon.clear();
            int in = 0;
            for (int i = 0; i < 3; ++i) {
                const CopyId a = v[i];
                const CopyId b = v[(i + 1) % 3];
                if (cut_.in[a])
                    ++in;
                else
                    polygon.push_back(a);
                if (cut_.leaves(a, b)) polygon.push_back(cut_vertex(a, b, cut_.sheets.rim[t][i]));
                if (cut_.leaves(b, a)) polygon.push_back(cut_vertex(b, a, cut_.sheets.rim[t][i]));
            }
            if (polygon.size() < 3 || (in == 0 && inside_strip(v))) continue;
            if (polygon.size() == 3) {
                keep({polygon[0], polygon[1], polygon[2]}, t);
                continue;
            }
            const auto diagonal = [&](int i, int j) {
                return (cut_.cut.chart[polygon[i]] - cut_.cut.chart[polygon[j]]).norm();
            };
            const int o = diagonal(0, 2) <= diagonal(1, 3) ? 0 : 1;
            keep({polygon[o], polygon[o + 1], polygon[o + 2]}, t);
            keep({polygon[o], polygon[o + 2], polygon[(o + 3) % 4]}, t);
        }
        cut_.cut.triangle = PerId<TriangleId, std::array<CopyId, 3>>(std::move(kept_));
        cut_.cut.corner_normal = PerId<TriangleId, std::array<Vec3, 3>>(std::move(normals_));
    }

    StripCut& cut_;
    std::unordered_map<std::uint64_t, CopyId> made_;
    std::vector<std::array<CopyId, 3>> kept_;
    std::vector<std::array<Vec3, 3>> normals_;
};

}  // namespace

void clip_triangles(StripCut& cut) {
    Clipping(cut).run();
}

}  // namespace tearline::parallel

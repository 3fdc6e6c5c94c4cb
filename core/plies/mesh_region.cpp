#include "core/plies/mesh_region.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "core/base/tolerances.h"
#include "core/plane/without_slivers.h"
#include "core/plies/lattice_points.h"
#include "core/plies/region_skeleton.h"
#include "core/plies/relax_mesh.h"
#include "core/plies/tolerances.h"
#include "core/surface/across.h"
#include "core/surface/locate_near.h"

namespace tearline::plies {
namespace {

constexpr int relax_sweeps = 3;

/// Whether a triangle of the chart lies upside down on the surface, by next to nothing.
bool is_turned(const surface::Patch& patch, const std::array<Vec2, 3>& chart) {
    std::array<Vec3, 3> p;
    for (std::size_t i = 0; i < 3; ++i)
        p[i] = patch.sample(surface::locate_near(patch, chart[i]).at).position;
    const Vec2 centre = (chart[0] + chart[1] + chart[2]) / 3.0;
    const Vec3 square = (p[1] - p[0]).cross(p[2] - p[0]);
    const double longest =
        std::max({(p[1] - p[0]).norm(), (p[2] - p[1]).norm(), (p[0] - p[2]).norm()});
    return square.norm() < tolerance::flat_ear * longest &&
           !(square.dot(patch.sample(surface::locate_near(patch, centre).at).normal) > 0.0);
}

/// The mesh without such ears of its rim: where the chart bends, three points of a rim that hardly
/// turns are in order in the chart and not on the surface.
plane::PlaneMesh without_turned_ears(const surface::Patch& patch, plane::PlaneMesh mesh) {
    for (bool found = true; found;) {
        found = false;
        std::vector<bool> keep(mesh.triangle.size(), true);
        for (std::size_t t = 0; t < keep.size(); ++t) {
            const auto& n = mesh.neighbour[t];
            if (std::count_if(n.begin(), n.end(), [](std::int32_t k) { return k < 0; }) != 2)
                continue;
            const auto& v = mesh.triangle[t];
            keep[t] = !is_turned(patch, {mesh.points[v[0]], mesh.points[v[1]], mesh.points[v[2]]});
            found = found || !keep[t];
        }
        if (found) mesh = plane::kept_triangles(mesh, keep);
    }
    return mesh;
}

/// Carries a plane mesh to the base surface.
class Lift {
public:
    Lift(const surface::Patch& patch, plane::PlaneMesh plane)
        : patch_(patch), plane_(std::move(plane)) {}

    RegionMesh run() {
        RegionMesh out;
        out.chart = plane_.points;
        out.mesh.triangle = plane_.triangle;
        place_vertices(out);
        mark_edges(out);
        set_normals(out);
        surface::set_arc_lengths(out.mesh, plane_.neighbour);
        return out;
    }

private:
    void place_vertices(RegionMesh& out) {
        out.at.reserve(out.chart.size());
        out.curvature.reserve(out.chart.size());
        normal_.reserve(out.chart.size());
        for (Vec2& p : out.chart) {
            const auto near = surface::locate_near(patch_, p);
            p = near.chart;
            out.at.push_back(near.at);
            const auto sample = patch_.sample(near.at);
            out.mesh.position.push_back(sample.position);
            out.curvature.emplace_back(sample.curvature_min, sample.curvature_max);
            normal_.push_back(sample.normal);
        }
    }

    void mark_edges(RegionMesh& out) {
        on_crease_.assign(out.chart.size(), 0);
        for (std::size_t t = 0; t < plane_.triangle.size(); ++t) {
            std::array<bool, 3> crease{}, kink{};
            for (int i = 0; i < 3; ++i) {
                crease[i] = plane_.kind[t][i] == plane::EdgeKind::crease;
                kink[i] = plane_.kind[t][i] == plane::EdgeKind::kink;
                if (!crease[i]) continue;
                on_crease_[plane_.triangle[t][i]] = 1;
                on_crease_[plane_.triangle[t][(i + 1) % 3]] = 1;
            }
            out.crease.push_back(crease);
            out.kink.push_back(kink);
        }
    }

    void set_normals(RegionMesh& out) {
        out.mesh.corner_normal.resize(plane_.triangle.size());
        for (std::size_t t = 0; t < plane_.triangle.size(); ++t) {
            const auto& v = plane_.triangle[t];
            const Vec2 centre = (out.chart[v[0]] + out.chart[v[1]] + out.chart[v[2]]) / 3.0;
            for (int i = 0; i < 3; ++i)
                out.mesh.corner_normal[t][i] =
                    on_crease_[v[i]] ? normal_on_side(out.chart[v[i]], centre, normal_[v[i]])
                                     : normal_[v[i]];
        }
    }

    /// The normal at a point of a crease, of the side on which `toward` lies.
    ///
    /// Where a triangle leaves the crease at a narrow angle, a place too near to the point may lie
    /// across the crease by rounding: then one farther in is asked.
    [[nodiscard]] Vec3 normal_on_side(const Vec2& point, const Vec2& toward,
                                      const Vec3& otherwise) const {
        const auto inside = patch_.locate(toward);
        if (!inside) return otherwise;
        const Vec3 of_side = patch_.sample(*inside).normal;
        const double alike = std::cos(tolerance::crease_degrees * std::numbers::pi / 180.0);
        for (const double share : {tolerance::crease_side, 0.05, 0.25}) {
            const auto beside = patch_.locate(point + share * (toward - point));
            if (!beside) continue;
            const Vec3 normal =
                patch_.sample(surface::in_triangle(patch_, beside->triangle, point)).normal;
            if (normal.dot(of_side) > alike) return normal;
        }
        return of_side;
    }

    const surface::Patch& patch_;
    plane::PlaneMesh plane_;
    std::vector<Vec3> normal_;
    std::vector<char> on_crease_;
};

}  // namespace

Result<RegionMesh> mesh_region(const surface::Patch& patch, const Region2& region,
                               const RegionMeshOptions& options) {
    if (region.outer.size() < 3 || !(area(region) > 0.0))
        return no_safe_answer("a ply's outline holds no area: nothing to mesh");
    const RegionSkeleton base = region_skeleton(patch, region, options);
    if (base.region.outer.empty())
        return no_safe_answer("a ply's outline is too thin to be cut from cloth");
    plane::PlaneMesh plane = plane::without_slivers(
        plane::triangulate_region(base.skeleton, lattice_points(base), base.region),
        tolerance::sliver_area);
    if (plane.triangle.empty())
        return no_safe_answer("a ply's outline is too thin to be cut from cloth");
    relax_mesh(plane, relax_sweeps);
    return Lift(patch, without_turned_ears(patch, std::move(plane))).run();
}

}  // namespace tearline::plies

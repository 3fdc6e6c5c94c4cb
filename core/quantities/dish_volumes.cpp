#include "core/quantities/dish_volumes.h"

#include <Eigen/Geometry>
#include <algorithm>

#include "core/dish/volume_under.h"
#include "core/ground/ground.h"
#include "core/plane/nearest_on_line.h"
#include "core/plane/room.h"
#include "core/plies/mesh_region.h"
#include "core/quantities/volume_units.h"

namespace tearline::quantities {

namespace {

/// How thick the plies lie at a place: whole inside their net lines, thinning over torn bands.
double laid_at(const job::Job& job, const ground::Ground& ground, const Vec2& at) {
    double sum = 0.0;
    for (std::size_t i = 0; i < ground.levels.plies.size(); ++i) {
        const plies::PlyLevel& ply = ground.levels.plies[i];
        if (ply.cover) continue;
        const job::Fabric& fabric = job.fabrics.at(ply.entry.fabric);
        const double band = fabric.kind == job::FabricKind::mat ? fabric.tear_margin : 0.0;
        double share = 0.0;
        for (const Region2& part : ground.ply_regions[i].chart) {
            if (contains(part, at)) {
                share = 1.0;
                break;
            }
            if (band > 0.0) share = std::max(share, 1.0 - plane::distance_to_edge(part, at) / band);
        }
        sum += share * ply.thickness;
    }
    return sum;
}

}  // namespace

Result<DishVolumes> dish_volumes(const job::Job& job, const ground::Ground& ground) {
    constexpr std::size_t triangles = 3000;
    DishVolumes volumes;
    for (const Region2& part : ground.region_at(ground.scarf_offset).chart) {
        const auto mesh = plies::mesh_region(ground.patch, part, {triangles, {}});
        if (!mesh) return tl::unexpected(mesh.error());
        std::vector<double> depth;
        for (const Vec2& p : mesh->chart) depth.push_back(ground.dish->depth(p));
        const double exact = dish::volume_under(mesh->mesh, depth) / mm3_per_millilitre;
        // How it is shared: by plain area times depth, at three places a triangle.
        double whole = 0.0, filled = 0.0, proud = 0.0;
        for (const auto& v : mesh->mesh.triangle) {
            const auto& x = mesh->mesh.position;
            const double third = (x[v[1]] - x[v[0]]).cross(x[v[2]] - x[v[0]]).norm() / 6.0;
            for (int i = 0; i < 3; ++i) {
                const Vec2 at = 0.5 * (mesh->chart[v[i]] + mesh->chart[v[(i + 1) % 3]]);
                const double deep = ground.dish->depth(at), laid = laid_at(job, ground, at);
                whole += third * deep;
                filled += third * std::min(deep, laid);
                proud += third * std::max(0.0, laid - deep);
                volumes.proud_max_mm = std::max(volumes.proud_max_mm, laid - deep);
            }
        }
        volumes.dish_mL += exact;
        volumes.proud_mL += proud / mm3_per_millilitre;
        if (whole > 0.0) volumes.laminate_mL += exact * filled / whole;
    }
    volumes.deepest_mm = ground.dish->deepest();
    volumes.fairing_mL = std::max(0.0, volumes.dish_mL - volumes.laminate_mL);
    return volumes;
}

}  // namespace tearline::quantities

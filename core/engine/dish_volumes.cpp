#include "core/engine/dish_volumes.h"

#include <Eigen/Geometry>
#include <algorithm>

#include "core/dish/dish.h"
#include "core/plies/mesh_region.h"
#include "core/plies/sounded_levels.h"
#include "core/surface/curved_area.h"

namespace tearline::engine {

Result<DishVolumes> dish_volumes(const Ground& ground) {
    constexpr double mm3_per_mL = 1000.0;
    constexpr std::size_t triangles = 8000;
    DishVolumes volumes;
    for (const Region2& part : ground.sounded->ground()) {
        const auto mesh = plies::mesh_region(ground.patch, part, {triangles, {}});
        if (!mesh) return tl::unexpected(mesh.error());
        std::vector<double> depth;
        for (const Vec2& p : mesh->chart) depth.push_back(ground.sounded->depth(p));
        volumes.dish_mL += dish::volume_under(mesh->mesh, depth) / mm3_per_mL;
        // How it is shared: by plain area times depth, three places a triangle.
        double whole = 0.0, laid = 0.0, proud = 0.0;
        for (const auto& v : mesh->mesh.triangle) {
            const auto& x = mesh->mesh.position;
            const double third = (x[v[1]] - x[v[0]]).cross(x[v[2]] - x[v[0]]).norm() / 6.0;
            for (int i = 0; i < 3; ++i) {
                const Vec2 at = 0.5 * (mesh->chart[v[i]] + mesh->chart[v[(i + 1) % 3]]);
                const double deep = ground.sounded->depth(at);
                const double plies = plies::laid_at(ground.levels.plies, deep);
                whole += third * deep;
                laid += third * std::min(deep, plies);
                proud += third * std::max(0.0, plies - deep);
            }
        }
        if (!(whole > 0.0)) continue;
        const double exact = dish::volume_under(mesh->mesh, depth) / mm3_per_mL / whole;
        volumes.laminate_mL += exact * laid;
        volumes.fairing_mL += exact * (whole - laid);
        volumes.proud_mL += exact * proud;
    }
    return volumes;
}

}  // namespace tearline::engine

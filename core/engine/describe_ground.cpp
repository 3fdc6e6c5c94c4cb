#include "core/engine/describe_ground.h"

#include <utility>

#include "core/engine/coarse_view.h"
#include "core/pieces/make_piece.h"
#include "core/pieces/piece_frame.h"
#include "core/plies/lay_surface.h"
#include "core/plies/mesh_region.h"
#include "core/surface/curved_area.h"
#include "core/templates/directions.h"
#include "core/templates/make_grind_guide.h"
#include "core/templates/section_edge.h"

namespace tearline::engine {

namespace {

/// Adds a part of the scarf region with the depth of the dish at each of its vertices.
void show_dish(const plies::RegionMesh& part, const Ground& ground, DishView& view) {
    const auto first = static_cast<std::int32_t>(view.points.size());
    for (std::size_t v = 0; v < part.chart.size(); ++v) {
        view.points.push_back(part.mesh.position[v]);
        view.depth.push_back(ground.sounded ? ground.sounded->depth(part.chart[v])
                                            : ground.dish->depth(part.chart[v]));
    }
    for (const auto& [a, b, c] : part.mesh.triangle)
        view.triangles.push_back({first + a, first + b, first + c});
}

/// Area on the base surface [mm2]; what the scarf region is meshed into goes to `view` as well.
Result<double> base_area(const Ground& ground, double offset, DishView& view) {
    double total = 0.0;
    if (offset == ground.scarf_offset) view = DishView{};
    for (const Region2& region : ground.region_at(offset).chart) {
        const auto mesh = plies::mesh_region(ground.patch, region);
        if (!mesh) return tl::unexpected(mesh.error());
        total += surface::curved_area(mesh->mesh);
        if (offset == ground.scarf_offset) show_dish(*mesh, ground, view);
    }
    return total;
}

/// The footprint on the base surface laid flat, in the frame of the templates.
Result<pieces::Piece> flat_footprint(const Ground& ground) {
    // The guide is drawn for the loop round the damage; a footprint falls apart only at a hull's
    // end.
    const plies::NetRegion& footprint = ground.region_at(ground.footprint_offset);
    const Region2* round_damage = &footprint.chart.front();
    for (const Region2& region : footprint.chart)
        if (contains(region, ground.frame.chart)) round_damage = &region;
    const auto mesh = plies::mesh_region(ground.patch, *round_damage);
    if (!mesh) return tl::unexpected(mesh.error());
    const auto lay = plies::lay_surface(
        ground.patch, *mesh, [](const Vec2&) { return 0.0; }, ground.frame.chart);
    if (!lay) return tl::unexpected(lay.error());
    auto piece = pieces::make_piece(*lay, "guide");
    if (piece) pieces::turn_to_frame(*piece, ground.frame.chart, ground.frame.x);
    return piece;
}

std::vector<Loop2> loops_of(const plies::NetRegion& region) {
    std::vector<Loop2> loops;
    for (const Region2& part : region.chart) {
        loops.push_back(part.outer);
        loops.insert(loops.end(), part.holes.begin(), part.holes.end());
    }
    return loops;
}

std::vector<templates::RingRequest> rings(const Ground& ground) {
    std::vector<templates::RingRequest> rings;
    const auto depth = [&](double offset) { return plies::dish_depth(ground.levels, offset); };
    // A dish that was sounded is ground already, and deeper here and shallower there.
    if (ground.scarf_offset > 0.0 && !ground.sounded)
        rings.push_back({loops_of(ground.region_at(0.0)), depth(0.0), 0});
    for (const plies::PlyLevel& ply : ground.levels.plies)
        rings.push_back({loops_of(ground.region_of(ply)),
                         ground.sounded ? ply.edge_depth : depth(ply.edge_offset), ply.number});
    for (std::size_t i = 0; i < ground.too_steep.size(); ++i)
        rings.push_back({loops_of(ground.too_steep[i]), ground.to_grind[i], -3});
    rings.push_back({loops_of(ground.region_at(ground.scarf_offset)), 0.0, -1});
    // The gel coat comes off to the footprint's own edge, which the guide has exactly: its chart
    // line laid flat would lie on the rim, inside here and outside there.
    return rings;
}

}  // namespace

Result<void> describe_ground(const Ground& ground, const hull::Hull& hull, Plan& plan) {
    plan.model_sha256 = hull.sha256;
    plan.frame = ground.frame;
    plan.dish = ground.levels.dish;
    for (const damage::OutlinePoint& point : ground.outline.points)
        plan.damage.outer.push_back(point.position);
    plan.damage_perimeter_mm = perimeter(plan.damage.outer);
    plan.scarf = ground.region_at(ground.scarf_offset).on_base;
    plan.footprint = ground.region_at(ground.footprint_offset).on_base;

    for (const auto& [offset, area] :
         {std::pair{0.0, &plan.damage_area_mm2},
          std::pair{ground.scarf_offset, &plan.scarf_area_mm2},
          std::pair{ground.footprint_offset, &plan.footprint_area_mm2}}) {
        const auto found = base_area(ground, offset, plan.dish_view);
        if (!found) return tl::unexpected(found.error());
        *area = *found;
    }

    const auto footprint = flat_footprint(ground);
    if (!footprint) return tl::unexpected(footprint.error());
    plan.grind_guide = templates::make_grind_guide(
        *footprint, ground.frame,
        templates::directions(ground.frame, plan.job.hull.bow, plan.job.hull.up), rings(ground));

    templates::add_tape_ticks(*footprint, ground.mark_ways, plan.grind_guide.marks);
    plan.sections = templates::make_sections(ground.patch, ground.frame);
    plan.view = coarse_view(hull);
    plan.view.near = ground.patch.mesh;
    return {};
}

}  // namespace tearline::engine

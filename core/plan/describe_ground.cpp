#include "core/plan/describe_ground.h"

#include <numbers>
#include <utility>

#include "core/ground/ground.h"
#include "core/hull/hull.h"
#include "core/pieces/make_piece.h"
#include "core/pieces/piece_frame.h"
#include "core/plan/fold_lines.h"
#include "core/plies/lay_surface.h"
#include "core/plies/mesh_region.h"
#include "core/surface/curved_area.h"
#include "core/templates/directions.h"
#include "core/templates/fold_lines.h"
#include "core/templates/make_grind_guide.h"
#include "core/templates/ring_leaders.h"
#include "core/templates/section_edge.h"

namespace tearline::plan {

namespace {

/// Adds a part of the scarf region with the depth of the dish at each of its vertices.
void show_dish(const plies::RegionMesh& part, const ground::Ground& ground, DishView& view) {
    const auto first = static_cast<std::int32_t>(view.points.size());
    for (std::size_t v = 0; v < part.chart.size(); ++v) {
        view.points.push_back(part.mesh.position[v]);
        view.depth.push_back(ground.dish->depth(part.chart[v]));
    }
    for (const auto& [a, b, c] : part.mesh.triangle)
        view.triangles.push_back({first + a, first + b, first + c});
}

/// What lies within an offset of the damage, on the base surface.
struct Within {
    double area = 0.0;                     ///< [mm2]
    std::vector<plies::RegionMesh> parts;  ///< as the region's
};

Result<Within> within(const ground::Ground& ground, double offset) {
    Within out;
    for (const Region2& region : ground.region_at(offset).chart) {
        auto mesh = plies::mesh_region(ground.patch, region);
        if (!mesh) return tl::unexpected(mesh.error());
        out.area += surface::curved_area(mesh->mesh);
        out.parts.push_back(std::move(*mesh));
    }
    return out;
}

/// The footprint laid flat, in the frame of the templates: on the base surface, and on the finished
/// face beyond the hull's end.
Result<pieces::Piece> flat_footprint(const ground::Ground& ground, const Within& on_hull) {
    // The guide is drawn for the loop round the damage; a footprint falls apart only at a hull's
    // end.
    const auto& regions = ground.footprint_under_cloth();
    std::size_t round_damage = 0;
    for (std::size_t k = 0; k < regions.size(); ++k)
        if (contains(regions[k], ground.frame.chart)) round_damage = k;
    std::optional<plies::RegionMesh> over_end;
    if (ground.lap) {
        plies::RegionMeshOptions options;
        for (const templates::FoldRequest& fold : fold_lines(ground, Units::metric))
            options.lines.push_back(fold.chart);
        auto mesh = plies::mesh_region(ground.under_cloth(), regions[round_damage], options);
        if (!mesh) return tl::unexpected(mesh.error());
        over_end = std::move(*mesh);
    }
    const auto lay = plies::lay_surface(
        ground.under_cloth(), over_end ? *over_end : on_hull.parts[round_damage],
        [](const Vec2&) { return 0.0; }, ground.frame.chart);
    if (!lay) return tl::unexpected(lay.error());
    auto piece = pieces::make_piece(*lay, "guide");
    if (piece)
        pieces::turn_to_frame(*piece, ground.frame.chart, ground.frame.y, ground.frame.axis_from,
                              ground.frame.normal);
    return piece;
}

LapView lap_view(const ground::EndLap& lap) {
    const double girth = lap.bend().girth();
    return {lap.bend().radius,
            lap.bend().turn * 180.0 / std::numbers::pi,
            lap.depth,
            lap.ground_radius(),
            girth,
            lap.longest,
            lap.lines_3d(0.0),
            lap.lines_3d(girth)};
}

std::vector<Loop2> loops_of(const plies::NetRegion& region) {
    std::vector<Loop2> loops;
    for (const Region2& part : region.chart) {
        loops.push_back(part.outer);
        loops.insert(loops.end(), part.holes.begin(), part.holes.end());
    }
    return loops;
}

std::vector<templates::RingRequest> rings(const ground::Ground& ground) {
    std::vector<templates::RingRequest> rings;
    // A dish that was measured is ground already, and deeper here and shallower there.
    if (ground.scarf_offset > 0.0 && !ground.dish->measured())
        rings.push_back({loops_of(ground.region_at(0.0)), ground.dish->deepest(), 0});
    // Over the hull's end nothing is ground to a depth: rings are of the hull alone.
    for (const plies::PlyLevel& ply : ground.levels.plies)
        rings.push_back(
            {loops_of(ground.lap ? ground.region_at(ply.edge_offset) : ground.region_of(ply)),
             ply.edge_depth, ply.number, ply.cover, ply.edge_offset == ground.footprint_offset});
    for (const ground::TooSteep& steep : ground.too_steep)
        rings.push_back({loops_of(steep.region), steep.to_grind, -3});
    rings.push_back({loops_of(ground.region_at(ground.scarf_offset)), 0.0, -1});
    rings.back().rim = ground.scarf_offset == ground.footprint_offset;
    return rings;
}

}  // namespace

Result<Place> describe_ground(const ground::Ground& ground, const hull::Hull& hull,
                              const job::Job& job) {
    Place place;
    place.frame = ground.frame;
    place.dish = ground.levels.dish;
    for (const damage::OutlinePoint& point : ground.outline.points)
        place.damage.outer.push_back(point.position);
    for (const Region3& part : ground.region_at(0.0).on_base)
        place.damage.holes.insert(place.damage.holes.end(), part.holes.begin(), part.holes.end());
    place.openings = ground.openings;
    place.scarf = ground.region_at(ground.scarf_offset).on_base;
    place.footprint = ground.region_at(ground.footprint_offset).on_base;

    const auto damage = within(ground, 0.0);
    if (!damage) return tl::unexpected(damage.error());
    const auto scarf = within(ground, ground.scarf_offset);
    if (!scarf) return tl::unexpected(scarf.error());
    const auto footprint = within(ground, ground.footprint_offset);
    if (!footprint) return tl::unexpected(footprint.error());
    place.areas = {damage->area, perimeter(place.damage.outer), scarf->area, footprint->area};
    for (const Region3& part : place.footprint)
        place.areas.footprint_perimeter_mm += perimeter(part.outer);
    for (const plies::RegionMesh& part : scarf->parts) show_dish(part, ground, place.dish_view);
    for (const plies::RegionMesh& part : footprint->parts)
        show_dish(part, ground, place.footprint_view);

    if (ground.lap) {
        place.areas.lap_mm2 = ground.lap->area_mm2;
        place.lap = lap_view(*ground.lap);
    }

    const auto guide = flat_footprint(ground, *footprint);
    if (!guide) return tl::unexpected(guide.error());
    const auto directions = templates::directions(ground.frame, job.hull.bow, job.hull.up);
    place.grind_guide = templates::make_grind_guide(*guide, ground.frame, directions, rings(ground),
                                                    job.display_units);
    templates::add_tape_ticks(*guide, ground.mark_ways, place.grind_guide.marks, job.display_units);
    templates::add_folds(*guide, fold_lines(ground, job.display_units, true),
                         place.grind_guide.marks);
    templates::add_ring_leaders(place.grind_guide);
    place.sections = templates::make_sections(ground.patch, ground.frame, directions);
    place.view = coarse_view(hull);
    place.view.near = ground.patch.mesh;
    return place;
}

}  // namespace tearline::plan

#pragma once
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "core/job/fabric_catalogue.h"
#include "core/laminate/ply_thickness.h"
#include "core/quantities/quantities.h"
#include "core/quantities/resin_warnings.h"
#include "tests/support/loops.h"

namespace tearline::quantities {

/// So many that a disc's area is that of its polygon within 1e-8.
constexpr int corners_of_disc = 40000;

/// A repair laid out by hand, and what it takes once it is asked for.
struct HandMade {
    job::Job job;
    std::vector<templates::LaidPly> plies;
    Areas areas;
    std::vector<Vec2> dish;
    std::optional<DishVolumes> volumes;
    double built_mm = 0.0;
    Quantities quantities;

    [[nodiscard]] Repair repair() const { return {job, plies, areas, dish, volumes, built_mm}; }
    [[nodiscard]] Warnings warnings() const {
        Warnings all = layup_warnings(repair(), quantities.sanding);
        for (const Warning& warning : resin_warnings(repair(), quantities)) all.push_back(warning);
        return all;
    }
};

/// The same with its quantities.
inline HandMade filled(HandMade made) {
    auto done = quantities_of(made.repair());
    if (!done) throw std::runtime_error(done.error().message());
    made.quantities = std::move(*done);
    return made;
}

/// A flat repair round a disc of damage, of one fabric at 12:1; the band is the fabric's margin.
inline HandMade planned_discs(double hole_radius, double depth, int plies,
                              const std::string& fabric, double band) {
    HandMade made;
    made.job.fabrics = job::built_in_fabrics();
    made.job.damage.depth = depth;
    made.job.resin.hardener_percent = 1.25;
    made.job.fabrics.at(fabric).tear_margin = band;
    const job::Fabric& cloth = made.job.fabrics.at(fabric);
    const double thickness = laminate::ply_thickness(cloth, made.job.resin);
    for (int i = 1; i <= plies; ++i) {
        templates::LaidPly ply;
        ply.number = i;
        ply.fabric = fabric;
        ply.kind = cloth.kind;
        ply.thickness_mm = thickness;
        ply.edge_offset_mm = 12.0 * thickness * i;
        templates::LaidPiece piece;
        piece.outline.net.outer =
            test::circle(hole_radius + ply.edge_offset_mm, {0, 0}, corners_of_disc);
        Region2 parting;
        parting.outer =
            test::circle(hole_radius + ply.edge_offset_mm + band, {0, 0}, corners_of_disc);
        if (cloth.kind == job::FabricKind::mat)
            piece.outline.tear = parting;
        else
            piece.outline.cut = parting;
        ply.pieces.push_back(piece);
        made.plies.push_back(ply);
    }
    made.dish = {{0.0, depth}, {12.0 * depth, 0.0}};
    const double scarf = hole_radius + 12.0 * depth;
    made.areas.scarf_mm2 = std::numbers::pi * scarf * scarf;
    made.areas.footprint_mm2 = std::numbers::pi * (scarf + band) * (scarf + band);
    return made;
}

/// The worked job of SOURCES.md section 1: a 100 mm hole 8.40625 mm deep, eight 450 g/m2 mats.
inline HandMade worked_job(double band) {
    return planned_discs(100.0, 8.40625, 8, "mat 450", band);
}

}  // namespace tearline::quantities

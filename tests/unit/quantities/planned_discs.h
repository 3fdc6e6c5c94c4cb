#pragma once
#include <cmath>
#include <numbers>

#include "core/job/fabric_catalogue.h"
#include "core/laminate/ply_thickness.h"
#include "core/plan/plan.h"

namespace tearline::quantities {

/// A regular polygon with so many corners that its area is the disc's within 1e-8 of it.
inline Loop2 disc(double radius) {
    constexpr int corners = 40000;
    Loop2 loop;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2.0 * std::numbers::pi * i / corners;
        loop.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
    }
    return loop;
}

/// A flat repair round a disc of damage, of one fabric at 12:1; the band is the fabric's margin.
inline Plan planned_discs(double hole_radius, double depth, int plies, const std::string& fabric,
                          double band) {
    Plan plan;
    plan.job.fabrics = job::built_in_fabrics();
    plan.job.damage.depth = depth;
    plan.job.resin.hardener_percent = 1.25;
    plan.job.fabrics.at(fabric).tear_margin = band;
    const job::Fabric& cloth = plan.job.fabrics.at(fabric);
    const double thickness = laminate::ply_thickness(cloth, plan.job.resin);
    for (int i = 1; i <= plies; ++i) {
        PlannedPly ply;
        ply.number = i;
        ply.fabric = fabric;
        ply.kind = cloth.kind;
        ply.thickness_mm = thickness;
        ply.edge_offset_mm = 12.0 * thickness * i;
        PlannedPiece piece;
        piece.outline.net.outer = disc(hole_radius + ply.edge_offset_mm);
        Region2 parting;
        parting.outer = disc(hole_radius + ply.edge_offset_mm + band);
        if (cloth.kind == job::FabricKind::mat)
            piece.outline.tear = parting;
        else
            piece.outline.cut = parting;
        ply.pieces.push_back(piece);
        plan.plies.push_back(ply);
    }
    plan.dish = {{0.0, depth}, {12.0 * depth, 0.0}};
    const double scarf = hole_radius + 12.0 * depth;
    plan.scarf_area_mm2 = std::numbers::pi * scarf * scarf;
    plan.footprint_area_mm2 = std::numbers::pi * (scarf + band) * (scarf + band);
    return plan;
}

/// The worked job of SOURCES.md section 1: a 100 mm hole 8.40625 mm deep, eight 450 g/m2 mats.
inline Plan worked_job(double band) {
    return planned_discs(100.0, 8.40625, 8, "mat 450", band);
}

}  // namespace tearline::quantities

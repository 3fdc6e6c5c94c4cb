#include "core/plan/close_hole.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "core/base/quantity.h"
#include "core/closing/ring_stack.h"
#include "core/job/sides.h"
#include "core/laminate/ply_thickness.h"
#include "core/layout/nest_rolls.h"
#include "core/plan/back_hole.h"
#include "core/plan/combine.h"
#include "core/plan/cut_pieces.h"
#include "core/plan/fit_core.h"
#include "core/quantities/cups.h"
#include "core/quantities/finish_amounts.h"

namespace tearline::plan {

namespace {

using quantities::Stage;

/// Goes before the stages that it carries, and into the totals.
void put_stage(Stage stage, std::size_t at, Plan& plan) {
    quantities::Totals& totals = plan.quantities.totals;
    for (const quantities::Cup& cup : stage.cups) {
        totals.resin_g += cup.resin_g;
        if (cup.hardener_g) totals.hardener_g = totals.hardener_g.value_or(0.0) + *cup.hardener_g;
        if (cup.hardener_mL)
            totals.hardener_mL = totals.hardener_mL.value_or(0.0) + *cup.hardener_mL;
    }
    for (const quantities::Cup& cup : stage.gel_cups) {
        totals.topcoat_g = totals.topcoat_g.value_or(0.0) + cup.resin_g;
        if (cup.hardener_g)
            totals.topcoat_hardener_g = totals.topcoat_hardener_g.value_or(0.0) + *cup.hardener_g;
    }
    auto& stages = plan.quantities.stages;
    stages.insert(stages.begin() + static_cast<std::ptrdiff_t>(at), std::move(stage));
}

/// Sealing the core is a stage of its own, after the far skin and before the near one.
void add_seal(Plan& plan, const job::Job& job) {
    const CorePlan& core = *plan.core;
    if (!core.seal_g) return;
    Stage stage;
    stage.of = Stage::Of::core;
    stage.part = "core";
    stage.area_mm2 = closing::plug_surface({core.bed, core.top, core.plug_mm, core.chamfer_mm});
    stage.cups =
        quantities::cups_for({Grams(*core.seal_g), square_metres_from_mm2(stage.area_mm2)}, job);
    stage.then =
        "Let the core drink it, brush on what it takes, and bed the plug in paste before "
        "it has cured. Then its own table: tapped and faired when the paste is hard.";
    put_stage(std::move(stage),
              plan.parts.size() > 1 ? plan.parts.front().quantities.stages.size() : 0, plan);
}

/// The ply of a part that lies against the core: the last of the far skin, the first of the near.
const templates::LaidPly* against_core(const Plan& part, bool far) {
    const templates::LaidPly* found = nullptr;
    for (const templates::LaidPly& ply : part.plies) {
        if (ply.cover) continue;
        if (far || found == nullptr) found = &ply;
    }
    return found;
}

/// A backing that stays is laid up of mat, and bonded over its lap.
void lay_backing(Plan& plan, const job::Job& job) {
    BackingPlan& backing = *plan.backing;
    if (!backing.stays) return;
    const job::Fabric& mat = job.fabrics.at(backing_mat);
    double sheet = 0.0;  // [mm2] of cloth
    for (const templates::LaidPly& ply : backing.pieces)
        for (const templates::LaidPiece& piece : ply.pieces) sheet += piece.outline.area_mm2;
    if (backing.pieces.empty()) sheet = backing.area_mm2;
    // Whole plies that give at least that thickness; under a tenth of one more is no ply.
    constexpr double next_to_none = 0.1;
    if (backing.thickness_mm)
        backing.plies = std::max(
            1,
            static_cast<int>(std::ceil(
                *backing.thickness_mm / laminate::ply_thickness(mat, job.resin) - next_to_none)));
    Stage stage;
    stage.of = Stage::Of::backing;
    stage.part = "backing";
    stage.area_mm2 = sheet * backing.plies;
    const SquareMetres glass = square_metres_from_mm2(stage.area_mm2);
    backing.glass_g = (glass * mat.weight).value();
    const Plan& on_it = plan.parts.empty() ? plan : plan.parts.front();
    const double lap = std::max(0.0, backing.area_mm2 - on_it.place.areas.damage_mm2);
    backing.resin_g = (backing.glass_g * laminate::resin_per_glass(mat.glass_content) +
                       (square_metres_from_mm2(lap) * job.resin.prime).value()) *
                      (1.0 + job.resin.waste);
    stage.area_mm2 += lap;
    stage.cups =
        quantities::cups_for({Grams(backing.resin_g), square_metres_from_mm2(stage.area_mm2)}, job);
    stage.then = std::string(backing.plies > 0 ? "Cured on the table or on sound skin, trimmed to "
                                                 "its template, drawn"
                                               : "A sheet that you have is drawn") +
                 " up into its bond and held until that has cured.";
    plan.quantities.totals.glass_g += backing.glass_g;
    plan.quantities.totals.glass_area_m2 += glass.value();
    put_stage(std::move(stage), 0, plan);
    const std::vector<layout::CutPiece> pieces = cut_pieces(plan);
    layout::Rolls nested = layout::nest_rolls(pieces, job);
    for (Warning& told : nested.warnings)
        if (told.ply == 0) plan.warnings.push_back(std::move(told));
    plan.rolls = std::move(nested.rolls);
}

/// From inside the outer face comes first: release agent and gel coat on the mould; the skin coat
/// is the first ply.
void coat_mould(Plan& plan, const job::Job& job) {
    if (!job::against_mould(job)) return;
    BackingPlan& backing = *plan.backing;
    quantities::Areas hole;
    hole.footprint_mm2 = plan.place.areas.damage_mm2;
    backing.gel_g = quantities::topcoat_film(job, hole).value();
    Stage gel;
    gel.of = Stage::Of::gel_coat;
    gel.part = "gel coat";
    gel.area_mm2 = hole.footprint_mm2;
    gel.gel_cups = quantities::topcoat_cups(Grams(backing.gel_g), job);
    gel.then =
        "Let it cure to tack: a finger leaves its print and comes away clean. Unwaxed, or the "
        "skin coat does not bond.";
    put_stage(std::move(gel), 0, plan);
    Stage release;
    release.of = Stage::Of::release;
    release.part = "mould";
    release.then = "Let it dry by its own data sheet, and try it on a spare corner of the mould.";
    put_stage(std::move(release), 0, plan);
    for (Stage& stage : plan.quantities.stages)
        if (stage.of == Stage::Of::plies) {  // the first: the skin coat
            stage.then = "The skin coat: rolled free of air, cured to tack before the next ply. " +
                         stage.then;
            break;
        }
}

void warn_of_core(Plan& plan, const job::Job& job) {
    const job::Core& core = *job.core;
    const CorePlan& made = *plan.core;
    Warnings& out = plan.warnings;
    constexpr double wide = 3.0;  // [mm] 1/8 in (SOURCES.md section 12)
    if (core.gap > wide) out.push_back({warn::CoreGapWide{core.gap}});
    if (made.stand_off_mm > core.bed)
        out.push_back(
            {warn::CoreStandsOff{made.stand_off_mm, core.bed, core.kerf_pitch.has_value()}});
    for (const auto& kerf : {made.along, made.across})
        if (kerf && kerf->closes_up) {
            out.push_back({warn::KerfCloses{kerf->moves, core.kerf_width.value()}});
            break;
        }
    if (!core.seal) out.push_back({warn::CoreNotSealed{}});
    const double bending = made.after.bending_stiffness / made.before.bending_stiffness;
    const double strength = made.after.moment / made.before.moment;
    constexpr double weaker_below = 0.95;  // as of a laminate (laminate::compare)
    if (bending < weaker_below || strength < weaker_below)
        out.push_back({warn::SandwichWeaker{bending, strength}});
    if (job.resin.kind == job::ResinKind::epoxy) return;
    const auto check = [&](const Plan& part) {
        const templates::LaidPly* ply = against_core(part, part.job.part.covered);
        if (ply != nullptr && ply->kind != job::FabricKind::mat)
            out.push_back({.cause = warn::CoreWithoutMat{part.job.part.name}, .ply = ply->number});
    };
    if (plan.parts.empty()) check(plan);
    for (const Plan& part : plan.parts) check(part);
}

}  // namespace

Result<void> close_hole(Plan& plan, const ground::PlacedJob& placed, const hull::Hull& hull) {
    const job::Job& job = placed.job;
    if (job.core && closing::reaches_core(job.damage.reaches.value(), job.damage.side)) {
        auto core = fit_core(plan, job, hull);
        if (!core) return tl::unexpected(core.error());
        plan.core = std::move(*core);
        add_seal(plan, job);
        shop_anew(plan);
        warn_of_core(plan, job);
    }
    auto backing = back_hole(plan, job, hull);
    if (!backing) return tl::unexpected(backing.error());
    plan.backing = std::move(*backing);
    if (plan.backing) {
        lay_backing(plan, job);
        coat_mould(plan, job);
        shop_anew(plan);
    }
    if (plan.backing && plan.backing->passing && !plan.backing->passing->passes) {
        const ThroughHole& hole = *plan.backing->passing;
        plan.warnings.push_back(
            {warn::BackingDoesNotPass{hole.length_mm, hole.least_length_mm, hole.roll_radius_mm}});
    }
    return {};
}

}  // namespace tearline::plan

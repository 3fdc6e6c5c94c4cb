#include "core/plan/close_hole.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "core/base/quantity.h"
#include "core/closing/ring_stack.h"
#include "core/job/sides.h"
#include "core/laminate/ply_thickness.h"
#include "core/plan/back_hole.h"
#include "core/plan/combine.h"
#include "core/plan/fit_core.h"
#include "core/quantities/cups.h"
#include "core/quantities/finish_amounts.h"

namespace tearline::plan {

namespace {

constexpr const char* laid_of = "mat 450";    // a backing made of it, and
constexpr const char* skin_coat = "mat 300";  // what lies on gel coat: common practice

/// A batch of resin as a stage of its own.
quantities::Stage stage_of(const char* part, Grams resin, SquareMetres area, std::string then,
                           const job::Job& job) {
    quantities::Stage stage;
    stage.part = part;
    stage.cups = quantities::cups_for({resin, area}, job);
    stage.then = std::move(then);
    return stage;
}

void add_to_totals(const quantities::Stage& stage, double resin_g, double glass_g, Plan& plan) {
    quantities::Totals& totals = plan.quantities.totals;
    totals.resin_g += resin_g;
    totals.glass_g += glass_g;
    for (const quantities::Cup& cup : stage.cups) {
        if (cup.hardener_g) totals.hardener_g = totals.hardener_g.value_or(0.0) + *cup.hardener_g;
        if (cup.hardener_mL)
            totals.hardener_mL = totals.hardener_mL.value_or(0.0) + *cup.hardener_mL;
    }
}

/// Sealing the core is a stage of its own, before the skin over it.
void add_seal(Plan& plan) {
    const CorePlan& core = *plan.core;
    if (!core.seal_g) return;
    quantities::Stage stage;
    stage.part = "core";
    stage.cups = core.seal_cups;
    stage.then =
        "Let the core drink it, brush on what it takes, and bed the plug in paste before "
        "it has cured.";
    auto& stages = plan.quantities.stages;
    std::size_t at = 0;
    if (!plan.parts.empty()) at = plan.parts.front().quantities.stages.size();
    if (plan.parts.size() < 2) at = 0;
    const quantities::Stage seal = stage;
    stages.insert(stages.begin() + static_cast<std::ptrdiff_t>(at), std::move(stage));
    add_to_totals(seal, *core.seal_g, 0.0, plan);
    shop_anew(plan);
}

}  // namespace

namespace {

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
    if (!backing.stays || !backing.thickness_mm || backing.pieces.empty()) return;
    const job::Fabric& mat = job.fabrics.at(laid_of);
    double sheet = 0.0, hole = plan.place.areas.damage_mm2;
    for (const templates::LaidPiece& piece : backing.pieces.front().pieces)
        sheet += piece.outline.area_mm2;
    // Whole plies that give at least that thickness; under a tenth of one more is no ply.
    constexpr double next_to_none = 0.1;
    const double plies = std::max(
        1.0,
        std::ceil(*backing.thickness_mm / laminate::ply_thickness(mat, job.resin) - next_to_none));
    backing.glass_area_mm2 = sheet * plies;
    backing.glass_g = square_metres_from_mm2(backing.glass_area_mm2).value() * mat.weight.value();
    const double bond =
        square_metres_from_mm2(std::max(0.0, sheet - hole)).value() * job.resin.prime.value();
    backing.resin_g = (backing.glass_g * laminate::resin_per_glass(mat.glass_content) + bond) *
                      (1.0 + job.resin.waste);
    backing.laid =
        stage_of("backing", Grams(backing.resin_g), square_metres_from_mm2(backing.glass_area_mm2),
                 "Cured on the table or on sound skin, trimmed to its template, drawn up "
                 "into its bond and held until that has cured.",
                 job);
    add_to_totals(*backing.laid, backing.resin_g, backing.glass_g, plan);
}

/// From inside the outer face comes first: gel coat and a skin coat on the mould.
void coat_mould(Plan& plan, const job::Job& job) {
    if (!job::against_mould(job)) return;
    BackingPlan& backing = *plan.backing;
    const double area = plan.place.areas.damage_mm2;
    const SquareMetres m2 = square_metres_from_mm2(area);
    quantities::Areas hole;
    hole.footprint_mm2 = area;
    backing.gel_g = quantities::topcoat_film(job, hole).value();
    backing.gel_cups = quantities::topcoat_cups(Grams(backing.gel_g), job);
    plan.quantities.totals.topcoat_g =
        plan.quantities.totals.topcoat_g.value_or(0.0) + backing.gel_g;
    for (const quantities::Cup& cup : backing.gel_cups)
        if (cup.hardener_g)
            plan.quantities.totals.topcoat_hardener_g =
                plan.quantities.totals.topcoat_hardener_g.value_or(0.0) + *cup.hardener_g;
    const job::Fabric& mat = job.fabrics.at(skin_coat);
    backing.skin_glass_g = m2.value() * mat.weight.value();
    backing.skin_resin_g = backing.skin_glass_g * laminate::resin_per_glass(mat.glass_content) *
                           (1.0 + job.resin.waste);
    backing.skin_coat = stage_of("skin coat", Grams(backing.skin_resin_g), m2,
                                 "Let it cure to tack; then the first ply.", job);
    add_to_totals(*backing.skin_coat, backing.skin_resin_g, backing.skin_glass_g, plan);
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
        if (!plan.parts.empty()) add_seal(plan);
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

#include "core/formats/quantities_json.h"

#include "core/laminate/scarf_check.h"
#include "core/quantities/cups.h"
#include "core/quantities/measuring.h"

namespace tearline::formats {

namespace {

void write_directional(JsonWriter& json, const char* key, const laminate::Directional& of) {
    json.key(key).begin_object().field("membrane_stiffness_N_per_mm", of.membrane_stiffness);
    json.field("bending_stiffness_N_mm", of.bending_stiffness);
    json.field("tension_N_per_mm", of.tension).field("compression_N_per_mm", of.compression);
    json.field("bending_N", of.bending).end_object();
}

void write_behaviour(JsonWriter& json, const char* key, const laminate::Behaviour& of) {
    json.key(key).begin_object().field("thickness_mm", of.thickness);
    write_directional(json, "along", of.along);
    write_directional(json, "across", of.across);
    json.end_object();
}

void write_comparison(JsonWriter& json, const laminate::Comparison& comparison) {
    json.line().key("laminate").begin_object();
    write_behaviour(json, "new", comparison.patch);
    if (comparison.before) write_behaviour(json, "old", *comparison.before);
    json.field("floor_mm", comparison.floor_mm).field("kept_mm", comparison.kept_mm);
    json.field("sanded_off_mm", comparison.sanded_off_mm);
    if (const auto& ratios = comparison.ratios) {
        json.key("ratios").begin_object();
        json.field("membrane_stiffness", ratios->membrane_stiffness);
        json.field("bending_stiffness", ratios->bending_stiffness);
        json.field("membrane_strength", ratios->membrane_strength());
        json.field("bending_strength", ratios->bending_strength).end_object();
    }
    json.key("sources").begin_array();
    for (const std::string& source : comparison.sources) json.value(source);
    json.end_array().field("verdict", comparison.verdict).end_object();
}

/// With which tool, and what it shows: g of the scale, mL of the others.
void write_measured_dose(JsonWriter& json, const char* key,
                         const std::optional<quantities::Measured>& dose) {
    if (!dose) {
        json.field(key, std::optional<double>());
        return;
    }
    json.key(key).begin_object();
    json.field("tool", std::string(quantities::facts_of(dose->tool).words));
    json.field("reading", dose->reading).end_object();
}

}  // namespace

void write_cup(JsonWriter& json, const quantities::Cup& cup) {
    json.begin_object().field("resin_g", cup.resin_g).field("hardener_g", cup.hardener_g);
    json.field("hardener_mL", cup.hardener_mL);
    json.field("use_within_min", cup.use_within_min);
    json.field("mix_resin_g", cup.mix_resin_g).field("mix_hardener_g", cup.mix_hardener_g);
    json.field("mix_hardener_mL", cup.mix_hardener_mL).field("left_g", cup.left_g);
    json.field("pour_resin_g", cup.pour_g).field("pour_resin_mL", cup.pour_mL);
    write_measured_dose(json, "resin_by", cup.resin_by);
    write_measured_dose(json, "hardener_by", cup.hardener_by);
    json.field("moved_inward", cup.moved_inward).end_object();
}

void write_laminate(JsonWriter& json, const Plan& plan) {
    if (plan.comparison) write_comparison(json, *plan.comparison);
    if (!plan.scarf_check) return;
    const laminate::ScarfCheck& check = *plan.scarf_check;
    json.line().key("scarf_check").begin_object().field("ratio", check.ratio);
    json.field("required_ratio", check.required_ratio);
    json.field("laminate_strength_MPa", check.laminate_strength);
    json.field("strength_of", check.strength_of).field("bond_shear_MPa", check.bond_shear);
    json.field("safety_factor", check.safety_factor);
    json.field("bond_stress_MPa", check.bond_stress).field("peel_stress_MPa", check.peel_stress);
    json.field("peel_share", check.peel_share).field("verdict", check.verdict);
    json.field("note", laminate::scarf_check_words()).end_object();
}

void write_shopping(JsonWriter& json, const quantities::Shopping& shopping) {
    json.line().key("shopping").begin_object().key("items").begin_array();
    for (const quantities::ShoppingItem& item : shopping.items) {
        json.begin_object().field("kind", item.kind).field("name", item.name);
        json.field("amount", item.amount).field("unit", item.unit).field("packs", item.packs);
        json.field("pack", item.pack).field("cost", item.cost).end_object();
    }
    json.end_array().field("currency", shopping.currency).field("cost", shopping.cost);
    json.field("complete", shopping.complete).end_object();
}

void write_totals(JsonWriter& json, const quantities::Quantities& quantities) {
    const quantities::Totals& totals = quantities.totals;
    const quantities::Sanding& sanding = quantities.sanding;
    json.line().key("totals").begin_object();
    json.field("glass_area_m2", totals.glass_area_m2).field("glass_g", totals.glass_g);
    json.field("resin_g", totals.resin_g).field("hardener_g", totals.hardener_g);
    json.field("hardener_mL", totals.hardener_mL).field("topcoat_g", totals.topcoat_g);
    json.field("topcoat_hardener_g", totals.topcoat_hardener_g);
    json.field("laid_thickness_mm", totals.laid_thickness_mm);
    json.field("ground_area_m2", totals.ground_area_m2).field("prime_g", totals.prime_g);
    json.field("proud_mean_mm", quantities.proud.mean_mm);
    json.field("proud_max_mm", quantities.proud.max_mm);
    json.field("sanding_mm", sanding.sanding_mm).field("kept_mm", sanding.kept_mm);
    json.field("kept_plies", sanding.kept_plies).field("fairing_mL", totals.fairing_mL);
    json.end_object();
}

void write_cups(JsonWriter& json, const char* key, const std::vector<quantities::Cup>& cups) {
    json.key(key).begin_array();
    for (const quantities::Cup& cup : cups) write_cup(json, cup);
    json.end_array();
}

void write_rolls(JsonWriter& json, const Plan& plan) {
    json.line().key("rolls").begin_array();
    for (const layout::Roll& roll : plan.rolls) {
        json.line().begin_object().field("fabric", roll.fabric).field("width_mm", roll.width_mm);
        json.field("length_mm", roll.length_mm).field("used_fraction", roll.used_fraction);
        json.field("area_bound_mm", roll.area_bound_mm).field("gap_mm", roll.gap_mm);
        json.key("placed").begin_array();
        for (const layout::Placement& place : roll.placed) {
            json.begin_object().field("piece", place.piece).field("x_mm", place.x_mm);
            json.field("y_mm", place.y_mm).field("turn_deg", place.turn_deg).end_object();
        }
        json.end_array().end_object();
    }
    json.end_array();
}

namespace {

void write_stage(JsonWriter& json, const quantities::Stage& stage) {
    json.line()
        .begin_object()
        .field("plies", stage.plies)
        .field("thickness_mm", stage.thickness_mm);
    if (!stage.part.empty()) json.field("part", stage.part);
    write_cups(json, "cups", stage.cups);
    if (!stage.gel_cups.empty()) write_cups(json, "gel_coat_cups", stage.gel_cups);
    json.field("primes_g", stage.primes_g);
    if (stage.boat_cup > 0) json.field("boat_cup", stage.boat_cup);
    json.field("then", stage.then).end_object();
}

}  // namespace

void write_stages(JsonWriter& json, const Plan& plan) {
    json.line().key("stages").begin_array();
    for (const quantities::Stage& stage : plan.quantities.stages) write_stage(json, stage);
    json.end_array();
    json.line();
    write_cups(json, "topcoat_cups", plan.quantities.topcoat_cups);
    json.line().key("test_cup");
    write_cup(json, quantities::test_cup(plan.job));
}

}  // namespace tearline::formats

#include "core/formats/plan_json.h"

#include "core/base/version.h"
#include "core/formats/closing_json.h"
#include "core/formats/json_writer.h"
#include "core/formats/place_json.h"
#include "core/formats/plies_json.h"
#include "core/formats/quantities_json.h"
#include "core/job/sides.h"
#include "core/warnings/warning.h"

namespace tearline::formats {

namespace {

constexpr double mm3_per_mL = 1000.0;

void write_job(JsonWriter& json, const Plan& plan) {
    json.line().key("job").begin_object();
    json.field("title", plan.job.title);
    if (!plan.repair.empty()) json.field("repair", plan.repair);
    json.field("model", plan.job.hull.model.filename().string());
    json.field("model_sha256", plan.model_sha256);
    json.key("effective").raw(plan.job.effective_json.empty() ? "{}" : plan.job.effective_json);
    json.end_object();
}

/// Addition to the schema: each side that glass is laid from, or each skin of a sandwich.
void write_side(JsonWriter& json, const Plan& part) {
    json.line().begin_object().field("side", job::side_word(part.job.damage.side));
    if (!part.job.part.name.empty()) json.field("name", part.job.part.name);
    json.field("depth_mm", part.job.damage.depth);
    json.key("scarf").begin_object().field("outline_3d", part.place.scarf);
    json.field("area_mm2", part.place.areas.scarf_mm2).end_object();
    json.key("plies").begin_array();
    for (const templates::LaidPly& ply : part.plies) json.value(ply.number);
    json.end_array();
    if (part.job.part.name.empty()) {
        json.end_object();
        return;
    }
    json.field("below_mm", part.job.part.below);
    json.key("damage").begin_object().field("outline_3d", part.place.damage.outer);
    json.field("area_mm2", part.place.areas.damage_mm2);
    json.field("perimeter_mm", part.place.areas.damage_perimeter_mm).end_object();
    json.field("footprint_area_mm2", part.place.areas.footprint_mm2);
    json.field("dish_mL", part.dish_mm3 / mm3_per_mL);
    json.field("laid_thickness_mm", part.quantities.totals.laid_thickness_mm);
    json.field("glass_g", part.quantities.totals.glass_g);
    json.field("resin_g", part.quantities.totals.resin_g);
    write_frame(json, part);
    write_grind_guide(json, part.place.grind_guide);
    write_sections(json, part.place.sections);
    json.end_object();
}

void write_sides(JsonWriter& json, const Plan& plan) {
    json.line().key("sides").begin_array();
    if (plan.parts.empty()) write_side(json, plan);
    for (const Plan& part : plan.parts) write_side(json, part);
    json.end_array();
}

/// Addition to the schema: how well the hull is known by a scan.
void write_scan(JsonWriter& json, const std::optional<plan::ScanTold>& scan) {
    if (!scan) return;
    json.line().key("scan").begin_object().field("kind", scan->kind);
    json.field("points", scan->points).field("used", scan->used);
    json.field("noise_mm", scan->noise_mm).field("correlation_mm", scan->correlation_mm);
    json.field("fairness_mm", scan->fairness_mm).field("scale", scan->scale);
    json.field("scale_error", scan->scale_error);
    json.key("fair_error_mm").begin_object().field("middle", scan->middle_mm);
    json.field("most", scan->most_mm).field("at", scan->most_at).end_object();
    json.field("cover_deg", scan->cover_deg).end_object();
}

/// Additions to the schema: what was measured by hand, and what is known from soundings.
void write_measured(JsonWriter& json, const Plan& plan) {
    if (!plan.job.marks.empty()) {
        json.line().key("marks").begin_array();
        for (const job::Mark& mark : plan.job.marks)
            json.begin_object().field("name", mark.name).field("at", mark.at).end_object();
        json.end_array();
    }
    if (!plan.measured.empty()) {
        json.line().key("measured").begin_array();
        for (const plan::MeasuredCheck& check : plan.measured) {
            json.line().begin_object().field("place", check.place);
            json.field("figure_mm", check.figure_mm).field("passes_mm", check.passes_mm);
            json.field("edge_mm_per_mm", check.edge_mm_per_mm).end_object();
        }
        json.end_array();
    }
    if (const auto& volumes = plan.volumes) {
        json.line().key("volumes").begin_object().field("dish_mL", volumes->dish_mL);
        json.field("laminate_mL", volumes->laminate_mL).field("fairing_mL", volumes->fairing_mL);
        json.field("proud_mL", volumes->proud_mL).field("deepest_mm", volumes->deepest_mm);
        json.end_object();
    }
    if (const auto& built = plan.built) {
        json.line().key("built").begin_object().field("plies", built->plies);
        json.field("planned_mm", built->planned_mm).field("built_mm", built->built_mm);
        json.key("each").begin_array();
        for (const plan::BuiltSoFar::Ply& ply : built->each) {
            json.begin_object().field("number", ply.number).field("thickness_mm", ply.thickness_mm);
            json.field("glass_content", ply.glass_content).end_object();
        }
        json.end_array().end_object();
    }
}

void write_warnings(JsonWriter& json, const Warnings& warnings, Units units) {
    json.line().key("warnings").begin_array();
    for (const Warning& warning : warnings) {
        const Sentence words = warning.words();
        json.line().begin_object().field("code", warning.code());
        json.field("rank", rank_key(warning.rank()));
        json.field("message", words.told).field("plain", words.plain(units));
        json.field("ply", warning.ply).field("piece", warning.piece).field("at", warning.at);
        json.end_object();
    }
    json.end_array();
}

/// What was laid flat, and how it was asked for.
void write_flat(JsonWriter& json, const Plan& plan) {
    const plan::FlatAsked& flat = *plan.flat;
    const job::StackEntry& entry = plan.job.layup.stack.front();
    json.line().key("flat").begin_object().field("face", flat.face);
    json.field("points_3d", flat.points).field("side", job::side_word(plan.job.damage.side));
    json.field("cloth", flat.cloth).field("axis_deg", entry.axis);
    json.field("margin_mm", flat.margin_mm).field("orientation", flat.orientation);
    json.field("perimeter_mm", flat.perimeter_mm).end_object();
    json.line().key("plies").begin_array();
    for (const templates::LaidPly& ply : plan.plies) {
        json.line().begin_object().field("number", ply.number).field("fabric", ply.fabric);
        json.field("kind", kind_name(ply.kind)).field("side", job::side_word(ply.side));
        json.line().field("outlines_3d", ply.outlines_3d);
        json.line().field("surface_area_mm2", ply.surface_area_mm2);
        json.field("convex_radius_mm", ply.convex_radius_mm);
        json.field("concave_radius_mm", ply.concave_radius_mm);
        json.key("pieces").begin_array();
        for (const templates::LaidPiece& piece : ply.pieces) write_piece(json, ply, piece, nullptr);
        json.end_array().end_object();
    }
    json.end_array();
}

/// A face or a piece of a model laid flat: schema "tearline-flat/1".
std::string flat_json(const Plan& plan) {
    JsonWriter json;
    json.begin_object().field("schema", "tearline-flat/1");
    json.key("program").begin_object().field("name", "tearline").field("version", version());
    json.end_object();
    write_job(json, plan);
    write_frame(json, plan);
    write_flat(json, plan);
    write_rolls(json, plan);
    write_warnings(json, plan.warnings, plan.job.display_units);
    json.line().end_object();
    return json.take() + "\n";
}

}  // namespace

std::string plan_json(const Plan& plan) {
    if (plan.flat) return flat_json(plan);
    JsonWriter json;
    json.begin_object().field("schema", "tearline-plan/1");
    json.key("program").begin_object().field("name", "tearline").field("version", version());
    json.end_object();
    write_job(json, plan);
    write_areas(json, plan);
    write_openings(json, plan);
    write_lap(json, plan);
    write_frame(json, plan);
    write_plies(json, plan);
    write_sides(json, plan);
    write_backing(json, plan);
    write_core(json, plan);
    write_ways(json, plan);
    write_grind_guide(json, plan.place.grind_guide);
    write_sections(json, plan.place.sections);
    write_rolls(json, plan);
    write_stages(json, plan);
    write_totals(json, plan.quantities);
    write_laminate(json, plan);
    write_shopping(json, plan.shopping);
    write_measured(json, plan);
    write_scan(json, plan.scan);
    write_warnings(json, plan.warnings, plan.job.display_units);
    json.line().end_object();
    return json.take() + "\n";
}

}  // namespace tearline::formats

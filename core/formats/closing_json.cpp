#include "core/formats/closing_json.h"

#include "core/formats/plies_json.h"
#include "core/formats/quantities_json.h"

namespace tearline::formats {

namespace {

/// The pieces of what closes a hole, as pieces of a ply.
void write_closing_pieces(JsonWriter& json, const std::vector<templates::LaidPly>& all) {
    const quantities::PieceAmounts none;
    json.key("pieces").begin_array();
    for (const templates::LaidPly& ply : all)
        for (const templates::LaidPiece& piece : ply.pieces) write_piece(json, ply, piece, &none);
    json.end_array();
}

std::string_view backing_word(job::BackingKind kind) {
    switch (kind) {
        case job::BackingKind::choose:
            return "auto";
        case job::BackingKind::sheet:
            return "sheet";
        case job::BackingKind::petals:
            return "petals";
        case job::BackingKind::stations:
            return "stations";
        case job::BackingKind::none:
            return "none";
    }
    return "";
}

void write_sandwich(JsonWriter& json, const char* key, const closing::Sandwich& of) {
    json.key(key).begin_object().field("bending_stiffness_N_mm", of.bending_stiffness);
    json.field("bending_N", of.moment).field("lever_mm", of.lever);
    json.field("first_to_fail", of.first_to_fail).end_object();
}

}  // namespace

void write_backing(JsonWriter& json, const Plan& plan) {
    if (!plan.backing) return;
    const plan::BackingPlan& backing = *plan.backing;
    json.line().key("backing").begin_object().field("kind", backing_word(backing.kind));
    json.field("strain", backing.strain).field("lap_mm", backing.lap_mm);
    json.field("thickness_mm", backing.thickness_mm).field("stays", backing.stays);
    json.field("preformed", backing.preformed);
    json.field("least_radius_mm", backing.least_radius_mm);
    json.field("glass_g", backing.glass_g).field("resin_g", backing.resin_g);
    json.field("area_mm2", backing.area_mm2).field("plies", backing.plies);
    json.field("gel_coat_g", backing.gel_g);
    const quantities::Stage* gel =
        quantities::stage_of(plan.quantities, quantities::Stage::Of::gel_coat);
    write_cups(json, "gel_coat_cups", gel ? gel->gel_cups : std::vector<quantities::Cup>());
    const bool coated = gel != nullptr && !plan.quantities.plies.empty();
    const auto& skin = coated ? plan.quantities.plies.front() : quantities::PlyAmounts();
    json.field("skin_glass_g", skin.glass_g);
    json.field("skin_resin_g", (1.0 + plan.job.resin.waste) * skin.resin_g);
    write_closing_pieces(json, backing.pieces);
    json.key("sections").begin_array();
    for (const plan::Station& station : backing.stations)
        json.line()
            .begin_object()
            .field("number", station.number)
            .field("name", station.name)
            .field("angle_deg", 90.0)
            .field("ends", std::vector<std::string>{station.ends[0], station.ends[1]})
            .field("at_mm", station.at_mm)
            .field("edge", station.edge)
            .end_object();
    json.end_array();
    if (const auto& hole = backing.passing) {
        json.key("passing").begin_object().field("passes", hole->passes);
        json.field("length_mm", hole->length_mm).field("width_mm", hole->width_mm);
        json.field("least_length_mm", hole->least_length_mm).field("rise_mm", hole->rise_mm);
        json.field("roll_radius_mm", hole->roll_radius_mm);
        json.field("cut_area_mm2", hole->cut_area_mm2).end_object();
    }
    json.end_object();
}

void write_core(JsonWriter& json, const Plan& plan) {
    if (!plan.core) return;
    const plan::CorePlan& core = *plan.core;
    json.line().key("core").begin_object();
    write_closing_pieces(json, core.pieces);
    json.field("plug_mm", core.plug_mm).field("depth_mm", core.depth_mm);
    json.field("area_mm2", core.bed.area_mm2).field("perimeter_mm", core.bed.perimeter_mm);
    json.field("top_area_mm2", core.top.area_mm2);
    json.field("top_perimeter_mm", core.top.perimeter_mm);
    json.field("filled_mm2", core.filled_mm2);
    json.field("paste_mL", core.paste_mL).field("seal_g", core.seal_g);
    json.field("stand_off_mm", core.stand_off_mm);
    json.key("kerf");
    if (core.along && core.across) {
        json.begin_object().field("pitch_mm", plan.job.core->kerf_pitch);
        json.field("width_mm", plan.job.core->kerf_width);
        json.field("moves_mm", std::vector<double>{core.along->moves, core.across->moves});
        json.end_object();
    } else {
        json.null();
    }
    write_sandwich(json, "old", core.before);
    write_sandwich(json, "new", core.after);
    json.end_object();
}

void write_ways(JsonWriter& json, const Plan& plan) {
    if (plan.ways.empty()) return;
    json.line().key("ways").begin_array();
    for (const plan::Way& way : plan.ways) {
        json.line().begin_object().field("from", way.from).field("chosen", way.chosen);
        json.field("refused", way.refused).field("access", way.access);
        json.field("ground_radius_mm", way.ground_radius_mm).field("dish_mL", way.dish_mL);
        json.field("glass_g", way.glass_g).field("resin_g", way.resin_g);
        json.field("hours", way.hours);
        json.field("required_ratio",
                   way.scarf_check ? way.scarf_check->required_ratio : std::optional<double>());
        json.end_object();
    }
    json.end_array();
}

}  // namespace tearline::formats

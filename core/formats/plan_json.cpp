#include "core/formats/plan_json.h"

#include "core/base/version.h"
#include "core/formats/json_writer.h"
#include "core/formats/quantities_json.h"
#include "core/job/sides.h"
#include "core/quantities/cups.h"
#include "core/templates/directions.h"
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

void write_areas(JsonWriter& json, const Plan& plan) {
    json.line().key("damage").begin_object();
    json.field("outline_3d", plan.place.damage.outer);
    json.field("holes_3d", plan.place.damage.holes);
    json.field("area_mm2", plan.place.areas.damage_mm2)
        .field("perimeter_mm", plan.place.areas.damage_perimeter_mm);
    json.end_object();
    json.line().key("scarf").begin_object();
    json.field("outline_3d", plan.place.scarf).field("area_mm2", plan.place.areas.scarf_mm2);
    json.field("ratio", plan.job.scarf.ratio).end_object();
    json.line().key("footprint").begin_object();
    json.field("outline_3d", plan.place.footprint)
        .field("area_mm2", plan.place.areas.footprint_mm2);
    json.end_object();
}

/// An addition to the schema: what the cloth goes round.
void write_openings(JsonWriter& json, const Plan& plan) {
    json.line().key("openings").begin_array();
    for (const damage::KeptOpening& opening : plan.place.openings) {
        json.line().begin_object().field("middle", opening.middle);
        json.field("width_mm", opening.width).field("height_mm", opening.height);
        json.field("in_model", opening.in_model).field("keep", true);
        json.field("scarf_to", opening.scarf_to == job::ScarfTo::opening ? "opening" : "none");
        json.field("clear_mm", opening.clear)
            .field("slit", opening.slit)
            .key("outline_3d")
            .begin_array();
        for (const damage::OutlinePoint& point : opening.edge.points) json.value(point.position);
        json.end_array().end_object();
    }
    json.end_array();
}

/// An addition to the schema: how the cloth goes over the hull's end.
void write_lap(JsonWriter& json, const Plan& plan) {
    if (!plan.place.lap) return;
    const plan::LapView& lap = *plan.place.lap;
    json.line().key("lap").begin_object().field("edge_radius_mm", lap.radius_mm);
    json.field("edge_turn_deg", lap.turn_deg).field("depth_mm", lap.depth_mm);
    json.field("ground_radius_mm", lap.ground_radius_mm).field("girth_mm", lap.girth_mm);
    json.field("ground_over_mm", lap.ground_over_mm);
    json.field("area_mm2", plan.place.areas.lap_mm2);
    json.field("end_3d", lap.end_3d).field("bend_ends_3d", lap.bend_ends_3d).end_object();
}

/// An addition to the schema: the directions that every template shares.
void write_frame(JsonWriter& json, const Plan& plan) {
    const damage::FlatFrame& frame = plan.place.frame;
    const auto where = templates::directions(frame, plan.job.hull.bow, plan.job.hull.up);
    json.line().key("frame").begin_object().field("middle", frame.middle);
    json.field("x", frame.x).field("y", frame.y).field("normal", frame.normal);
    json.key("points_to").begin_object();
    json.field("right", where.ends[0]).field("top", where.ends[1]);
    json.field("left", where.ends[2]).field("bottom", where.ends[3]).end_object();
    const double from = damage::axis_from_degrees(frame);
    json.field("bow_deg", where.bow ? std::optional(from) : std::nullopt);
    json.field("axis_from", where.axis_from).field("axis_from_3d", frame.axis_from);
    json.field("axis_from_deg", from).end_object();
}

/// An edge and its holes, or null for both where the piece has no such line.
void write_line(JsonWriter& json, const std::string& name, const std::optional<Region2>& region) {
    json.key(name + "_line");
    region ? json.value(region->outer) : json.null();
    json.key(name + "_holes");
    region ? json.value(region->holes) : json.null();
}

void write_marks(JsonWriter& json, const std::vector<templates::Mark>& marks) {
    json.key("marks").begin_array();
    for (const templates::Mark& mark : marks) {
        const templates::MarkFields fields = templates::fields_of(mark);
        json.begin_object().field("kind", fields.kind).field("points", fields.points);
        json.field("text", fields.text).end_object();
    }
    json.end_array();
}

void write_drawn(JsonWriter& json, const templates::Template& outline) {
    json.line();
    write_marks(json, outline.marks);
    json.key("relief_cuts").begin_array();
    for (const templates::ReliefCut& cut : outline.relief_cuts)
        json.begin_object().field("kind", cut.kind).field("points", cut.points).end_object();
    json.end_array();
}

/// @param amounts  null where there is no repair that it takes glass for
void write_piece(JsonWriter& json, const templates::LaidPly& ply, const templates::LaidPiece& laid,
                 const quantities::PieceAmounts* amounts) {
    const pieces::Piece& piece = laid.piece;
    const bool mat = ply.kind == job::FabricKind::mat;
    json.line().begin_object().field("id", piece.id);
    write_line(json, "net", laid.outline.net);
    write_line(json, "tear", laid.outline.tear);
    write_line(json, "cut", laid.outline.cut);
    write_drawn(json, laid.outline);
    json.line().field("area_mm2", laid.outline.area_mm2);
    // An addition to the schema: where on the hull the most of it is.
    const auto worst = pieces::worst_place(piece);
    const auto at = worst ? std::optional(worst->on_hull) : std::nullopt;
    json.key("strain");
    // Cloth laid by its yarns has no strain to tell of, only shear; flattened as mat it has.
    if (mat || !piece.shear_max)
        json.begin_object()
            .field("rms", piece.strain_rms)
            .field("max", piece.strain_max)
            .field("at", at)
            .end_object();
    else
        json.null();
    json.key("shear_deg");
    if (piece.shear_max)
        json.begin_object().field("max", *piece.shear_max).field("at", at).end_object();
    else
        json.null();
    json.field("axis_deg", laid.outline.axis_degrees);
    json.field("warp_deg", mat ? std::nullopt : std::optional(laid.outline.warp_degrees));
    json.field("mesh", "pieces/" + piece.id + ".bin");
    if (amounts != nullptr)
        json.field("glass_g", amounts->glass_g).field("resin_g", amounts->resin_g);
    json.end_object();
}

std::string_view kind_name(job::FabricKind kind) {
    switch (kind) {
        case job::FabricKind::mat:
            return "mat";
        case job::FabricKind::woven:
            return "woven";
        case job::FabricKind::biaxial:
            return "biaxial";
    }
    return "";
}

void write_plies(JsonWriter& json, const Plan& plan) {
    json.line().key("plies").begin_array();
    for (std::size_t k = 0; k < plan.plies.size(); ++k) {
        const templates::LaidPly& ply = plan.plies[k];
        const quantities::PlyAmounts& amounts = plan.quantities.plies.at(k);
        json.line().begin_object().field("number", ply.number).field("fabric", ply.fabric);
        json.field("kind", kind_name(ply.kind)).field("cover", ply.cover);
        json.field("side", job::side_word(ply.side));
        json.field("thickness_mm", ply.thickness_mm).field("edge_offset_mm", ply.edge_offset_mm);
        if (ply.edge_error_mm) json.field("edge_error_mm", *ply.edge_error_mm);
        json.field("lay_depth_mm", ply.lay_depth_mm);
        json.line().field("outlines_3d", ply.outlines_3d);
        if (ply.lap_mm > 0.0) json.field("lap_mm", ply.lap_mm);
        json.line().field("surface_area_mm2", ply.surface_area_mm2);
        json.field("convex_radius_mm", ply.convex_radius_mm);
        json.field("concave_radius_mm", ply.concave_radius_mm);
        json.key("pieces").begin_array();
        for (std::size_t i = 0; i < ply.pieces.size(); ++i)
            write_piece(json, ply, ply.pieces[i], &amounts.pieces.at(i));
        json.end_array();
        json.line().field("glass_area_mm2", amounts.glass_area_mm2);
        json.field("glass_g", amounts.glass_g).field("resin_g", amounts.resin_g).end_object();
    }
    json.end_array();
}

/// An addition to the schema: the flattened footprint and its rings, in the flat frame.
void write_grind_guide(JsonWriter& json, const templates::GrindGuide& guide) {
    json.line().key("grind_guide").begin_object();
    json.key("footprint").begin_object().field("outer", guide.footprint.outer);
    json.field("holes", guide.footprint.holes).end_object();
    json.line().key("rings").begin_array();
    for (const templates::GrindGuide::Ring& ring : guide.rings) {
        json.line().begin_object().field("ply", ring.ply).field("depth_mm", ring.depth_mm);
        json.field("text", ring.text).field("loops", ring.loops);
        if (!ring.leader.empty()) json.field("leader", ring.leader);
        json.end_object();
    }
    json.end_array().line();
    write_marks(json, guide.marks);
    json.end_object();
}

/// An addition to the schema: the base surface along and across through the middle.
void write_sections(JsonWriter& json, const std::vector<templates::Section>& sections) {
    json.line().key("sections").begin_array();
    for (const templates::Section& section : sections)
        json.line()
            .begin_object()
            .field("name", section.name)
            .field("angle_deg", section.angle_degrees)
            .field("ends", std::vector<std::string>{section.ends[0], section.ends[1]})
            .field("edge", section.edge)
            .end_object();
    json.end_array();
}

void write_cups(JsonWriter& json, const char* key, const std::vector<quantities::Cup>& cups) {
    json.key(key).begin_array();
    for (const quantities::Cup& cup : cups) write_cup(json, cup);
    json.end_array();
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

/// Addition to the schema: what closes the hole from behind.
void write_backing(JsonWriter& json, const Plan& plan) {
    if (!plan.backing) return;
    const plan::BackingPlan& backing = *plan.backing;
    json.line().key("backing").begin_object().field("kind", backing_word(backing.kind));
    json.field("strain", backing.strain).field("lap_mm", backing.lap_mm);
    json.field("thickness_mm", backing.thickness_mm).field("stays", backing.stays);
    json.field("preformed", backing.preformed);
    json.field("least_radius_mm", backing.least_radius_mm);
    json.field("glass_g", backing.glass_g).field("resin_g", backing.resin_g);
    json.field("gel_coat_g", backing.gel_g);
    write_cups(json, "gel_coat_cups", backing.gel_cups);
    json.field("skin_glass_g", backing.skin_glass_g).field("skin_resin_g", backing.skin_resin_g);
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

void write_sandwich(JsonWriter& json, const char* key, const closing::Sandwich& of) {
    json.key(key).begin_object().field("bending_stiffness_N_mm", of.bending_stiffness);
    json.field("bending_N", of.moment).field("lever_mm", of.lever);
    json.field("first_to_fail", of.first_to_fail).end_object();
}

/// Addition to the schema: the new core, and the sandwich as it was and will be.
void write_core(JsonWriter& json, const Plan& plan) {
    if (!plan.core) return;
    const plan::CorePlan& core = *plan.core;
    json.line().key("core").begin_object();
    write_closing_pieces(json, core.pieces);
    json.field("plug_mm", core.plug_mm).field("depth_mm", core.depth_mm);
    json.field("area_mm2", core.area_mm2).field("perimeter_mm", core.perimeter_mm);
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

/// Addition to the schema: what the hole costs from one side, the other, both.
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

void write_stage(JsonWriter& json, const quantities::Stage& stage) {
    json.line()
        .begin_object()
        .field("plies", stage.plies)
        .field("thickness_mm", stage.thickness_mm);
    if (!stage.part.empty()) json.field("part", stage.part);
    write_cups(json, "cups", stage.cups);
    json.field("primes_g", stage.primes_g);
    if (stage.boat_cup > 0) json.field("boat_cup", stage.boat_cup);
    json.field("then", stage.then).end_object();
}

void write_stages(JsonWriter& json, const Plan& plan) {
    json.line().key("stages").begin_array();
    if (plan.backing)
        for (const auto* first : {&plan.backing->laid, &plan.backing->skin_coat})
            if (*first) write_stage(json, **first);
    for (const quantities::Stage& stage : plan.quantities.stages) write_stage(json, stage);
    json.end_array();
    json.line();
    write_cups(json, "topcoat_cups", plan.quantities.topcoat_cups);
    json.line().key("test_cup");
    write_cup(json, quantities::test_cup(plan.job));
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

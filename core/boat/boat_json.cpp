#include "core/boat/boat_json.h"

#include <algorithm>

#include "core/base/version.h"
#include "core/formats/json_writer.h"
#include "core/formats/plan_json.h"
#include "core/formats/quantities_json.h"
#include "core/quantities/cups.h"

namespace tearline::boat {

namespace {

using formats::JsonWriter;

void write_job(JsonWriter& json, const Boat& boat) {
    const Plan& any = boat.any();
    json.line().key("job").begin_object().field("title", boat.job.title);
    json.field("model", any.job.hull.model.filename().string());
    json.field("model_sha256", any.model_sha256);
    json.field("allow_overlap", boat.job.allow_overlap).end_object();
}

void write_repairs(JsonWriter& json, const Boat& boat) {
    json.line().key("repairs").begin_array();
    for (std::size_t i = 0; i < boat.repairs.size(); ++i) {
        const Repair& repair = boat.repairs[i];
        const job::Job& job = boat.job.repairs[i].job;
        json.line().begin_object().field("name", repair.name).field("title", job.title);
        json.field("copies", std::max(job.layup.copies, 1));
        json.field("status", repair.plan ? "planned" : "refused");
        json.key("refusal");
        repair.plan ? json.null() : json.value(repair.refused);
        json.key("plan");
        repair.plan ? json.value(repair.name + "/plan.json") : json.null();
        if (repair.plan)
            formats::write_totals(json, repair.plan->quantities);
        else
            json.key("totals").null();
        json.end_object();
    }
    json.end_array();
}

void write_placed(JsonWriter& json, const std::vector<layout::Placement>& placed) {
    json.key("placed").begin_array();
    for (const layout::Placement& place : placed) {
        json.begin_object().field("piece", place.piece).field("x_mm", place.x_mm);
        json.field("y_mm", place.y_mm).field("turn_deg", place.turn_deg).end_object();
    }
    json.end_array();
}

void write_nest(JsonWriter& json, const layout::Rolls& nest) {
    json.line().key("rolls").begin_array();
    for (const layout::Roll& roll : nest.rolls) {
        json.line().begin_object().field("fabric", roll.fabric).field("width_mm", roll.width_mm);
        json.field("length_mm", roll.length_mm).field("used_fraction", roll.used_fraction);
        json.field("area_bound_mm", roll.area_bound_mm).field("gap_mm", roll.gap_mm);
        write_placed(json, roll.placed);
        json.end_object();
    }
    json.end_array();
    json.line().key("remnants").begin_array();
    for (const layout::CutRemnant& remnant : nest.remnants) {
        json.line().begin_object().field("name", remnant.name).field("fabric", remnant.fabric);
        json.field("outline", remnant.outline).field("keep_off", remnant.keep_off);
        json.field("used_fraction", remnant.used_fraction);
        write_placed(json, remnant.placed);
        json.end_object();
    }
    json.end_array();
}

void write_go(JsonWriter& json, const Boat& boat, const Go& go) {
    const Plan& plan = *boat.repairs[go.repair].plan;
    json.line().begin_object().field("repair", boat.repairs[go.repair].name);
    json.key("stages").begin_array();
    for (const std::size_t index : go.stages) json.value(index + 1);
    json.end_array().key("plies").begin_array();
    for (const std::size_t index : go.stages)
        for (const int ply : plan.quantities.stages[index].plies) json.value(ply);
    json.end_array().key("shared_cups").begin_array();
    int last = 0;
    for (const std::size_t index : go.stages) {
        const int cup = plan.quantities.stages[index].boat_cup;
        if (cup > 0 && cup != last) json.value(cup);
        last = cup;
    }
    json.end_array().field("minutes", go.minutes).end_object();
}

void write_order(JsonWriter& json, const Boat& boat) {
    json.line().key("order").begin_array();
    for (const Round& round : boat.rounds) {
        json.line().begin_object().field("after_cure", round.after_cure);
        json.key("goes").begin_array();
        for (const Go& go : round.goes) write_go(json, boat, go);
        json.end_array().end_object();
    }
    json.end_array();
    json.line().key("cups").begin_array();
    for (const SharedCup& shared : boat.cups) {
        json.line().begin_object().field("number", shared.number).key("cup");
        formats::write_cup(json, shared.cup);
        json.key("takes").begin_array();
        for (const SharedCup::Take& take : shared.takes) {
            json.begin_object().field("repair", boat.repairs[take.repair].name);
            json.field("stage", take.stage + 1).field("resin_g", take.resin_g);
            json.field("area_m2", take.area_m2).end_object();
        }
        json.end_array().end_object();
    }
    json.end_array();
    json.line().key("test_cup");
    formats::write_cup(json, quantities::test_cup(boat.any().job));
}

void write_totals(JsonWriter& json, const Totals& totals) {
    json.line().key("totals").begin_object();
    json.field("glass_area_m2", totals.glass_area_m2).field("glass_g", totals.glass_g);
    json.field("resin_g", totals.resin_g).field("hardener_g", totals.hardener_g);
    json.field("hardener_mL", totals.hardener_mL).field("topcoat_g", totals.topcoat_g);
    json.field("topcoat_hardener_g", totals.topcoat_hardener_g);
    json.field("ground_area_m2", totals.ground_area_m2).field("prime_g", totals.prime_g);
    json.field("fairing_mL", totals.fairing_mL).end_object();
}

void write_warnings(JsonWriter& json, const Boat& boat) {
    const Units units = boat.any().job.display_units;
    json.line().key("warnings").begin_array();
    for (const ToldOf& told : boat.warnings) {
        json.line().begin_object().field("code", told.code);
        json.field("rank", rank_key(told.rank)).field("repairs", told.repairs);
        json.field("message", told.words.told).field("plain", told.words.plain(units));
        json.field("ply", told.ply).field("piece", told.piece).field("at", told.at).end_object();
    }
    json.end_array();
}

JsonWriter begun(const Boat& boat) {
    JsonWriter json;
    json.begin_object().field("schema", "tearline-boat/1");
    json.key("program").begin_object().field("name", "tearline").field("version", version());
    json.end_object();
    write_job(json, boat);
    write_repairs(json, boat);
    write_nest(json, boat.nest);
    write_order(json, boat);
    write_totals(json, boat.totals);
    formats::write_shopping(json, boat.shopping);
    write_warnings(json, boat);
    return json;
}

}  // namespace

std::string boat_json(const Boat& boat) {
    JsonWriter json = begun(boat);
    json.line().end_object();
    return json.take() + "\n";
}

std::string boat_json_with_plans(const Boat& boat) {
    JsonWriter json = begun(boat);
    json.line().key("plans").begin_array();
    for (const Repair& repair : boat.repairs)
        if (repair.plan)
            json.line()
                .begin_object()
                .field("name", repair.name)
                .key("plan")
                .raw(formats::plan_json(*repair.plan))
                .end_object();
    json.end_array().line().end_object();
    return json.take() + "\n";
}

}  // namespace tearline::boat

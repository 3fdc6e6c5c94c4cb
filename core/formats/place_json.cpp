#include "core/formats/place_json.h"

#include "core/formats/plies_json.h"
#include "core/templates/directions.h"

namespace tearline::formats {

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

}  // namespace tearline::formats

#include "core/paper/read_plan_json.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace tearline::paper {

namespace {

using Json = nlohmann::json;

/// Thrown inside this file alone, and turned into an Error where reading starts.
struct Unreadable {
    std::string message;
};

[[noreturn]] void refuse(const std::string& where, const std::string& what) {
    throw Unreadable{where + " " + what + "; write the plan again with `tearline plan`"};
}

const Json& member(const Json& object, const char* key, std::string_view where) {
    if (!object.is_object() || !object.contains(key))
        refuse(std::string(where) + "." + key, "is missing");
    return object.at(key);
}

const Json* optional_member(const Json& object, const char* key) {
    const auto found = object.find(key);
    return found == object.end() || found->is_null() ? nullptr : &*found;
}

double number(const Json& value, const std::string& where) {
    if (!value.is_number() || !std::isfinite(value.get<double>()))
        refuse(where, "is no finite number");
    return value.get<double>();
}

int whole_number(const Json& value, const std::string& where) {
    constexpr double most = 1e6;
    const double read = number(value, where);
    if (read != std::round(read) || !(std::abs(read) <= most)) refuse(where, "is no whole number");
    return static_cast<int>(read);
}

std::string text(const Json& value, const std::string& where) {
    if (!value.is_string()) refuse(where, "is no text");
    return value.get<std::string>();
}

std::string optional_text(const Json& object, const char* key) {
    const Json* found = optional_member(object, key);
    return found ? text(*found, key) : std::string();
}

std::vector<Vec2> points(const Json& value, const std::string& where) {
    constexpr double farthest = 1e6;  // [mm] no template is a kilometre long
    if (!value.is_array()) refuse(where, "is no list of points");
    std::vector<Vec2> out;
    out.reserve(value.size());
    for (const Json& point : value) {
        if (!point.is_array() || point.size() != 2)
            refuse(where, "holds something else than [x, y]");
        out.emplace_back(number(point[0], where), number(point[1], where));
        if (!(out.back().cwiseAbs().maxCoeff() <= farthest))
            refuse(where, "holds a point more than a kilometre away");
    }
    return out;
}

Loop2 outline(const Json& value, const std::string& where) {
    Loop2 out = points(value, where);
    if (out.size() < 3) refuse(where, "has fewer than three points");
    return out;
}

std::vector<Loop2> outlines(const Json& value, const std::string& where) {
    if (!value.is_array()) refuse(where, "is no list of outlines");
    std::vector<Loop2> out;
    for (const Json& loop : value) out.push_back(outline(loop, where));
    return out;
}

/// Lines that may end where the hull does.
std::vector<Loop2> lines(const Json& value, const std::string& where) {
    if (!value.is_array()) refuse(where, "is no list of lines");
    std::vector<Loop2> out;
    for (const Json& line : value) {
        out.push_back(points(line, where));
        if (out.back().size() < 2) refuse(where, "has fewer than two points");
    }
    return out;
}

std::optional<Region2> region(const Json& piece, const std::string& line,
                              const std::string& where) {
    const Json* outer = optional_member(piece, (line + "_line").c_str());
    if (!outer) return std::nullopt;
    Region2 out{outline(*outer, where + "." + line + "_line"), {}};
    if (const Json* holes = optional_member(piece, (line + "_holes").c_str()))
        out.holes = outlines(*holes, where + "." + line + "_holes");
    return out;
}

std::vector<templates::Mark> marks(const Json& holder, const std::string& where) {
    std::vector<templates::Mark> out;
    const Json* list = optional_member(holder, "marks");
    if (!list) return out;
    for (const Json& mark : *list)
        if (auto known =
                templates::mark_of({text(member(mark, "kind", where), where + ".kind"),
                                    points(member(mark, "points", where), where + ".points"),
                                    optional_text(mark, "text")}))
            out.push_back(*std::move(known));
    return out;
}

templates::PieceTemplate read_piece(const Json& piece, const Json& ply, const std::string& where) {
    templates::PieceTemplate out;
    out.id = text(member(piece, "id", where), where + ".id");
    out.ply = whole_number(member(ply, "number", "plies"), "plies.number");
    out.fabric = text(member(ply, "fabric", "plies"), "plies.fabric");
    out.mat = text(member(ply, "kind", "plies"), "plies.kind") == "mat";
    const std::string place = "piece " + out.id;
    auto net = region(piece, "net", place);
    if (!net) refuse(place + ".net_line", "is missing");
    out.outline.net = std::move(*net);
    out.outline.tear = region(piece, "tear", place);
    out.outline.cut = region(piece, "cut", place);
    out.outline.marks = marks(piece, place + ".marks");
    if (const Json* cuts = optional_member(piece, "relief_cuts"))
        for (const Json& cut : *cuts)
            out.outline.relief_cuts.push_back(
                {text(member(cut, "kind", place), place + ".relief_cuts.kind"),
                 points(member(cut, "points", place), place + ".relief_cuts.points")});
    out.outline.area_mm2 = number(member(piece, "area_mm2", place), place + ".area_mm2");
    if (const Json* axis = optional_member(piece, "axis_deg"))
        out.outline.axis_degrees = number(*axis, place + ".axis_deg");
    return out;
}

templates::GrindGuide read_guide(const Json& guide) {
    templates::GrindGuide out;
    const Json& footprint = member(guide, "footprint", "grind_guide");
    if (const Json& outer = member(footprint, "outer", "grind_guide.footprint");
        !outer.is_array() || !outer.empty())  // none of what is only laid flat
        out.footprint.outer = outline(outer, "grind_guide.footprint");
    if (const Json* holes = optional_member(footprint, "holes"))
        out.footprint.holes = outlines(*holes, "grind_guide.footprint.holes");
    for (const Json& ring : member(guide, "rings", "grind_guide")) {
        templates::GrindGuide::Ring read;
        read.loops = lines(member(ring, "loops", "grind_guide.rings"), "grind_guide.rings.loops");
        read.text = optional_text(ring, "text");
        read.depth_mm =
            number(member(ring, "depth_mm", "grind_guide.rings"), "grind_guide.rings.depth_mm");
        if (const Json* ply = optional_member(ring, "ply"))
            read.ply = whole_number(*ply, "grind_guide.rings.ply");
        if (const Json* leader = optional_member(ring, "leader"))
            read.leader = points(*leader, "grind_guide.rings.leader");
        out.rings.push_back(std::move(read));
    }
    out.marks = marks(guide, "grind_guide.marks");
    return out;
}

std::vector<templates::Section> read_sections(const Json& holder) {
    std::vector<templates::Section> out;
    const Json* sections = optional_member(holder, "sections");
    if (!sections) return out;
    for (const Json& section : *sections) {
        templates::Section read;
        read.name = optional_text(section, "name");
        read.angle_degrees = read.name == "across" ? 90.0 : 0.0;  // where the plan does not say
        if (const Json* angle = optional_member(section, "angle_deg"))
            read.angle_degrees = number(*angle, "sections.angle_deg");
        if (!(read.angle_degrees >= 0.0) || !(read.angle_degrees < 180.0))
            refuse("sections.angle_deg", "is not from 0 to less than 180");
        if (const Json* ends = optional_member(section, "ends"))
            for (std::size_t i = 0; i < std::min(ends->size(), read.ends.size()); ++i)
                read.ends[i] = text((*ends)[i], "sections.ends");
        read.edge = points(member(section, "edge", "sections"), "sections.edge");
        if (read.edge.size() < 2) refuse("sections.edge", "has fewer than two points");
        out.push_back(std::move(read));
    }
    return out;
}

/// Guide, ends and sections of a plan, or of one of its sides.
void read_place(const Json& holder, templates::TemplateSet& set) {
    if (const Json* guide = optional_member(holder, "grind_guide")) set.guide = read_guide(*guide);
    if (const Json* frame = optional_member(holder, "frame"))
        if (const Json* ends = optional_member(*frame, "points_to"))
            set.ends = {optional_text(*ends, "right"), optional_text(*ends, "top"),
                        optional_text(*ends, "left"), optional_text(*ends, "bottom")};
    set.sections = read_sections(holder);
}

/// The pieces of what closes a hole: "backing" or "core".
void read_closing(const Json& json, const char* name, templates::TemplateSet& plan) {
    const Json* closing = optional_member(json, name);
    const Json* pieces = closing ? optional_member(*closing, "pieces") : nullptr;
    if (!pieces || pieces->empty()) return;
    const Json as_ply{{"number", 0}, {"fabric", name}, {"kind", "woven"}};
    templates::TemplateSet part = plan;
    part.pieces.clear();
    part.parts.clear();
    part.guide = {};
    part.sections.clear();
    part.part = name;
    for (const Json& piece : *pieces)
        part.pieces.push_back(read_piece(piece, as_ply, std::string(name) + ".pieces"));
    plan.pieces.insert(plan.pieces.end(), part.pieces.begin(), part.pieces.end());
    if (!plan.parts.empty()) plan.parts.push_back(std::move(part));
}

/// Each side or skin of a repair of several, with its own pieces.
void read_parts(const Json& json, templates::TemplateSet& plan) {
    const Json* sides = optional_member(json, "sides");
    if (!sides || sides->size() < 2) return;
    const templates::TemplateSet whole = plan;
    for (const Json& side : *sides) {
        templates::TemplateSet part = whole;
        part.part = optional_text(side, "name");
        read_place(side, part);
        std::vector<int> plies;
        for (const Json& ply : member(side, "plies", "sides"))
            plies.push_back(whole_number(ply, "sides.plies"));
        std::erase_if(part.pieces, [&](const templates::PieceTemplate& piece) {
            return std::find(plies.begin(), plies.end(), piece.ply) == plies.end();
        });
        plan.parts.push_back(std::move(part));
    }
}

/// Station cards of a backing: set up behind the far face, so turned over, from one base line.
void read_stations(const Json& json, templates::TemplateSet& plan) {
    const Json* backing = optional_member(json, "backing");
    if (!backing) return;
    std::vector<templates::Section> cards = read_sections(*backing);
    if (cards.empty()) return;
    for (templates::Section& card : cards) {
        for (Vec2& point : card.edge) point.y() = -point.y();
        card.back = 0.0;
    }
    templates::TemplateSet part = plan;
    part.pieces.clear();
    part.parts.clear();
    part.guide = {};
    part.part = "stations";
    part.sections = std::move(cards);
    if (plan.parts.empty()) plan.parts.push_back(plan);
    plan.parts.push_back(std::move(part));
}

templates::TemplateSet read(const Json& json) {
    const std::string schema = json.is_object() ? optional_text(json, "schema") : "";
    if (schema != "tearline-plan/1" && schema != "tearline-flat/1")
        refuse("schema", "is neither \"tearline-plan/1\" nor \"tearline-flat/1\"");
    templates::TemplateSet plan;
    plan.flat = schema == "tearline-flat/1";
    const Json& job = member(json, "job", "plan");
    plan.title = optional_text(job, "title");
    plan.model = optional_text(job, "model");
    if (const Json* effective = optional_member(job, "effective")) {
        if (optional_text(*effective, "display_units") == "us") plan.units = Units::us;
        if (const Json* resin = optional_member(*effective, "resin"))
            plan.epoxy = optional_text(*resin, "kind") == "epoxy";
    }
    plan.job_id = optional_text(job, "model_sha256").substr(0, 8);
    for (const Json& ply : member(json, "plies", "plan"))
        for (const Json& piece : member(ply, "pieces", "plies"))
            plan.pieces.push_back(read_piece(piece, ply, "plies.pieces"));
    if (plan.pieces.empty()) refuse("plies", "holds no piece");
    if (plan.flat)  // cut, whatever it is
        for (templates::PieceTemplate& piece : plan.pieces) piece.mat = false;
    read_place(json, plan);
    read_parts(json, plan);
    for (const char* name : {"backing", "core"}) read_closing(json, name, plan);
    read_stations(json, plan);
    return plan;
}

/// Every place of a boat, or of each its parts, as parts of one set.
templates::TemplateSet read_boat(const Json& json) {
    templates::TemplateSet boat;
    if (!json.contains("plans"))
        refuse("plans",
               "are missing: several places are printed from their folder, "
               "tearline print DIR");
    for (const Json& place : member(json, "plans", "boat")) {
        const std::string name = text(member(place, "name", "plans"), "plans.name");
        const templates::TemplateSet plan = read(member(place, "plan", "plans"));
        if (boat.parts.empty()) {
            boat.model = plan.model;
            boat.job_id = plan.job_id;
            boat.epoxy = plan.epoxy;
            boat.units = plan.units;
        }
        for (templates::TemplateSet part : templates::parts_of(plan)) {
            part.parts.clear();
            part.part = part.part.empty() ? name : name + " " + part.part;
            for (templates::PieceTemplate& piece : part.pieces) piece.id = name + "-" + piece.id;
            boat.pieces.insert(boat.pieces.end(), part.pieces.begin(), part.pieces.end());
            boat.parts.push_back(std::move(part));
        }
    }
    if (boat.parts.empty()) refuse("plans", "holds no place");
    boat.title = optional_text(member(json, "job", "boat"), "title");
    return boat;
}

templates::TemplateSet read_either(const Json& json) {
    const bool boat = json.is_object() && optional_text(json, "schema") == "tearline-boat/1";
    return boat ? read_boat(json) : read(json);
}

}  // namespace

Result<templates::TemplateSet> read_plan_json(std::string_view json) {
    try {
        return read_either(Json::parse(json));
    } catch (const Unreadable& unreadable) {
        return bad_file("plan.json", unreadable.message);
    } catch (const Json::exception& error) {
        return bad_file("plan.json", "not readable as JSON (" + std::string(error.what()) +
                                         "); write the plan again with `tearline plan`");
    }
}

}  // namespace tearline::paper

#include "core/job/schema/boat_keys.h"

#include <string>

#include "core/base/us_constants.h"
#include "core/job/schema/values.h"

namespace tearline::job {

namespace {

using namespace rests_on;

constexpr double farthest = 100'000.0;  ///< [mm] no roll is longer

/// Rows of as many lengths each, [[x, y], ...].
Value<Remnant> rows(std::size_t count, const char* right,
                    void (*take)(const std::vector<std::vector<double>>&, Remnant&)) {
    Value<Remnant> value{.kind = "rows of lengths"};
    value.read = [=](TableReader& in, std::string_view key, Remnant& out, Job&) {
        const auto read =
            in.read(key, &TableReader::length_rows, between(-farthest, farthest), "mm");
        if (!read) return;
        if (read->front().size() != count) return in.refuse(key, right);
        take(*read, out);
    };
    value.write = [](const Remnant&) { return Node::nothing(); };
    return value;
}

Value<LockedPiece> plane_point() {
    Value<LockedPiece> value{.kind = "lengths"};
    value.read = [](TableReader& in, std::string_view key, LockedPiece& out, Job&) {
        const auto at = in.read(key, &TableReader::lengths, between(-farthest, farthest), "mm");
        if (!at) return;
        if (at->size() != 2) return in.refuse(key, "must be [x, y], mm on the remnant");
        out.at = {(*at)[0], (*at)[1]};
    };
    value.write = [](const LockedPiece&) { return Node::nothing(); };
    return value;
}

Value<Remnant> locked() {
    Value<Remnant> value{.kind = "tables"};
    value.read = [](TableReader& in, std::string_view key, Remnant& out, Job& job) {
        const Node* list = in.find(key);
        if (list == nullptr) return;
        if (list->kind != Node::Kind::array)
            return in.refuse(key,
                             "must be a list, [{piece = \"R1-2A\", at = [x, y], turn = 0}, ...]");
        for (std::size_t i = 0; i < list->items.size(); ++i) {
            LockedPiece piece;
            KeyReader<LockedPiece>(in.refusals(), &list->items[i],
                                   in.path_of(key) + "[" + std::to_string(i + 1) + "]",
                                   locked_keys(), piece, job)
                .rest();
            out.locked.push_back(std::move(piece));
        }
    };
    value.write = [](const Remnant&) { return Node::nothing(); };
    return value;
}

void take_outline(const std::vector<std::vector<double>>& points, Remnant& out) {
    for (const auto& point : points) out.outline.emplace_back(point[0], point[1]);
}

void take_boxes(const std::vector<std::vector<double>>& boxes, Remnant& out) {
    for (const auto& box : boxes) out.keep_off.push_back({box[0], box[1], box[2], box[3]});
}

}  // namespace

const Table<LockedPiece>& locked_keys() {
    static const Table<LockedPiece> keys{
        "remnant.locked",
        {key("piece", text(&LockedPiece::piece), {}, "repair and piece, \"R1-2A\"", "", "",
             {.required = "name the piece by its repair and its own name, piece = \"R1-2A\""}),
         key("at", plane_point(), {}, "where the middle of the damage on it lies", "", "",
             {.required = "where the cross on the piece lies, at = [x, y]"}),
         key("turn", number(&LockedPiece::turn, between(-360.0, 360.0), "degrees"), unmarked,
             "degrees counter-clockwise")}};
    return keys;
}

const Table<Remnant>& remnant_keys() {
    static const Table<Remnant> keys{
        "remnant",
        {key("name", text(&Remnant::name), {}, "what is written on it",
             R"("left of the blue roll" #)"),
         key("fabric", text(&Remnant::fabric), {}, "which cloth it is", R"("mat 450" #)", "",
             {.required = "say which cloth it is, fabric = \"mat 450\""}),
         key("outline",
             rows(2, "must be points of the table that it lies on, [[x, y], [x, y], ...]",
                  take_outline),
             {}, "round it, as it lies on the table",
             "[[0, 0], [900, 0], [900, 400], [350, 700], [0, 700]] # round it, as it lies on the "
             "table"),
         key("model", file(&Remnant::model_as_given), {}, "a DXF file with its outline",
             R"("left.dxf" # instead: a DXF file with one closed outline, in mm or unit = "in")"),
         key("unit",
             choice(&Remnant::unit_mm, {{"mm", 1.0},
                                        {"cm", 10.0},
                                        {"m", 1000.0},
                                        {"in", us::mm_per_inch},
                                        {"ft", us::mm_per_foot}}),
             form, "of the DXF file"),
         key("roll_direction", number(&Remnant::roll_direction, between(-360.0, 360.0), "degrees"),
             {}, "degrees from x to the length of its roll",
             "0 # degrees counter-clockwise from x to the length of its roll; required of cloth"),
         key("face", choice(&Remnant::face_up, {{"up", true}, {"down", false}}), {},
             "which face of the cloth was up",
             R"("up" # or "down": which face looked up when it was outlined; required of cloth)"),
         key("keep_off",
             rows(4, "must be boxes, [[x, y, x, y], ...]: from one corner to the other",
                  take_boxes),
             {}, "boxes where nothing may lie",
             "[[0, 0, 60, 700]] # boxes where nothing may lie, corner to corner: a stain, an edge"),
         key("locked", locked(), {}, "pieces that have their place on it",
             R"([{piece = "R1-2A", at = [300, 250], turn = 0}] # pieces that have their place, as plan.json tells it)")}};
    return keys;
}

}  // namespace tearline::job

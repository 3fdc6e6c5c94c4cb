#include "core/formats/plies_json.h"

#include <string>
#include <vector>

#include "core/base/side_by_side.h"
#include "core/job/sides.h"

namespace tearline::formats {

namespace {

/// An edge and its holes, or null for both where the piece has no such line.
void write_line(JsonWriter& json, const std::string& name, const std::optional<Region2>& region) {
    json.key(name + "_line");
    region ? json.value(region->outer) : json.null();
    json.key(name + "_holes");
    region ? json.value(region->holes) : json.null();
}

void write_drawn(JsonWriter& json, const templates::Template& outline) {
    json.line();
    write_marks(json, outline.marks);
    json.key("relief_cuts").begin_array();
    for (const templates::ReliefCut& cut : outline.relief_cuts)
        json.begin_object().field("kind", cut.kind).field("points", cut.points).end_object();
    json.end_array();
}

}  // namespace

void write_marks(JsonWriter& json, const std::vector<templates::Mark>& marks) {
    json.key("marks").begin_array();
    for (const templates::Mark& mark : marks) {
        const templates::MarkFields fields = templates::fields_of(mark);
        json.begin_object().field("kind", fields.kind).field("points", fields.points);
        json.field("text", fields.text).end_object();
    }
    json.end_array();
}

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

namespace {

/// A ply with its pieces.
std::string ply_text(const templates::LaidPly& ply, const quantities::PlyAmounts& amounts) {
    JsonWriter json;
    json.begin_object().field("number", ply.number).field("fabric", ply.fabric);
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
    return json.take();
}

}  // namespace

void write_plies(JsonWriter& json, const Plan& plan) {
    std::vector<std::string> texts(plan.plies.size());
    side_by_side(texts.size(), [&](std::size_t k) {
        texts[k] = ply_text(plan.plies[k], plan.quantities.plies.at(k));
    });
    json.line().key("plies").begin_array();
    for (const std::string& text : texts) json.line().raw(text);
    json.end_array();
}

}  // namespace tearline::formats

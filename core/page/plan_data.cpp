#include "core/page/plan_data.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/job_sheet/colour_scale.h"
#include "core/job_sheet/strain_cells.h"
#include "core/job_sheet/template_thumbnail.h"
#include "core/page/layers.h"

namespace tearline::page {

namespace {

constexpr int levels = 32;                         ///< of the scale of strain, shear and depth
constexpr const char* closing_colour = "#d9cba6";  ///< of backing and core: no ply's

std::uint8_t level_of(double share) {
    return static_cast<std::uint8_t>(std::lround(std::clamp(share, 0.0, 1.0) * (levels - 1)));
}

/// What each triangle stretches or shears, as a share of the scale.
std::vector<std::uint8_t> strain_levels(const pieces::Piece& piece,
                                        const job_sheet::StrainScale& tops) {
    std::vector<std::uint8_t> out;
    for (std::size_t i = 0; i < piece.lay.triangle.size(); ++i) {
        double share = 0.0;
        if (i < piece.shear_degrees.size())
            share = std::abs(piece.shear_degrees[i]) / tops.shear_top;
        else if (i < piece.stretch.size())
            share =
                std::max(std::abs(piece.stretch[i][0] - 1.0), std::abs(piece.stretch[i][1] - 1.0)) /
                tops.strain_top;
        out.push_back(level_of(share));
    }
    return out;
}

/// The tint of each ply as in the overview: the farther out its edge, the lighter.
std::vector<std::string> ply_colours(const Plan& plan) {
    std::vector<std::size_t> order(plan.plies.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return plan.plies[a].edge_offset_mm > plan.plies[b].edge_offset_mm;
    });
    std::vector<std::string> out(order.size());
    for (std::size_t k = 0; k < order.size(); ++k)
        out[order[k]] =
            job_sheet::ply_colour(order.size() > 1 ? double(k) / double(order.size() - 1) : 0.5);
    return out;
}

void write_layer(DataWriter& data, const Layer& layer, const Plan& plan,
                 const std::string& colour) {
    formats::JsonWriter& json = data.json();
    const templates::LaidPly& ply = *layer.ply;
    const job_sheet::StrainScale tops = job_sheet::strain_scale(plan);
    json.line().begin_object().field("id", layer.id).field("name", layer.name);
    json.field("words", layer.words).field("colour", colour).field("height", layer.height);
    json.field("below", layer.below_mm).field("part", layer.closes ? "" : ply.part);
    json.field("towards", layer.towards);
    data.loops("edge", ply.outlines_3d);
    json.key("pieces").begin_array();
    for (const templates::LaidPiece& piece : ply.pieces) {
        json.begin_object().field("id", piece.piece.id);
        json.field("most", job_sheet::most_text(piece.piece));
        data.shape({piece.piece.lay.position, piece.piece.lay.triangle});
        data.bytes("levels", strain_levels(piece.piece, tops));
        json.end_object();
    }
    json.end_array().end_object();
}

void write_layers(DataWriter& data, const Plan& plan) {
    const std::vector<std::string> colours = ply_colours(plan);
    data.json().key("layers").begin_array();
    std::size_t ply = 0;
    for (const Layer& layer : layers_of(plan))
        write_layer(data, layer, plan, layer.closes ? closing_colour : colours[ply++]);
    data.json().end_array();
}

std::vector<Vec3> normals_of(const plan::DishView& dish) {
    std::vector<Vec3> normals(dish.points.size(), Vec3::Zero());
    for (const auto& t : dish.triangles) {
        const auto at = [&](int k) -> const Vec3& {
            return dish.points[static_cast<std::size_t>(t[static_cast<std::size_t>(k)])];
        };
        const Vec3 normal = (at(1) - at(0)).cross(at(2) - at(0));
        for (const std::int32_t v : t) normals[static_cast<std::size_t>(v)] += normal;
    }
    for (Vec3& normal : normals) normal.normalize();
    return normals;
}

double deepest_of(const plan::DishView& dish) {
    return dish.depth.empty() ? 0.0 : *std::max_element(dish.depth.begin(), dish.depth.end());
}

/// A dish as it is ground, with the depth of each triangle as a share of the deepest of all.
void write_dish(DataWriter& data, const plan::DishView& dish, double deepest) {
    const std::vector<Vec3> normals = normals_of(dish);
    Shape ground{{}, dish.triangles};
    for (std::size_t v = 0; v < dish.points.size(); ++v)
        ground.vertices.push_back(dish.points[v] - dish.depth[v] * normals[v]);
    std::vector<std::uint8_t> depths;
    for (const auto& t : dish.triangles) {
        double sum = 0.0;
        for (const std::int32_t v : t) sum += dish.depth[static_cast<std::size_t>(v)];
        depths.push_back(level_of(sum / 3.0 / deepest));
    }
    data.json().key("dish").begin_object();
    data.shape(ground);
    data.bytes("levels", depths);
    data.json().end_object();
}

/// By how much a picture lifts a dish that lies under another, so that its floor is seen on that
/// one's [mm].
double lift_of(const plan::Place& place, const Plan& plan) {
    const plan::Place& top = outermost(plan, place.frame.normal);
    const double below = (top.frame.middle - place.frame.middle).dot(place.frame.normal);
    if (&top == &place || !(below > 0.0)) return 0.0;
    constexpr double over = 0.2;
    return below + deepest_of(place.dish_view) - deepest_of(top.dish_view) + over;
}

/// The edges of openings that are kept.
std::vector<Region3> openings_of(const plan::Place& place) {
    std::vector<Region3> out;
    for (const damage::KeptOpening& opening : place.openings) {
        Region3& edge = out.emplace_back();
        for (const damage::OutlinePoint& point : opening.edge.points)
            edge.outer.push_back(point.position);
    }
    return out;
}

/// The sides of a hole, the skins of a sandwich, or the one place that there is.
void write_parts(DataWriter& data, const Plan& plan) {
    double deepest = 0.0;
    for (const plan::Place* place : places_of(plan))
        deepest = std::max(deepest, deepest_of(place->dish_view));
    data.json().field("deepest", thickness_text(deepest, 1, plan.job.display_units));
    data.json().field("deepest_mm", deepest).key("parts").begin_array();
    for (const plan::Place* place : places_of(plan)) {
        data.json().begin_object().field("towards", place->frame.normal);
        data.json().field("lift", lift_of(*place, plan));
        data.loops("damage", plan.flat ? std::vector<Region3>() : std::vector{place->damage});
        data.loops("scarf", place->scarf);
        data.loops("footprint", plan.flat ? std::vector<Region3>() : place->footprint);
        data.loops("openings", openings_of(*place));
        if (deepest_of(place->dish_view) > 0.0) write_dish(data, place->dish_view, deepest);
        data.json().end_object();
    }
    data.json().end_array();
}

void write_scale(DataWriter& data, const Plan& plan) {
    const job_sheet::StrainScale tops = job_sheet::strain_scale(plan);
    bool mat = false, cloth = false;
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            (piece.piece.shear_degrees.empty() ? mat : cloth) = true;
    std::string most;
    if (mat) most = shortest(std::round(tops.strain_top * 1e5) / 1e3) + " %";
    if (cloth) most += (mat ? ", " : "") + shortest(tops.shear_top) + "°";
    formats::JsonWriter& json = data.json();
    json.key("scale").begin_object().field("most", most).key("colours").begin_array();
    for (int i = 0; i < levels; ++i) json.value(job_sheet::strain_colour(double(i) / (levels - 1)));
    json.end_array().end_object();
}

/// A warning in plain words, with what it is of in front.
std::string words_of(const Warning& warning, Units units) {
    std::string words = warning.words().plain(units);
    if (warning.words().subject.empty() && (warning.piece || warning.ply))
        words =
            (warning.piece ? "piece " + *warning.piece : "ply " + std::to_string(*warning.ply)) +
            ": " + words;
    if (!words.empty() && words.front() >= 'a' && words.front() <= 'z') words.front() += 'A' - 'a';
    return words;
}

void write_warnings(DataWriter& data, const Plan& plan) {
    formats::JsonWriter& json = data.json();
    json.key("warnings").begin_array();
    for (const WarningRank rank : warning_ranks)
        for (const Warning& warning : plan.warnings)
            if (warning.rank() == rank) {
                json.line().begin_object().field("rank", rank_words(rank));
                json.field("colour", rank_colour(rank)).field("code", warning.code());
                json.field("text", words_of(warning, plan.job.display_units));
                json.field("at", warning.at).field("ply", warning.ply).end_object();
            }
    json.end_array();
}

}  // namespace

void write_plan_data(DataWriter& data, const Plan& plan) {
    const damage::FlatFrame& frame = plan.place.frame;
    double reach = 0.0;
    for (const Region3& region : plan.place.footprint)
        for (const Vec3& p : region.outer) reach = std::max(reach, (p - frame.middle).norm());
    data.json().key("frame").begin_object().field("middle", frame.middle);
    data.json().field("towards", frame.normal).field("up", frame.y);
    data.json().field("reach", reach).end_object();
    data.json().field("flat", plan.flat.has_value());
    write_layers(data, plan);
    write_parts(data, plan);
    write_scale(data, plan);
    write_warnings(data, plan);
}

}  // namespace tearline::page

#include "core/boat/boat_picture.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/base/numbers.h"
#include "core/base/printable.h"
#include "core/base/sheet_words.h"
#include "core/base/us_units.h"
#include "core/formats/svg.h"
#include "core/job_sheet/hull_picture.h"
#include "core/plane/turned.h"

namespace tearline::boat {

namespace {

using formats::svg_number;
using formats::svg_text;
using plane::Box;

/// One way to look at the hull.
struct View {
    const char* words;
    Vec3 towards;
    std::vector<std::size_t> repairs;
};

/// Outward at a place, whichever face it is laid from.
Vec3 outward_at(const Plan& plan) {
    const double sign = plan.job.damage.side == job::Side::outside ? 1.0 : -1.0;
    return sign * plan.place.frame.normal;
}

/// The ways from which some place is seen, each place from the one that it faces most.
std::vector<View> views_with_places(const Boat& boat) {
    const Vec3 bow = boat.any().job.hull.bow.normalized(), up = boat.any().job.hull.up.normalized();
    const Vec3 starboard = bow.cross(up).normalized();
    std::vector<View> views = {{"From starboard", starboard, {}}, {"From port", -starboard, {}},
                               {"From below", -up, {}},           {"From above", up, {}},
                               {"From ahead", bow, {}},           {"From astern", -bow, {}}};
    for (std::size_t i = 0; i < boat.repairs.size(); ++i) {
        if (!boat.repairs[i].plan) continue;
        const Vec3 way = outward_at(*boat.repairs[i].plan);
        std::max_element(views.begin(), views.end(), [&](const View& a, const View& b) {
            return a.towards.dot(way) < b.towards.dot(way);
        })->repairs.push_back(i);
    }
    std::erase_if(views, [](const View& view) { return view.repairs.empty(); });
    return views;
}

job_sheet::HullProjection projection_of(const View& view, const job::HullOptions& hull) {
    job_sheet::HullProjection out;
    out.towards = view.towards;
    const Vec3 bow = hull.bow.normalized(), up = hull.up.normalized();
    const Vec3 upright = std::abs(view.towards.dot(up)) < 0.9 ? up : bow;
    out.right = upright.cross(view.towards).normalized();
    out.up = view.towards.cross(out.right);
    return out;
}

std::vector<Vec3> hull_points(const Plan& plan) {
    return plan.place.view.far_vertices.empty() ? plan.place.view.near.position
                                                : plan.place.view.far_vertices;
}

/// A name beside its place, moved down where another stands already.
///
/// @param taken  what names take up, this one added
std::string name_at(Vec2 at, const std::string& name, std::vector<Box>& taken) {
    constexpr double size = 4.0, letter = 0.64;  // [mm] of a letter; of its height, bold
    const Vec2 half(0.5 * letter * size * double(name.size()), 0.5 * size);
    const auto round = [&] { return Box{at - half, at + half}; };
    const auto covers = [&](const Box& other) { return other.meets(round()); };
    for (int k = 0; k < 20 && std::any_of(taken.begin(), taken.end(), covers); ++k)
        at.y() += 0.5 * size;
    taken.push_back(round());
    return "<g paint-order=\"stroke\" stroke=\"#fff\" stroke-width=\"0.9\">" +
           svg_text(at, name, {size, "middle", "#12405d", true}) + "</g>\n";
}

std::string view_picture(const Boat& boat, const View& view, const Box& window) {
    const Plan& any = boat.any();
    auto projection = projection_of(view, any.job.hull);
    job_sheet::fit(projection, hull_points(any),
                   {window.low + Vec2(4, 4), window.high - Vec2(4, 9)}, 1.0);
    const std::string rect = "x=\"" + svg_number(window.low.x()) + "\" y=\"" +
                             svg_number(window.low.y()) + "\" width=\"" +
                             svg_number(window.size().x()) + "\" height=\"" +
                             svg_number(window.size().y()) + "\" rx=\"2\"";
    std::string out = "<rect " + rect + " fill=\"#eef2f4\"/>\n<g>\n" +
                      job_sheet::shaded_hull(any, projection, window) + "</g>\n";
    std::string names;
    std::vector<Box> taken;
    for (const std::size_t i : view.repairs) {
        const Repair& repair = boat.repairs[i];
        const bool inside = repair.plan->job.damage.side == job::Side::inside;
        for (const Region3& region : repair.plan->place.footprint)
            out += "<path fill=\"#b4470f\" fill-opacity=\"" +
                   std::string(inside ? "0.25" : "0.75") +
                   "\" stroke=\"#b4470f\" stroke-width=\"0.5\"" +
                   (inside ? " stroke-dasharray=\"1.4 0.8\"" : "") + " d=\"" +
                   job_sheet::projected_path(region, projection) + "\"/>\n";
        names += name_at(projection(repair.plan->place.frame.middle) + Vec2(0, -3.0),
                         repair.name + (inside ? " (inside)" : ""), taken);
    }
    return out + names +
           svg_text(Vec2(window.low.x() + 3, window.high.y() - 2.5), view.words, {3.4});
}

std::string amount(const Boat& boat, double grams) {
    return boat.any().job.display_units == Units::metric ? fixed(grams, 0) + " g"
                                                         : us::mass_text(Grams(grams));
}

std::string row_of(const Boat& boat, const Repair& repair, const Vec2& at) {
    std::string out = svg_text(at, repair.name, {4.4, "start", "#12405d", true});
    if (!repair.plan)
        return out + svg_text(at + Vec2(0, 5), "NOT PLANNED (job sheet)",
                              {3.6, "start", "#a3250b", true});
    const Plan& plan = *repair.plan;
    std::size_t pieces = 0;
    for (const templates::LaidPly& ply : plan.plies) pieces += ply.pieces.size();
    const quantities::Totals& totals = plan.quantities.totals;
    return out + svg_text(at + Vec2(0, 5),
                          std::to_string(plan.plies.size()) + " plies, " + std::to_string(pieces) +
                              " pieces, glass " + amount(boat, totals.glass_g) + ", resin " +
                              amount(boat, totals.resin_g) +
                              (plan.job.layup.copies > 1
                                   ? ", make " + std::to_string(plan.job.layup.copies)
                                   : ""),
                          {3.6, "start", "#44525c"});
}

const templates::LaidPiece* find_piece(const Boat& boat, const std::string& name) {
    for (const Repair& repair : boat.repairs) {
        if (!repair.plan) continue;
        const auto among = [&](const std::vector<templates::LaidPly>& plies) {
            const templates::LaidPiece* found = nullptr;
            for (const templates::LaidPly& ply : plies)
                for (const templates::LaidPiece& piece : ply.pieces)
                    if (piece_name(repair.name, piece.piece.id) == name) found = &piece;
            return found;
        };
        if (const auto* piece = among(repair.plan->plies)) return piece;
        if (!repair.plan->backing) continue;
        if (const auto* piece = among(repair.plan->backing->pieces)) return piece;
    }
    return nullptr;
}

}  // namespace

std::string views_of_boat(const Boat& boat, const Box& window) {
    const std::vector<View> views = views_with_places(boat);
    const std::size_t columns = views.size() > 2 ? 2 : 1;
    const std::size_t rows = (views.size() + columns - 1) / columns;
    constexpr double gap = 4.0;
    const Vec2 each((window.size().x() - gap * double(columns - 1)) / double(columns),
                    (window.size().y() - gap * double(rows - 1)) / double(rows));
    std::string out;
    for (std::size_t k = 0; k < views.size(); ++k) {
        const Vec2 low = window.low + Vec2(double(k % columns) * (each.x() + gap),
                                           double(k / columns) * (each.y() + gap));
        out += view_picture(boat, views[k], {low, low + each});
    }
    return out;
}

std::string boat_overview(const Boat& boat) {
    constexpr double width = 420.0, height = 297.0;
    std::string out = formats::svg_file_begin({width, height}, boat.job.title);
    constexpr std::size_t most_letters = 70, most_large = 40;
    out += svg_text(
        Vec2(12, 18), shortened(boat.job.title, most_letters),
        {count_characters(boat.job.title) > most_large ? 6.5 : 9.0, "start", "#12303f", true});
    out += svg_text(Vec2(12, 27),
                    std::to_string(boat.planned()) + " of " + std::to_string(boat.repairs.size()) +
                        " places planned  ·  glass " + amount(boat, boat.totals.glass_g) +
                        "  ·  resin " + amount(boat, boat.totals.resin_g),
                    {4.6, "start", "#44525c"});
    out += views_of_boat(boat, {Vec2(12, 34), Vec2(290, 285)});
    double y = 40.0;
    for (std::size_t i = 0; i < boat.repairs.size(); ++i) {
        if (y > height - 20.0) {
            out += svg_text(
                Vec2(298, y),
                "and " + std::to_string(boat.repairs.size() - i) + " more: see the job sheet",
                {3.6, "start", "#44525c"});
            break;
        }
        out += row_of(boat, boat.repairs[i], Vec2(298, y));
        y += 12.0;
    }
    return out + "</svg>\n";
}

std::string remnant_picture(const Boat& boat, const layout::CutRemnant& remnant) {
    const Box box = plane::box_round(remnant.outline);
    const double scale = std::min(168.0 / box.size().x(), 60.0 / box.size().y());
    const auto on_picture = [&](const Loop2& loop) {
        std::vector<Vec2> points;
        for (const Vec2& p : loop)
            points.emplace_back(std::round(scale * (p.x() - box.low.x()) * 100) / 100,
                                std::round(scale * (box.high.y() - p.y()) * 100) / 100);
        return points;
    };
    std::string out = formats::svg_begin(scale * box.size() + Vec2(1, 1), {-0.5, -0.5}) +
                      "<path fill=\"#f4f6f7\" stroke=\"#55636c\" stroke-width=\"0.3\" d=\"" +
                      formats::svg_path(on_picture(remnant.outline), true) + "\"/>\n";
    for (const Loop2& loop : remnant.keep_off)
        out += "<path fill=\"#e3b7ab\" d=\"" + formats::svg_path(on_picture(loop), true) + "\"/>\n";
    for (const layout::Placement& place : remnant.placed) {
        const templates::LaidPiece* piece = find_piece(boat, place.piece);
        if (piece == nullptr) continue;
        Loop2 lies;
        for (const Vec2& p : piece->outline.parting_region().outer)
            lies.push_back(plane::turned(p, place.turn_deg * std::numbers::pi / 180.0) +
                           Vec2(place.x_mm, place.y_mm));
        const std::vector<Vec2> points = on_picture(lies);
        const Box round = plane::box_round(points);
        const Vec2 middle = 0.5 * (round.low + round.high);
        constexpr double letter = 0.62;  // [-] of its height, of common sans serif faces
        const double size = std::min({3.5, 0.3 * round.size().minCoeff(),
                                      round.size().x() / (letter * double(place.piece.size()))});
        out += "<path fill=\"#cfe0ea\" stroke=\"#12405d\" stroke-width=\"0.3\" d=\"" +
               formats::svg_path(points, true) + "\"/>" +
               svg_text(middle + Vec2(0, 0.36 * size), place.piece, {size, "middle"}) + "\n";
    }
    return out + "</svg>";
}

}  // namespace tearline::boat

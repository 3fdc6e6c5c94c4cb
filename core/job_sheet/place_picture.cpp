#include "core/job_sheet/place_picture.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/formats/svg.h"
#include "core/job_sheet/cloth_lines.h"
#include "core/job_sheet/colour_scale.h"
#include "core/job_sheet/hull_picture.h"
#include "core/job_sheet/lap_picture.h"
#include "core/job_sheet/template_thumbnail.h"

namespace tearline::job_sheet {

namespace {

std::string frame(const plane::Box& box, const char* id) {
    const std::string rect = "x=\"" + formats::svg_number(box.low.x()) + "\" y=\"" +
                             formats::svg_number(box.low.y()) + "\" width=\"" +
                             formats::svg_number(box.high.x() - box.low.x()) + "\" height=\"" +
                             formats::svg_number(box.high.y() - box.low.y()) + "\" rx=\"2\"";
    return std::string("<clipPath id=\"") + id + "\"><rect " + rect + "/></clipPath>\n<rect " +
           rect + " fill=\"#eef2f4\"/>\n";
}

std::vector<Vec3> points_of(const std::vector<Region3>& regions) {
    std::vector<Vec3> points;
    for (const Region3& region : regions)
        points.insert(points.end(), region.outer.begin(), region.outer.end());
    return points;
}

/// Number of a ply on its own ring, clockwise a little further for each, where it covers neither
/// the arrows nor the numbers that stand there already.
///
/// @param taken  [mm] the middles of those numbers, this one added
std::string ring_number(const templates::LaidPly& ply, std::size_t index,
                        const HullProjection& view, const plane::Box& arrows,
                        std::vector<Vec2>& taken) {
    if (ply.outlines_3d.empty() || ply.outlines_3d.front().outer.empty()) return {};
    const Loop3& loop = ply.outlines_3d.front().outer;
    constexpr std::size_t places = 23;
    constexpr double apart = 6.0;  // [mm] two circles and a little
    std::size_t place = 3 + 2 * index;
    const auto where = [&] { return view(loop[loop.size() * (place % places) / places]); };
    const auto covers = [&](const Vec2& at) {
        return arrows.meets({at, at}) ||
               std::any_of(taken.begin(), taken.end(),
                           [&](const Vec2& other) { return (at - other).norm() < apart; });
    };
    for (std::size_t k = 0; k < places && covers(where()); ++k) ++place;
    const Vec2 at = where();
    taken.push_back(at);
    return "<circle cx=\"" + formats::svg_number(at.x()) + "\" cy=\"" +
           formats::svg_number(at.y()) +
           "\" r=\"2.6\" fill=\"#fff\" stroke=\"#185c86\" stroke-width=\"0.35\"/>" +
           formats::svg_text(at + Vec2(0, 1.25), std::to_string(ply.number),
                             {3.4, "middle", "#12405d", true});
}

/// The ply of cloth that shears the most: its net is the one to look at.
const templates::LaidPly* most_sheared(const Plan& plan) {
    const templates::LaidPly* most = nullptr;
    double shear = -1.0;
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            if (piece.piece.shear_max && *piece.piece.shear_max > shear) {
                shear = *piece.piece.shear_max;
                most = &ply;
            }
    return most;
}

/// Every yarn_spacing a yarn of the cloth that shears the most.
std::string net_on_hull(const Plan& plan, const HullProjection& view) {
    const templates::LaidPly* ply = most_sheared(plan);
    if (ply == nullptr) return {};
    std::string path;
    for (const templates::LaidPiece& piece : ply->pieces)
        for (const auto& yarn : yarns_on_hull(piece.piece, ply->kind, yarn_spacing))
            path += projected_line({yarn[0], yarn[1]}, view);
    // Dark on the light plies, with a light edge that shows on the dark floor.
    const auto stroke = [&path](const std::string& style) {
        return "<path fill=\"none\" " + style + " d=\"" + path + "\"/>\n";
    };
    return "<g id=\"net\">\n" +
           stroke("stroke=\"#fff\" stroke-width=\"0.4\" stroke-opacity=\"0.55\"") +
           stroke("stroke=\"#12303f\" stroke-width=\"0.14\"") + "</g>\n";
}

/// The edge of what is only laid flat. It may go round a tube, so nothing is filled.
std::string flat_on_hull(const Plan& plan, const HullProjection& view) {
    std::string out = "<g id=\"plies\">\n";
    for (const templates::LaidPly& ply : plan.plies)
        for (const Region3& region : ply.outlines_3d)
            out += "<path fill=\"none\" stroke=\"#12608f\" stroke-width=\"0.8\" d=\"" +
                   projected_path(region, view) + "\"/>\n";
    return out + net_on_hull(plan, view) + "</g>\n" + laps_on_hull(plan, view);
}

std::string plies_on_hull(const Plan& plan, const HullProjection& view, const plane::Box& arrows) {
    if (plan.flat) return flat_on_hull(plan, view);
    std::vector<std::size_t> order(plan.plies.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return plan.plies[a].edge_offset_mm > plan.plies[b].edge_offset_mm;
    });
    std::string out = "<g id=\"plies\" fill-rule=\"evenodd\">\n";
    for (const Region3& region : plan.place.footprint)
        out +=
            "<path class=\"footprint\" fill=\"#fff\" fill-opacity=\"0.55\" stroke=\"#5a6b76\" "
            "stroke-width=\"0.3\" "
            "stroke-dasharray=\"1.6 1\" d=\"" +
            projected_path(region, view) + "\"/>\n";
    for (std::size_t k = 0; k < order.size(); ++k) {
        const double share = order.size() > 1 ? double(k) / double(order.size() - 1) : 0.5;
        for (const Region3& region : plan.plies[order[k]].outlines_3d)
            out += "<path fill=\"" + ply_colour(share) +
                   "\" stroke=\"#fff\" stroke-width=\"0.35\" d=\"" + projected_path(region, view) +
                   "\"/>\n";
    }
    for (const Region3& region : plan.place.scarf)
        out +=
            "<path fill=\"none\" stroke=\"#b4470f\" stroke-width=\"0.5\" stroke-dasharray=\"3 "
            "1.2\" d=\"" +
            projected_path(region, view) + "\"/>\n";
    // In a dish known by soundings plies may lie anywhere: nothing hides them.
    const std::string floor =
        plan.volumes
            ? "fill=\"none\" stroke=\"#2a2320\" stroke-width=\"0.7\""
            : "fill=\"#2a2320\" fill-opacity=\"0.82\" stroke=\"#fff\" stroke-width=\"0.4\"";
    out += "<path " + floor + " d=\"" + projected_path(plan.place.damage, view) + "\"/>\n" +
           net_on_hull(plan, view) + "</g>\n" + laps_on_hull(plan, view) +
           "<g id=\"ply-numbers\">\n";
    std::vector<Vec2> taken;
    for (std::size_t k = 0; k < order.size(); ++k)
        out += ring_number(plan.plies[order[k]], k, view, arrows, taken);
    return out + "</g>\n";
}

/// The way of a direction in the picture; nothing where one looks along it.
std::optional<Vec2> way_seen(const Vec3& direction, const HullProjection& view) {
    const Vec2 seen(direction.dot(view.right), -direction.dot(view.up));
    if (seen.norm() < 0.35) return std::nullopt;
    return seen.normalized();
}

/// What the arrows from a corner and their words take up.
plane::Box arrows_box(const Plan& plan, const HullProjection& view, const Vec2& corner) {
    constexpr double reach = 22.0, margin = 6.0;  // [mm] to the end of a word; half a number
    std::vector<Vec2> points{corner};
    for (const Vec3& direction : {plan.job.hull.bow, plan.job.hull.up})
        if (const auto way = way_seen(direction, view)) points.push_back(corner + reach * *way);
    return plane::box_round(points, margin);
}

/// Bow and up as they lie in the picture, drawn in its corner.
std::string direction_arrows(const Plan& plan, const HullProjection& view, const Vec2& at) {
    std::string out =
        "<g id=\"directions\" stroke=\"#1c2730\" stroke-width=\"0.6\" fill=\"none\">\n";
    std::string words;
    const auto arrow = [&](const Vec3& direction, const std::string& word) {
        const auto way = way_seen(direction, view);
        if (!way) return;
        const Vec2 along = *way, tip = at + 14.0 * along, side = turned_left(along);
        out += "<path d=\"" + formats::svg_path({at, tip}, false) +
               formats::svg_path(
                   {tip - 3.0 * along + 1.4 * side, tip, tip - 3.0 * along - 1.4 * side}, false) +
               "\"/>\n";
        words += formats::svg_text(tip + (4.0 + 3.5 * std::abs(along.x())) * along + Vec2(0, 1.3),
                                   word, {3.6, "middle", "#1c2730", true});
    };
    arrow(plan.job.hull.bow, "BOW");
    arrow(plan.job.hull.up, "UP");
    return out + "</g>\n" + words;
}

}  // namespace

std::string hull_close_up(const Plan& plan, const plane::Box& window, double pad) {
    HullProjection view = square_on(plan);
    fit(view, points_of(plan.place.footprint),
        {window.low + Vec2(pad, pad), window.high - Vec2(pad, pad)}, 1.0);
    std::string out = frame(window, "close-up-window") +
                      "<g id=\"close-up\" clip-path=\"url(#close-up-window)\">\n";
    const Vec2 corner(window.low.x() + 30, window.high.y() - std::min(26.0, pad - 4.0));
    out += shaded_hull(plan, view, window) +
           plies_on_hull(plan, view, arrows_box(plan, view, corner)) +
           direction_arrows(plan, view, corner) + "</g>\n";
    const bool metric = plan.job.display_units == Units::metric;
    // 100 mm or 4 in; half of that where it would leave the picture, which would cut it short.
    constexpr double beside = 8.0;  // [mm] on paper
    const double whole = view.scale * (metric ? 100.0 : 101.6);
    const bool halved = whole > window.size().x() - 2.0 * beside;
    const double bar_mm = halved ? 0.5 * whole : whole;
    const Vec2 bar(window.high.x() - beside - bar_mm, window.high.y() - beside);
    out += "<path stroke=\"#1c2730\" stroke-width=\"0.7\" fill=\"none\" d=\"" +
           formats::svg_path(
               {bar + Vec2(0, -2), bar, bar + Vec2(bar_mm, 0), bar + Vec2(bar_mm, -2)}, false) +
           "\"/>\n";
    return out + formats::svg_text(bar + Vec2(bar_mm, -3),
                                   std::string(metric ? (halved ? "50 mm" : "100 mm")
                                                      : (halved ? "2 in" : "4 in")) +
                                       (plan.flat ? " on the model" : " on the hull"),
                                   {3.4, "end"});
}

/// A ring that draws the eye to a small repair; one that is plain to see has none.
std::string ring_round_repair(const Plan& plan, const HullProjection& view) {
    std::vector<Vec2> seen;
    for (const Vec3& p : points_of(plan.place.footprint)) seen.push_back(view(p));
    const plane::Box box = plane::box_round(seen);
    const double half = 0.5 * (box.high - box.low).norm();
    if (half > 10.0) return "";
    const Vec2 at = 0.5 * (box.low + box.high);
    return "<circle cx=\"" + formats::svg_number(at.x()) + "\" cy=\"" +
           formats::svg_number(at.y()) + "\" r=\"" +
           formats::svg_number(std::max(6.0, half + 1.5)) +
           "\" fill=\"none\" stroke=\"#b4470f\" stroke-width=\"0.6\"/>\n";
}

std::string whole_hull(const Plan& plan, const plane::Box& window) {
    HullProjection view = three_quarter(plan);
    const std::vector<Vec3>& all = plan.place.view.far_vertices.empty()
                                       ? plan.place.view.near.position
                                       : plan.place.view.far_vertices;
    fit(view, all, {window.low + Vec2(5, 5), window.high - Vec2(5, 8)}, 1.0);
    std::string out =
        frame(window, "inset-window") + "<g id=\"whole-hull\" clip-path=\"url(#inset-window)\">\n";
    out += shaded_hull(plan, view, window);
    const std::string fill = plan.flat ? "none" : "#b4470f";
    for (const Region3& region : plan.place.footprint)
        out += "<path fill=\"" + fill + "\" stroke=\"#b4470f\" stroke-width=\"0.5\" d=\"" +
               projected_path(region, view) + "\"/>\n";
    return out + ring_round_repair(plan, view) + "</g>\n" +
           formats::svg_text(window.low + Vec2(3, window.high.y() - window.low.y() - 2.5),
                             "Where it sits", {3.4});
}

std::string picture_legend(const Plan& plan, const Vec2& at) {
    std::string out = "<g id=\"legend\">\n";
    const auto row = [&](double y, const std::string& sample, const std::string& words) {
        out += sample + formats::svg_text(at + Vec2(13, y + 1.2), words, {3.4});
    };
    const auto swatch = [&](double y, const std::string& style) {
        return "<rect x=\"" + formats::svg_number(at.x()) + "\" y=\"" +
               formats::svg_number(at.y() + y - 2) + "\" width=\"10\" height=\"4\" " + style +
               "/>\n";
    };
    const auto stroke = [&](double y, const std::string& style) {
        return "<path fill=\"none\" d=\"" +
               formats::svg_path({at + Vec2(0, y), at + Vec2(10, y)}, false) + "\" " + style +
               "/>\n";
    };
    double y = 0.0;
    if (plan.flat) {
        row(0, stroke(0, "stroke=\"#12608f\" stroke-width=\"0.8\""), "edge of what is laid flat");
    } else {
        if (plan.volumes)
            row(0, stroke(0, "stroke=\"#2a2320\" stroke-width=\"0.7\""), "damage outline");
        else
            row(0, swatch(0, "fill=\"#2a2320\" fill-opacity=\"0.82\""),
                "damage, ground to full depth");
        row(7, stroke(7, "stroke=\"#b4470f\" stroke-width=\"0.7\" stroke-dasharray=\"3 1.2\""),
            "edge of the scarf");
        row(14, swatch(14, "fill=\"#78abc7\""), "plies, the smaller the darker");
        row(21, stroke(21, "stroke=\"#5a6b76\" stroke-width=\"0.5\" stroke-dasharray=\"1.6 1\""),
            "all that the repair touches");
        y = 21.0;
    }
    if (const templates::LaidPly* ply = most_sheared(plan)) {
        y += 7.0;
        row(y, stroke(y, "stroke=\"#12303f\" stroke-width=\"0.2\""),
            (plan.flat ? "yarns" : "yarns of ply " + std::to_string(ply->number)) + ", every " +
                length_text(yarn_spacing, 0, plan.job.display_units));
    }
    bool seams = false, laps = false, cuts = false;
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces) {
            seams = seams || !piece.piece.seams.empty();
            laps = laps || (!piece.piece.seams.empty() && lap_of(ply, plan.job) > 0.0);
            cuts = cuts || !piece.piece.cuts.empty();
        }
    const std::string numbered = plan.flat ? "" : ", its ply's number";
    if (seams) {
        y += 7.0;
        row(y,
            (laps ? swatch(y, "fill=\"#e0a100\" fill-opacity=\"0.45\"") : "") +
                stroke(y, "stroke=\"#7a4b00\" stroke-width=\"0.4\""),
            (laps ? "seam with its lap" : "seam, edge to edge") + numbered);
    }
    if (cuts) {
        y += 7.0;
        row(y, stroke(y, "stroke=\"#a3250b\" stroke-width=\"0.5\""), "relief cut" + numbered);
    }
    return out + "</g>\n";
}

std::string place_picture(const Plan& plan) {
    constexpr double width = 180.0, height = 108.0;
    return formats::svg_begin({width, height}) +
           hull_close_up(plan, {Vec2(0, 0), Vec2(106, height)}, 14.0) +
           whole_hull(plan, {Vec2(110, 0), Vec2(width, 58)}) + picture_legend(plan, Vec2(110, 66)) +
           "</svg>\n";
}

}  // namespace tearline::job_sheet

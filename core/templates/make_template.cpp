#include "core/templates/make_template.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/pieces/chart_map.h"
#include "core/plane/nearest_on_line.h"
#include "core/plane/offset_region.h"
#include "core/plane/room.h"
#include "core/templates/piece_outline.h"
#include "core/templates/seam_laps.h"
#include "core/templates/tolerances.h"

namespace tearline::templates {

namespace {

/// Where the arrows of a piece start from, and how much room there is about that place.
struct Origin {
    Vec2 at;
    double room = 0.0;      ///< [mm] to the nearest edge
    bool is_datum = false;  ///< the middle of the damage lies on the piece
};

Origin arrow_origin(const pieces::Piece& piece, const Region2& net,
                    const damage::FlatFrame& frame) {
    const auto datum = pieces::ChartMap(piece).flat_at(frame.chart);
    Origin origin;
    origin.is_datum = datum.has_value();
    origin.at = datum ? *datum : plane::roomiest_point(net);
    origin.room = plane::distance_to_edge(net, origin.at);
    return origin;
}

void add_arrow(std::vector<Mark>& marks, Arrow::To to, const std::string& word,
               const std::optional<Vec2>& direction, const Origin& origin) {
    if (!direction) return;
    const double gap = std::min(15.0, 0.2 * origin.room);
    const double length = std::clamp(0.45 * origin.room, 5.0, 60.0);
    marks.emplace_back(
        Arrow{to, origin.at + gap * *direction, origin.at + (gap + length) * *direction, word});
}

/// Up along the hull may be the way of the bow, as on a flaring stem: one word for both arrows.
void name_once(std::vector<Mark>& marks) {
    Arrow *up = nullptr, *ahead = nullptr;
    for (Mark& mark : marks)
        if (auto* arrow = std::get_if<Arrow>(&mark))
            (arrow->to == Arrow::To::up ? up : ahead) = arrow;
    if (!up || !ahead || !((ahead->tip - up->tip).norm() < tolerance::same_arrow)) return;
    ahead->text += " AND UP";
    up->text.clear();
}

void add_ticks(std::vector<Mark>& marks, const pieces::Piece& piece, const damage::FlatFrame& frame,
               const Directions& directions, double reach) {
    const auto loops = surface::boundary_loops(piece.lay);
    const std::array<Vec3, 4> towards = {frame.x, frame.y, -frame.x, -frame.y};
    for (std::size_t i = 0; i < 4; ++i) {
        const Vec3& across = i % 2 == 0 ? frame.y : frame.x;
        const auto crossing = edge_crossing(piece, loops, frame.middle, across, towards[i]);
        if (!crossing) continue;
        const double inward = 8.0;
        marks.emplace_back(Tick{crossing->at - inward * crossing->outward,
                                crossing->at + reach * crossing->outward, directions.ends[i]});
    }
}

/// Where cloth is pressed down before it is smoothed outwards along the yarns.
void add_press_first(std::vector<Mark>& marks, const pieces::Piece& piece) {
    if (!piece.press_first) return;
    const auto at = pieces::ChartMap(piece).flat_at(*piece.press_first);
    if (!at) return;
    constexpr double radius = 6.0;  // [mm]
    marks.emplace_back(PressFirst{*at, radius});
}

/// How the cloth's roll lies; mat has no grain to show.
void add_fibre(std::vector<Mark>& marks, const TemplateRequest& request, double warp_degrees,
               const Origin& origin) {
    if (request.fabric.kind == job::FabricKind::mat) return;
    // Beside the up arrow, where the bow arrow does not point to.
    const auto& ahead =
        request.directions.bow ? request.directions.bow : request.directions.starboard;
    const double aside = ahead && ahead->x() < 0.0 ? 1.0 : -1.0;
    const Vec2 centre =
        origin.at + Vec2(aside * std::max(0.45 * origin.room, 22.0), 0.4 * origin.room);
    const double angle = warp_degrees * std::numbers::pi / 180.0;
    const Vec2 half =
        std::clamp(0.3 * origin.room, 4.0, 45.0) * Vec2(std::cos(angle), std::sin(angle));
    marks.emplace_back(Fibre{centre - half, centre + half});
}

void add_next_edge(std::vector<Mark>& marks, const TemplateRequest& request) {
    const pieces::ChartMap map(request.piece);
    for (const Loop2& loop : request.next_edge)
        for (const auto& run : map.runs(loop)) marks.emplace_back(NextEdge{run.points, run.closed});
}

/// The region within the margin of the net: one, since the net is connected.
Region2 widened(const Region2& net, double margin) {
    if (!(margin > 0.0)) return net;
    std::vector<Region2> wide = plane::offset_region(net, margin);
    const auto largest =
        std::max_element(wide.begin(), wide.end(),
                         [](const Region2& a, const Region2& b) { return area(a) < area(b); });
    return largest == wide.end() ? net : *largest;
}

/// The fibre axis as it came out at the middle: what was asked for, turned as the cloth was.
double axis_of(const TemplateRequest& request) {
    if (!request.piece.warp_degrees) return request.axis_degrees;
    const double found = *request.piece.warp_degrees - request.piece.axis_from_degrees;
    return request.axis_degrees + std::remainder(found - request.axis_degrees, 360.0);
}

}  // namespace

std::vector<Mark> datum_marks(const pieces::Piece& piece, const damage::FlatFrame& frame,
                              const Directions& directions, double reach) {
    const Origin origin = arrow_origin(piece, net_region(piece), frame);
    std::vector<Mark> marks;
    if (origin.is_datum) {
        const double arm = std::clamp(0.15 * origin.room, 2.0, 10.0);
        marks.emplace_back(Datum{origin.at, arm});
    }
    // The piece's own way to the bow, where its fibre axis is counted from.
    const double from = piece.axis_from_degrees * std::numbers::pi / 180.0;
    const Vec2 ahead(std::cos(from), std::sin(from));
    if (directions.bow)
        add_arrow(marks, Arrow::To::bow, "BOW", ahead, origin);
    else
        add_arrow(marks, Arrow::To::starboard, "STARBOARD", ahead, origin);
    add_arrow(marks, Arrow::To::up, "UP", directions.up, origin);
    name_once(marks);
    add_ticks(marks, piece, frame, directions, reach);
    return marks;
}

Template make_template(const TemplateRequest& request) {
    Template made;
    made.net = net_region(request.piece);
    const bool mat = request.fabric.kind == job::FabricKind::mat;
    if (mat)
        made.tear = widened(request.round_fittings ? Region2{made.net.outer, {}} : made.net,
                            request.fabric.tear_margin);
    else
        made.cut = with_laps(request.piece, made.net, 0.5 * request.fabric.lap);
    if (made.tear && request.round_fittings) made.tear->holes = made.net.holes;
    made.area_mm2 = area(made.parting_region());
    made.warp_degrees =
        request.piece.warp_degrees.value_or(request.axis_degrees + request.piece.axis_from_degrees);
    made.axis_degrees = axis_of(request);
    made.relief_cuts = relief_cuts(request.piece, mat ? request.fabric.tear_margin : 0.0);
    const double reach = mat ? std::min(8.0, request.fabric.tear_margin) : 0.0;
    made.marks = datum_marks(request.piece, request.frame, request.directions, reach);
    add_press_first(made.marks, request.piece);
    add_fibre(made.marks, request, made.warp_degrees,
              arrow_origin(request.piece, made.net, request.frame));
    add_next_edge(made.marks, request);
    return made;
}

}  // namespace tearline::templates

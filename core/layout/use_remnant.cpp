#include "core/layout/use_remnant.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <set>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/layout/nest.h"
#include "core/plane/boolean.h"
#include "core/plane/box.h"
#include "core/plane/turned.h"

namespace tearline::layout {

namespace {

constexpr double radians_a_degree = std::numbers::pi / 180.0;
constexpr double nothing = 1.0;  ///< [mm2] less is rounding

/// From a remnant's own coordinates to a strip: its roll's length along x, its box from (0, 0) on.
struct ToStrip {
    double turn = 0.0;  ///< [deg] of the roll's length in the remnant's coordinates
    Vec2 low{0, 0};     ///< [mm] of its box once turned
    Vec2 size{0, 0};    ///< [mm]

    explicit ToStrip(const Loop2& outline, double roll_degrees) : turn(roll_degrees) {
        const plane::Box box = plane::box_round(points(outline));
        low = box.low;
        size = box.high - box.low;
    }
    [[nodiscard]] Vec2 point(const Vec2& p) const {
        return plane::turned(p, -turn * radians_a_degree) - low;
    }
    [[nodiscard]] Loop2 points(const Loop2& loop) const {
        Loop2 out;
        for (const Vec2& p : loop) out.push_back(point(p));
        return out;
    }
    [[nodiscard]] Place back(const Place& place) const {
        return {plane::turned(Vec2(place.move + low), turn * radians_a_degree), place.turn + turn};
    }
    [[nodiscard]] Place there(const Place& place) const {
        return {point(place.move), place.turn - turn};
    }
};

Loop2 upright(const std::array<double, 4>& box) {
    const auto [x0, x1] = std::minmax(box[0], box[2]);
    const auto [y0, y1] = std::minmax(box[1], box[3]);
    return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

/// A loop seen from the other face of the cloth.
Loop2 turned_over(const Loop2& loop) {
    Loop2 out;
    for (const Vec2& p : loop) out.emplace_back(-p.x(), p.y());
    std::reverse(out.begin(), out.end());
    return out;
}

Loop2 placed(const Loop2& loop, const Place& place) {
    Loop2 out;
    for (const Vec2& p : loop)
        out.push_back(plane::turned(p, place.turn * radians_a_degree) + place.move);
    return out;
}

double area_of(const std::vector<Loop2>& loops) {
    double sum = 0.0;
    for (const Loop2& loop : loops) sum += signed_area(loop);
    return sum;
}

const Loop2& edge_of(const CutPiece& piece) {
    return piece.outline->parting_region().outer;
}

tl::unexpected<Error> refused(const job::Remnant& remnant, const std::string& what) {
    return tl::unexpected(Error{.key = "remnant.locked",
                                .what = "of \"" + remnant.name + "\": " + what,
                                .line = remnant.line});
}

/// The turns that a locked piece may have: of cloth along the roll either way, to a degree.
bool may_turn(const CutPiece& piece, const job::Remnant& remnant, double turn) {
    if (piece.kind == job::FabricKind::mat) return true;
    const double off = turn - remnant.roll_direction.value_or(0.0) + piece.outline->warp_degrees;
    return std::abs(std::remainder(off, 180.0)) <= 1.0;
}

/// Pieces with the places that they are locked in.
struct Locked {
    std::vector<std::size_t> pieces;  ///< of the list
    std::vector<Place> places;        ///< in the remnant's coordinates
};

Result<Locked> find_locked(const job::Remnant& remnant, const std::vector<CutPiece>& pieces) {
    Locked out;
    for (const job::LockedPiece& lock : remnant.locked) {
        std::optional<std::size_t> found;
        for (std::size_t i = 0; i < pieces.size() && !found; ++i)
            if (pieces[i].id == lock.piece &&
                std::find(out.pieces.begin(), out.pieces.end(), i) == out.pieces.end())
                found = i;
        if (!found)
            return refused(remnant, "there is no piece \"" + lock.piece + "\" of " +
                                        remnant.fabric +
                                        " left to lock: pieces are named as in plan.json's rolls, "
                                        "by repair and piece, as \"R1-2A\"");
        if (!may_turn(pieces[*found], remnant, lock.turn))
            return refused(remnant, "\"" + lock.piece + "\" turned by " + shortest(lock.turn) +
                                        " degrees: its fibres would not lie along the roll");
        out.pieces.push_back(*found);
        out.places.push_back({lock.at, lock.turn});
    }
    return out;
}

/// Locked pieces lie on the remnant, off what is kept off, and clear of one another.
Result<void> check_locked(const job::Remnant& remnant, const CutRemnant& cut, const Locked& locked,
                          const std::vector<CutPiece>& pieces) {
    std::vector<Loop2> taken;
    for (std::size_t k = 0; k < locked.pieces.size(); ++k) {
        const std::string& id = pieces[locked.pieces[k]].id;
        const Loop2 lies = placed(edge_of(pieces[locked.pieces[k]]), locked.places[k]);
        const double outside =
            area_of(plane::combined(plane::Boolean::subtract, {lies}, {cut.outline}));
        if (outside > nothing)
            return refused(remnant, "\"" + id + "\" does not lie on it: " +
                                        fixed(outside / 100.0, 1) + " cm2 hang over");
        if (area_of(plane::combined(plane::Boolean::intersect, {lies}, cut.keep_off)) > nothing)
            return refused(remnant, "\"" + id + "\" lies where keep_off says nothing may");
        if (!taken.empty() &&
            area_of(plane::combined(plane::Boolean::intersect, {lies}, taken)) > nothing)
            return refused(remnant, "\"" + id + "\" lies on another locked piece");
        taken.push_back(lies);
    }
    return {};
}

/// What of the box round the remnant is no cloth, and what is kept off.
std::vector<Loop2> blocked(const CutRemnant& cut, const ToStrip& to) {
    const Loop2 outline = to.points(cut.outline);
    // With a rim outside the box, so that it is nowhere of no width where the remnant touches the
    // box; in two halves, since the whole would be a ring.
    constexpr double rim = 10.0;  // [mm]
    const double middle = 0.5 * to.size.x(), top = to.size.y() + rim;
    std::vector<Loop2> out;
    for (const auto& [left, right] :
         {std::pair{-rim, middle}, std::pair{middle, to.size.x() + rim}}) {
        const Loop2 box{{left, -rim}, {right, -rim}, {right, top}, {left, top}};
        for (const Loop2& loop : plane::combined(plane::Boolean::subtract, {box}, {outline}))
            if (signed_area(loop) > nothing) out.push_back(loop);
    }
    for (const Loop2& loop : cut.keep_off) out.push_back(to.points(loop));
    return out;
}

}  // namespace

Result<CutRemnant> use_remnant(const job::Remnant& remnant, double gap,
                               std::vector<CutPiece>& pieces) {
    CutRemnant cut{remnant.name, remnant.fabric, remnant.outline, {}, 0.0, {}};
    if (signed_area(cut.outline) < 0.0) std::reverse(cut.outline.begin(), cut.outline.end());
    for (const auto& box : remnant.keep_off) cut.keep_off.push_back(upright(box));
    double roll_degrees = remnant.roll_direction.value_or(0.0);
    if (!remnant.face_up.value_or(true)) {
        cut.outline = turned_over(cut.outline);
        for (Loop2& loop : cut.keep_off) loop = turned_over(loop);
        roll_degrees = 180.0 - roll_degrees;
    }
    const auto locked = find_locked(remnant, pieces);
    if (!locked) return tl::unexpected(locked.error());
    if (const auto good = check_locked(remnant, cut, *locked, pieces); !good)
        return tl::unexpected(good.error());

    const ToStrip to(cut.outline, roll_degrees);
    std::vector<Shape> shapes;
    std::vector<std::size_t> of;  // of `pieces`, by shape
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (pieces[i].fabric != remnant.fabric) continue;
        const auto lock = std::find(locked->pieces.begin(), locked->pieces.end(), i);
        Shape shape{edge_of(pieces[i]), allowed_turns(pieces[i], to.size.y())};
        if (lock != locked->pieces.end())
            shape.locked =
                to.there(locked->places[static_cast<std::size_t>(lock - locked->pieces.begin())]);
        else if (signed_area(shape.outline) > signed_area(cut.outline))
            continue;
        shapes.push_back(std::move(shape));
        of.push_back(i);
    }
    NestOptions options;
    options.gap = gap;
    options.most_length = to.size.x();
    options.blocked = blocked(cut, to);
    const Nest found = nest(shapes, to.size.y(), options);
    double used = 0.0;
    std::set<std::size_t> taken;
    for (std::size_t k = 0; k < shapes.size(); ++k) {
        if (!found.places[k]) continue;
        const Place place = to.back(*found.places[k]);
        const double turn = std::fmod(std::fmod(place.turn, 360.0) + 360.0, 360.0);
        cut.placed.push_back({pieces[of[k]].id, place.move.x(), place.move.y(), turn});
        used += pieces[of[k]].outline->area_mm2;
        taken.insert(of[k]);
    }
    cut.used_fraction = used / signed_area(cut.outline);
    std::vector<CutPiece> left;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        if (taken.count(i) == 0) left.push_back(pieces[i]);
    pieces = std::move(left);
    return cut;
}

}  // namespace tearline::layout

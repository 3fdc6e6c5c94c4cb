#include "core/scan/fit_creased.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <memory>
#include <numbers>
#include <string>
#include <utility>

#include "core/base/numbers.h"
#include "core/plane/nearest_on_line.h"
#include "core/plane/offset_region.h"
#include "core/scan/robust.h"
#include "core/scan/scan_domain.h"
#include "core/scan/surface_about.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// [-] of the guard, while a chine is known by picked places alone.
constexpr double picked_guard = 1.5;

std::string crease_table(const job::HullScan& options, const job::ScanCrease& crease) {
    for (std::size_t k = 0; k < options.creases.size(); ++k)
        if (options.creases[k].line == crease.line)
            return "hull.scan.crease[" + std::to_string(k + 1) + "]";
    return "hull.scan.crease";
}

/// The side of chines that a point clearly lies on.
std::map<unsigned, std::vector<Vec3>> parted(const std::vector<Vec3>& points, const PlaceView& view,
                                             const std::vector<CreaseLine>& creases,
                                             const std::vector<double>& guards) {
    std::map<unsigned, std::vector<Vec3>> sides;
    for (const Vec3& point : points) {
        const Vec2 flat = view.flat(point);
        bool clear = true;
        for (std::size_t k = 0; k < creases.size(); ++k)
            clear = clear && std::abs(creases[k].left_of(flat)) > guards[k];
        if (clear) sides[side_of(creases, flat)].push_back(point);
    }
    return sides;
}

/// Where a side's surface is wanted about: the place's own middle, or the place of a chine nearest
/// to it.
Vec3 middle_on(unsigned side, const PlaceView& view, const std::vector<CreaseLine>& creases,
               const std::vector<Vec3>& points, const Vec3& middle) {
    if (side_of(creases, view.flat(middle)) == side) return middle;
    return *std::min_element(points.begin(), points.end(), [&](const Vec3& a, const Vec3& b) {
        return (a - middle).squaredNorm() < (b - middle).squaredNorm();
    });
}

/// A surface on each side that points tell of.
///
/// @param place  whether bends are followed too: it takes several fits, and to find where the
///               sides cross none
Result<std::vector<CreasedSurface::Piece>> fitted_sides(
    const std::map<unsigned, std::vector<Vec3>>& sides, const PlaceView& view,
    const std::vector<CreaseLine>& creases, const job::HullScan& options, const ScanPlace& place) {
    constexpr std::size_t fewest = 100;
    std::vector<CreasedSurface::Piece> pieces;
    for (const auto& [side, points] : sides) {
        if (points.size() < fewest) continue;
        ScanPlace here = place;
        here.middle = middle_on(side, view, creases, points, place.middle);
        FairRequest request = request_about(points, options, here);
        if (request.outward.dot(view.normal) < 0.0) request.outward = -request.outward;
        auto surface = fair_surface(points, request);
        if (!surface) return tl::unexpected(surface.error());
        pieces.push_back({side, std::make_shared<const FairSurface>(std::move(*surface))});
    }
    return pieces;
}

Error no_chine(const job::HullScan& options, const job::ScanCrease& crease, const Vec3& near,
               const std::string& why) {
    return {.kind = ErrorKind::bad_input,
            .key = crease_table(options, crease) + ".points",
            .what = why + " near [" + fixed(near.x(), 1) + ", " + fixed(near.y(), 1) + ", " +
                    fixed(near.z(), 1) +
                    "] mm: mark places along the chine itself, or leave the crease out where the "
                    "hull is smooth",
            .place = near};
}

/// Nothing of the scan lies beside the creases: mostly by a radius that is none of the hull's.
Error no_side(const job::HullScan& options, const std::vector<job::ScanCrease>& creases) {
    const auto& widest = *std::max_element(
        creases.begin(), creases.end(), [](const job::ScanCrease& a, const job::ScanCrease& b) {
            return a.radius.value_or(0.0) < b.radius.value_or(0.0);
        });
    if (!widest.radius)
        return no_chine(options, widest, widest.points.front(),
                        "the scan shows hardly any hull on either side of it");
    return {.kind = ErrorKind::bad_input,
            .key = crease_table(options, widest) + ".radius",
            .what = "value " + fixed(*widest.radius, 1) +
                    " mm: beside so wide a bend the scan shows hardly any hull; measure the "
                    "radius of the bend, or scan farther to both sides of it",
            .place = widest.points.front()};
}

/// How far each crease turns where the damage is, on average [rad].
std::vector<double> turns_of(const CreasedSurface& surface, double half) {
    std::vector<double> turns;
    for (std::size_t k = 0; k < surface.creases().size(); ++k) {
        const double middle = surface.creases()[k].along(Vec2::Zero());
        constexpr int parts = 20;
        double sum = 0.0;
        for (int i = 0; i <= parts; ++i)
            sum += surface.crease_point(k, middle + half * (2.0 * i / parts - 1.0)).turn;
        turns.push_back(sum / (parts + 1));
    }
    return turns;
}

/// A crease that is none: its sides hardly turn where the repair is.
std::optional<Error> flat_crease(const CreasedSurface& surface, const std::vector<double>& turns,
                                 const job::HullScan& options,
                                 const std::vector<job::ScanCrease>& creases) {
    for (std::size_t k = 0; k < creases.size(); ++k) {
        const double degrees = turns[k] * 180.0 / std::numbers::pi;
        if (degrees >= tolerance::least_chine) continue;
        const Vec3 near = surface.crease_point(k, surface.creases()[k].along(Vec2::Zero())).at;
        return no_chine(options, creases[k], near,
                        "the hull turns " + fixed(degrees, 0) + " degrees there, no chine");
    }
    return std::nullopt;
}

/// How far either side of a crease's line is not of its sides.
double guard_at(const job::ScanCrease& crease, double turn, double guard) {
    return guard + crease.radius.value_or(0.0) * std::tan(0.5 * turn);
}

/// Puts bends where creases have a radius.
std::optional<Error> rolled(CreasedSurface& surface, const job::HullScan& options,
                            const std::vector<job::ScanCrease>& creases, double reach) {
    for (std::size_t k = 0; k < creases.size(); ++k) {
        if (!creases[k].radius) continue;
        if (const auto lost = surface.roll(k, *creases[k].radius, reach))
            return no_chine(
                options, creases[k], lost->near,
                "no ball of " + fixed(*creases[k].radius, 1) + " mm touches both sides of it");
    }
    return std::nullopt;
}

/// A bend that the points on it contradict.
std::optional<Error> wrong_radius(const CreasedSurface& surface, const std::vector<Vec3>& points,
                                  const ScanPlace& place, const job::HullScan& options,
                                  const std::vector<job::ScanCrease>& creases) {
    const PlaceView& view = surface.view();
    constexpr double middle_part = 1.0 / 6.0;  // [-] to either side of the middle
    const double hole = place.bridged ? place.half_width() + tolerance::scan_guard : 0.0;
    for (std::size_t k = 0; k < creases.size(); ++k) {
        if (!creases[k].radius) continue;
        const std::size_t face = surface.pieces().size() + k;
        std::vector<double> off;
        for (const Vec3& point : points) {
            const Vec2 flat = view.flat(point);
            if (flat.norm() < hole || flat.norm() > place.half_side()) continue;
            if (surface.face_at(flat) != face) continue;
            // A wrong radius shows in the middle of the bend; its edges lie on the sides anyhow.
            const Vec2 at = surface.parameters(face, flat);
            if (std::abs(at.y() / surface.width(k) - 0.5) > middle_part) continue;
            const SurfaceJet jet = surface.jet(face, at);
            off.push_back((point - jet.position).dot(jet.du.cross(jet.dv).normalized()));
        }
        constexpr std::size_t fewest = 10;
        if (off.size() < fewest) continue;
        double noise = 0.0;
        for (const CreasedSurface::Piece& piece : surface.pieces())
            noise = std::max(noise, piece.surface->noise.spread);
        const double middle = std::abs(median(off));
        if (middle > std::max(tolerance::bend_off, noise))
            return Error{.kind = ErrorKind::bad_input,
                         .key = crease_table(options, creases[k]) + ".radius",
                         .what = shortest(*creases[k].radius) +
                                 " mm: half of the scan's points on that bend lie over " +
                                 fixed(middle, 1) +
                                 " mm off it: measure the radius with a template or a coin on the "
                                 "sound part of the bend",
                         .place = creases[k].points.front()};
    }
    return std::nullopt;
}

bool cross(const CreaseLine& a, const CreaseLine& b, double reach) {
    constexpr int parts = 200;
    const double middle = a.along(Vec2::Zero());
    int lefts = 0;
    for (int i = 0; i <= parts; ++i)
        lefts += b.left_of(a.at(middle + reach * (2.0 * i / parts - 1.0))) > 0.0;
    return lefts != 0 && lefts != parts + 1;
}

/// Points outside the outline in sectors of five degrees: how much of the way round they cover.
double cover_of(const std::vector<Vec2>& points, const Loop2& outline, double guard, double band) {
    constexpr int sectors = 72;
    double half = 0.0;
    for (const Vec2& p : outline) half = std::max(half, p.norm());
    std::array<bool, sectors> seen{};
    for (const Vec2& p : points) {
        if (p.norm() > half + guard + band) continue;
        if (!outline.empty() && contains(outline, p)) continue;
        const double turn = std::atan2(p.y(), p.x()) / (2.0 * std::numbers::pi) + 0.5;
        seen[static_cast<std::size_t>(std::min(sectors - 1, static_cast<int>(turn * sectors)))] =
            true;
    }
    return 360.0 / sectors * static_cast<double>(std::count(seen.begin(), seen.end(), true));
}

/// Whether a point lies on the surface or near it: others are of something else.
bool on_skin(const CreasedSurface& surface, const Vec3& point, const Vec2& flat, double guard) {
    const std::size_t face = surface.face_at(flat);
    if (face >= surface.pieces().size()) return true;  // in a bend, off both its sides
    const FairSurface& side = *surface.pieces()[face].surface;
    return std::abs(side.off(point)) < std::max(guard, tukey_reach * side.noise.spread);
}

/// What the points cover, seen in the view.
void measure_cover(const std::vector<Vec3>& points, const ScanPlace& place, double spacing,
                   CreasedFit& fit) {
    const PlaceView& view = fit.surface.view();
    std::vector<FieldPoint> seen;
    std::vector<Vec2> flats;
    for (const Vec3& point : points) {
        const Vec2 flat = view.flat(point);
        if ((point - place.middle).norm() > place.half_side()) continue;
        if (!on_skin(fit.surface, point, flat, guard_of(spacing))) continue;
        seen.push_back({flat, 0.0, 1.0});
        flats.push_back(flat);
    }
    if (place.end)
        for (const Vec3& p : place.end->ribbon(spacing)) seen.push_back({view.flat(p)});
    Loop2 outline;
    if (place.bridged)
        for (const Vec3& p : place.outline) outline.push_back(view.flat(p));
    const double half = place.half_width(), guard = guard_of(spacing);
    fit.cover_degrees = cover_of(flats, outline, guard,
                                 std::max(tolerance::scan_band, tolerance::scan_band_share * half));
    Region2 bridged;
    if (!outline.empty()) {
        if (signed_area(outline) < 0.0) std::reverse(outline.begin(), outline.end());
        const auto grown = plane::offset_region({outline, {}}, guard);
        if (!grown.empty()) bridged = grown.front();
    }
    fit.domain = domain_of(seen, bridged, Vec2::Zero(), place.half_side(), spacing);
    fit.holes = data_holes(seen, bridged, fit.domain);
}

}  // namespace

double guard_of(double spacing) {
    return std::max(tolerance::scan_guard, 2.0 * spacing);
}

std::vector<job::ScanCrease> creases_near(const job::HullScan& options, const ScanPlace& place) {
    std::vector<job::ScanCrease> near;
    const double reach = place.half_side();
    for (const job::ScanCrease& crease : options.creases)
        for (std::size_t i = 0; i + 1 < crease.points.size(); ++i) {
            const Vec3 a = crease.points[i], way = crease.points[i + 1] - a;
            const double share =
                std::clamp((place.middle - a).dot(way) / way.squaredNorm(), 0.0, 1.0);
            if ((a + share * way - place.middle).norm() > reach) continue;
            near.push_back(crease);
            break;
        }
    return near;
}

Result<CreasedSides> creased_sides(const std::vector<Vec3>& near, const job::HullScan& options,
                                   const ScanPlace& place,
                                   const std::vector<job::ScanCrease>& creases) {
    const FairRequest whole = request_about(near, options, place);
    const PlaceView view =
        PlaceView::along(place.middle, place.faces.isZero() ? whole.outward : place.faces);
    std::vector<CreaseLine> lines;
    for (const job::ScanCrease& crease : creases) {
        std::vector<Vec2> seen;
        for (const Vec3& point : crease.points) seen.push_back(view.flat(point));
        lines.emplace_back(seen);
        if (!lines.back().goes_one_way())
            return tl::unexpected(no_chine(options, crease, crease.points.front(),
                                           "the places do not follow one another along a line"));
    }
    for (std::size_t a = 0; a < lines.size(); ++a)
        for (std::size_t b = a + 1; b < lines.size(); ++b)
            if (cross(lines[a], lines[b], place.half_side()))
                return tl::unexpected(Error{
                    .kind = ErrorKind::bad_input,
                    .key = crease_table(options, creases[b]) + ".points",
                    .what = "crosses or meets another chine within what the repair needs of the "
                            "hull, and no side of both can be told: leave out the one that does "
                            "not run through the damage, or make the repair smaller (scarf.ratio, "
                            "cover_step) so that it stays clear of where they meet",
                    .place = creases[b].points.front()});

    // By the picked places first, then by where the sides so found cross.
    const double reach = place.half_side(), guard = guard_of(whole.spacing);
    std::vector<double> guards, turns(creases.size(), 0.5 * std::numbers::pi);
    std::optional<CreasedSurface> surface;
    for (const bool last : {false, true}) {
        ScanPlace here = place;
        here.follow_bends = place.follow_bends && last;
        guards.clear();
        for (std::size_t k = 0; k < creases.size(); ++k)
            guards.push_back(guard_at(creases[k], turns[k], last ? guard : picked_guard * guard));
        auto pieces = fitted_sides(parted(near, view, lines, guards), view, lines, options, here);
        if (!pieces) return tl::unexpected(pieces.error());
        if (pieces->empty()) return tl::unexpected(no_side(options, creases));
        surface.emplace(view, lines, std::move(*pieces));
        if (const auto lost = surface->follow_crossings(reach))
            return tl::unexpected(no_chine(options, creases[lost->crease], lost->near,
                                           "the two sides of it do not meet"));
        lines = surface->creases();
        turns = turns_of(*surface, place.half_width());
    }
    return CreasedSides{std::move(*surface), std::move(turns)};
}

Result<CreasedFit> fit_creased(const Scan& scan, const job::HullScan& options,
                               const ScanPlace& place,
                               const std::vector<job::ScanCrease>& creases) {
    const auto near = points_about(scan, place);
    if (!near) return tl::unexpected(near.error());
    auto sides = creased_sides(*near, options, place, creases);
    if (!sides) return tl::unexpected(sides.error());
    CreasedSurface& surface = sides->surface;
    if (auto none = flat_crease(surface, sides->turns, options, creases))
        return tl::unexpected(std::move(*none));
    if (auto none = rolled(surface, options, creases, place.half_side()))
        return tl::unexpected(std::move(*none));
    if (auto wrong = wrong_radius(surface, *near, place, options, creases))
        return tl::unexpected(std::move(*wrong));
    CreasedFit fit{std::move(surface), {}, {}, 0.0};
    measure_cover(*near, place, spacing_of(*near), fit);
    return fit;
}

}  // namespace tearline::scan

#include "core/scan/scanned_hull.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <functional>
#include <memory>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/hull/one_surface.h"
#include "core/scan/chine_lines.h"
#include "core/scan/creased_face.h"
#include "core/scan/fair_face.h"
#include "core/scan/find_chines.h"
#include "core/scan/fit_creased.h"
#include "core/scan/outward.h"
#include "core/scan/surface_about.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// A fair surface in one piece.
class Smooth final : public hull::ScannedSurface {
public:
    explicit Smooth(std::shared_ptr<const FairSurface> surface) : surface_(std::move(surface)) {}
    [[nodiscard]] Vec3 foot(const Vec3& point) const override {
        return surface_->point(surface_->base.foot(point).uv);
    }
    [[nodiscard]] Vec3 normal(const Vec3& place) const override {
        const SurfaceJet jet = surface_->jet(surface_->base.foot(place).uv);
        return jet.du.cross(jet.dv).normalized();
    }
    [[nodiscard]] double height_error(const Vec3& place) const override {
        return surface_->height_error(surface_->base.foot(place).uv);
    }

private:
    std::shared_ptr<const FairSurface> surface_;
};

/// Fair surfaces that meet in chines.
class Creased final : public hull::ScannedSurface {
public:
    explicit Creased(std::shared_ptr<const CreasedSurface> surface) : surface_(std::move(surface)) {
        for (const CreasedSurface::Piece& piece : surface_->pieces())
            sides_.emplace_back(piece.surface);
    }
    [[nodiscard]] Vec3 foot(const Vec3& point) const override {
        const Vec2 flat = surface_->view().flat(point);
        const std::size_t face = surface_->face_at(flat);
        if (face < sides_.size()) return sides_[face].foot(point);
        return surface_->jet(face, surface_->parameters(face, flat)).position;
    }
    [[nodiscard]] Vec3 normal(const Vec3& place) const override {
        return side(place).normal(place);
    }
    [[nodiscard]] double height_error(const Vec3& place) const override {
        return side(place).height_error(place);
    }

private:
    [[nodiscard]] const Smooth& side(const Vec3& point) const {
        return sides_[surface_->piece_at(surface_->view().flat(point))];
    }
    std::shared_ptr<const CreasedSurface> surface_;
    std::vector<Smooth> sides_;
};

/// The tightest bend on the rim of what is bridged, where it is tighter than the surface follows
/// into it.
///
/// @param believed  whether a place lies on this surface's own side
template <class Believed>
std::optional<hull::Scanned::Bend> bend_entering(const FairSurface& surface, Believed believed) {
    constexpr double followed = 0.5;  // of the fairness: radii that still show through it
    std::optional<hull::Scanned::Bend> tightest;
    for (const Vec2& uv : surface.bridged.outer) {
        const SurfaceJet jet = surface.jet(uv);
        const double bend = tightest_curvature(jet);
        if (!(bend * followed * surface.fairness > 1.0) || !believed(jet.position)) continue;
        if (!tightest || 1.0 / bend < tightest->radius)
            tightest = hull::Scanned::Bend{1.0 / bend, jet.position, {}};
    }
    return tightest;
}

/// What one fair surface adds to what is told: the worst of each figure, the sum of each count.
void tell(const FairSurface& surface, hull::Scanned& scanned) {
    scanned.points += surface.points;
    scanned.used += surface.used;
    scanned.noise = std::max(scanned.noise, surface.noise.spread);
    scanned.correlation = std::max(scanned.correlation, surface.noise.correlation);
    scanned.spacing = std::max(scanned.spacing, surface.spacing);
    scanned.fairness = std::max(scanned.fairness, surface.fairness);
    scanned.least_fairness = scanned.least_fairness > 0.0
                                 ? std::min(scanned.least_fairness, surface.least_fairness)
                                 : surface.least_fairness;
    scanned.strays += surface.strays;
    if (surface.stray_off > scanned.stray_off) {
        scanned.stray_off = surface.stray_off;
        scanned.farthest_stray = surface.farthest_stray;
    }
    if (!surface.unfollowed) return;
    const double off = std::abs(surface.unfollowed->off);
    if (!scanned.unfollowed || off > scanned.unfollowed->off)
        scanned.unfollowed = hull::Scanned::Unfollowed{surface.point(surface.unfollowed->uv), off};
}

/// What a scan shows about a place, as a mesh that faces either way.
struct Shown {
    std::function<hull::Hull(double outward)> meshed;
    Vec3 middle{0, 0, 0};  ///< [mm] of the damage, on the surface
    Vec3 normal{0, 0, 1};  ///< there
    hull::Scanned told;
};

Error no_skin(const Vec3& place) {
    return {.kind = ErrorKind::no_safe_answer,
            .key = "hull.scan",
            .what = "no sound skin lies about the damage",
            .place = place};
}

double known_noise(const job::HullScan& options) {
    return options.noise.value_or(noise_of_kind(options.kind).spread);
}

double edge_about(const ScanPlace& place) {
    return std::max(2.0, place.half_side() / 40.0);
}

/// Through much noise only the two arcs and a parabola are seen, and ones that bend on less than
/// they are wanted for fit a narrow strip of it as well as the hull does.
Result<void> check_rough_bend(const Shown& shown, const ScanPlace& place, double known_noise) {
    const auto& bend = shown.told.bend;
    if (!(shown.told.noise > tolerance::stiff_noise) || !bend ||
        !(bend->radius < place.half_side()))
        return {};
    constexpr double many = 3.0;  // spreads of its kind: no roughness any more
    if (shown.told.noise > many * known_noise)
        return no_safe_answer("hull.scan",
                              "no smooth surface goes through the points about the damage: they "
                              "lie some " +
                                  fixed(shown.told.noise, 0) +
                                  " mm off the best one, where this kind of scan scatters by " +
                                  shortest(known_noise) +
                                  " mm. Something that is not the skin stands in the scan there (a "
                                  "deck, a frame, a trestle, the other face): cut it away; or the "
                                  "hull turns sharply there: mark that chine "
                                  "([[hull.scan.crease]])",
                              place.middle);
    return no_safe_answer("hull.scan",
                          "too rough, with " + fixed(shown.told.noise, 1) +
                              " mm of noise, to tell a hull that bends on a radius of " +
                              fixed(bend->radius, 0) +
                              " mm, as its points seem to: cut away what is no hull (a trestle, "
                              "a sling, the inside), use a better scanner, or scan more sound "
                              "skin round the damage",
                          place.middle);
}

Result<Shown> shown_smooth(const Scan& scan, const job::HullScan& options, const ScanPlace& place) {
    auto found = surface_about(scan, options, place);
    if (!found) return tl::unexpected(found.error());
    const auto surface = std::make_shared<const FairSurface>(std::move(*found));
    if (surface->domain.size() < 3) return tl::unexpected(no_skin(place.middle));
    const SurfaceJet jet = surface->jet(surface->base.foot(place.middle).uv);
    Shown shown;
    shown.meshed = [surface, edge = edge_about(place)](double outward) {
        return hull_over(surface, surface->domain, edge, outward);
    };
    shown.middle = jet.position;
    shown.normal = jet.du.cross(jet.dv).normalized();
    tell(*surface, shown.told);
    shown.told.cover_degrees = surface->cover_degrees;
    for (const DataHole& hole : surface->data_holes)
        shown.told.holes.push_back({surface->point(hole.middle), hole.area_mm2});
    shown.told.bend = bend_entering(*surface, [](const Vec3&) { return true; });
    shown.told.surface = std::make_shared<Smooth>(surface);
    if (auto sure = check_rough_bend(shown, place, known_noise(options)); !sure)
        return tl::unexpected(sure.error());
    return shown;
}

Result<Shown> shown_creased(const Scan& scan, const job::HullScan& options, const ScanPlace& place,
                            const std::vector<job::ScanCrease>& creases) {
    auto fit = fit_creased(scan, options, place, creases);
    if (!fit) return tl::unexpected(fit.error());
    const auto surface = std::make_shared<const CreasedSurface>(std::move(fit->surface));
    if (fit->domain.size() < 3) return tl::unexpected(no_skin(place.middle));
    Shown shown;
    shown.meshed = [surface, domain = fit->domain, edge = edge_about(place)](double outward) {
        return hull_over(surface, domain, edge, outward);
    };
    const auto creased = std::make_shared<Creased>(surface);
    shown.middle = creased->foot(place.middle);
    shown.normal = creased->normal(place.middle);
    const PlaceView& view = surface->view();
    for (std::size_t k = 0; k < surface->pieces().size(); ++k) {
        const FairSurface& piece = *surface->pieces()[k].surface;
        tell(piece, shown.told);
        const auto bend = bend_entering(piece, [&](const Vec3& place_of_it) {
            return surface->piece_at(view.flat(place_of_it)) == k;
        });
        if (bend && (!shown.told.bend || bend->radius < shown.told.bend->radius))
            shown.told.bend = bend;
    }
    shown.told.cover_degrees = fit->cover_degrees;
    for (const DataHole& hole : fit->holes)
        shown.told.holes.push_back({creased->foot(view.raised(hole.middle, 0.0)), hole.area_mm2});
    shown.told.surface = creased;
    return shown;
}

/// Tells a bend beside what is bridged that is rounder than a chine and tighter than the surface,
/// even where its length is shortest, follows.
void tell_bend_beside(const hull::Scanned::Chine& line, double radius, hull::Scanned& told) {
    constexpr double followed = 0.5;  // of the fairness: radii that still show through it
    if (radius < followed * told.least_fairness) told.doubtful.push_back(line);
}

/// Tells how a bend that enters what is bridged runs, and its radius as its sides tell it, where a
/// line along it was found: the fair surface alone bends more sharply at the rim than the hull.
void tell_bend(const FoundChines& found, const ScanPlace& place, hull::Scanned& told) {
    const double hole = place.half_width() + tolerance::scan_guard;
    for (std::size_t i = 0; i < found.rounded.size(); ++i) {
        const double radius = found.radii[i];
        const ChineLine line{found.rounded[i].points, {}};
        // Where it begins decides, not its middle.
        const double half = 0.5 * radius * found.rounded[i].turn_degrees * std::numbers::pi / 180.0;
        if (!place.bridged || line.away(place.middle) > hole + half) {
            tell_bend_beside(found.rounded[i], radius, told);
            continue;
        }
        const bool of_line = told.bend && line.away(told.bend->at) < radius + tolerance::scan_guard;
        if (told.bend && !of_line && told.bend->radius < radius) continue;
        told.bend = hull::Scanned::Bend{radius, line.points[1], line.points};
    }
}

/// A chine that was found, not marked, and that the whole repair's surfaces then do not bear out:
/// the person has written nothing that is wrong.
Error not_borne_out(const Error& error, const FoundChines& found, const Scan& scan) {
    const hull::Scanned::Chine& chine = found.sharp.front();
    return {.kind = ErrorKind::no_safe_answer,
            .key = "hull.scan",
            .what = "the hull seems to turn by " + fixed(chine.turn_degrees, 0) +
                    " degrees along a line near " + place_text(scan.as_picked(chine.points[1])) +
                    " mm in the scan, but its two sides make no chine all the way: where another "
                    "part stands "
                    "on the skin there (a deck, a bulkhead, a frame, a trestle) cut it out of the "
                    "scan; where it is a chine mark three places or more along it "
                    "([[hull.scan.crease]] points)",
            .place = error.place};
}

Result<Shown> shown_about(const Scan& scan, const job::HullScan& options, ScanPlace place) {
    std::vector<job::ScanCrease> creases = creases_near(options, place);
    const FoundChines found = find_chines(scan, options, place, creases);
    creases.insert(creases.end(), found.creases.begin(), found.creases.end());
    place.faces = found.faces;
    auto shown = creases.empty() ? shown_smooth(scan, options, place)
                                 : shown_creased(scan, options, place, creases);
    if (!shown && shown.error().key.starts_with("hull.scan.crease.") && !found.creases.empty())
        return tl::unexpected(not_borne_out(shown.error(), found, scan));
    if (!shown) return shown;
    shown->told.chines = found.sharp;
    shown->told.doubtful = found.doubtful;
    tell_bend(found, place, shown->told);
    return shown;
}

}  // namespace

Result<hull::Hull> scanned_hull(const Scan& scan, const job::HullOptions& options, job::Side side,
                                const ScanPlace& place) {
    auto shown = shown_about(scan, *options.scan, place);
    if (!shown) return tl::unexpected(shown.error());
    hull::Hull piece = shown->meshed(1.0);
    for (const Vec3& p : piece.vertices) {
        piece.report.extent_min =
            &p == piece.vertices.data() ? p : piece.report.extent_min.cwiseMin(p);
        piece.report.extent_max =
            &p == piece.vertices.data() ? p : piece.report.extent_max.cwiseMax(p);
    }
    const auto outward = outward_of(scan, options, {piece, shown->middle, shown->normal});
    if (!outward) return tl::unexpected(outward.error());
    hull::Hull hull = outward->sign > 0.0 ? std::move(piece) : shown->meshed(-1.0);
    hull.surface = options.surface;
    hull.sha256 = scan.sha256;
    hull.scanned = std::move(shown->told);
    hull.scanned->kind = kind_word(options.scan->kind);
    hull.report.format = scan.format + ", a scan";
    hull.report.unit = scan.unit;
    hull.report.triangles_read = scan.triangles.size();
    job::HullOptions known = options;
    known.outward = "as modelled";
    known.mirror = false;
    auto one = hull::make_one_surface(std::move(hull), known, {side, true});
    if (one) one->report.orientation = outward->words;
    return one;
}

}  // namespace tearline::scan

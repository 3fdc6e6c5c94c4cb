#include "core/scan/fair_surface.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <unordered_map>
#include <utility>

#include "core/base/numbers.h"
#include "core/plane/offset_region.h"
#include "core/scan/bridge.h"
#include "core/scan/fairness_map.h"
#include "core/scan/layers.h"
#include "core/scan/robust.h"
#include "core/scan/robust_fit.h"
#include "core/scan/scan_domain.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// [-] knots a fairness: a wave of 0.8 of it keeps what the law says within 5 %.
constexpr double knots_a_length = 10.0;
/// [-] and where bends are not followed: only looked at, to within a tenth.
constexpr double knots_to_look = 6.0;
/// Poles of a field: past this the knots of the tightest bends stay wider.
constexpr int most_poles = 12'000;
/// Points that the base's eight parameters are fitted to.
constexpr std::size_t base_points = 1500;
/// [-] in correlations: fairness never falls below.
constexpr double least_lengths = 4.0;

/// What of the parameters is not believed: the outline's inside and its guard.
struct Hole {
    Bridge bridge;  ///< of no outline: all is sound
    Vec2 middle{0, 0};
    double half_width = 0.0;  ///< [mm] from the middle to the farthest of the outline

    [[nodiscard]] bool holds(const Vec2& uv) const { return bridge.holds(uv); }
    [[nodiscard]] double guard() const { return bridge.guard(); }
    [[nodiscard]] const Loop2& outline() const { return bridge.outline(); }
    [[nodiscard]] double band() const {
        return std::max(tolerance::scan_band, tolerance::scan_band_share * half_width);
    }
};

Hole hole_on(const TwoArc& base, const FairRequest& request) {
    Hole hole;
    hole.middle = base.foot(request.middle).uv;
    Loop2 outline;
    for (const Vec3& point : request.outline) {
        outline.push_back(base.foot(point).uv);
        hole.half_width = std::max(hole.half_width, (outline.back() - hole.middle).norm());
    }
    hole.bridge =
        Bridge(std::move(outline), std::max(tolerance::scan_guard, 2.0 * request.spacing));
    return hole;
}

/// Each point's share of the surface: the squares it shares with others, by how many they are.
void weigh_by_area(std::vector<FieldPoint>& points, double square) {
    std::unordered_map<std::int64_t, int> count;
    const auto key = [&](const Vec2& uv) {
        return static_cast<std::int64_t>(std::floor(uv.x() / square)) * 1'000'003 +
               static_cast<std::int64_t>(std::floor(uv.y() / square));
    };
    for (const FieldPoint& point : points) ++count[key(point.uv)];
    for (FieldPoint& point : points) point.weight = square * square / count[key(point.uv)];
}

/// Where the surface is wanted, by parameters: about the middle, and in the strip if there is one.
class Wanted {
public:
    Wanted(const TwoArc& base, const FairRequest& request)
        : base_(base), middle_(request.middle), reach_(request.reach) {
        if (!request.strip) return;
        from_ = base.foot(request.strip->from).uv;
        way_ = base.foot(request.strip->to).uv - from_;
        half_width_ = request.strip->half_width;
    }
    [[nodiscard]] bool holds(const Vec2& uv, double beyond = 0.0) const {
        // No way along the surface is shorter than the straight one.
        if ((base_.point(uv) - middle_).norm() > reach_ + beyond) return false;
        if (!half_width_) return true;
        const double share = std::clamp((uv - from_).dot(way_) / way_.squaredNorm(), 0.0, 1.0);
        return (from_ + share * way_ - uv).norm() <= *half_width_ + beyond;
    }
    /// Lengths of a grid's cells, none beside the strip.
    [[nodiscard]] std::vector<double> lengths(const FieldGrid& grid,
                                              std::vector<double> of_cells) const {
        if (!half_width_) return of_cells;
        for (int row = 0, cell = 0; row < grid.rows; ++row)
            for (int column = 0; column < grid.columns; ++column, ++cell)
                if (!holds(grid.low + grid.cell * Vec2(column + 0.5, row + 0.5), grid.cell))
                    of_cells[static_cast<std::size_t>(cell)] = 0.0;
        return of_cells;
    }

private:
    TwoArc base_;
    Vec3 middle_;
    double reach_;
    Vec2 from_{0, 0}, way_{0, 0};
    std::optional<double> half_width_;
};

std::vector<FieldPoint> feet(const TwoArc& base, const std::vector<Vec3>& points,
                             const FairRequest& request, const Hole& hole, std::size_t& looked_at) {
    const Wanted part(base, request);
    std::vector<FieldPoint> all;
    all.reserve(points.size());
    for (const Vec3& point : points) {
        const auto foot = base.foot(point);
        if ((foot.uv - hole.middle).cwiseAbs().maxCoeff() <= request.reach && part.holds(foot.uv))
            all.push_back({foot.uv, foot.distance, 1.0});
    }
    looked_at = all.size();
    weigh_by_area(all, 3.0 * request.spacing);
    std::erase_if(all, [&](const FieldPoint& point) { return hole.holds(point.uv); });
    return all;
}

/// The base through the band, from a plane through the middle on.
Result<FittedBase> base_of(const std::vector<Vec3>& points, const FairRequest& request) {
    const Vec3 w = request.outward.normalized();
    const Vec3 u = w.unitOrthogonal();
    Eigen::Matrix3d axes;
    axes << u, w.cross(u), w;
    FittedBase fitted{TwoArc(axes, request.middle, 0.0, 0.0), 0.0};
    constexpr int rounds = 3;
    for (int round = 0; round < rounds; ++round) {
        const Hole hole = hole_on(fitted.base, request);
        const Wanted part(fitted.base, request);
        std::vector<WeighedPoint> sound;
        for (const Vec3& point : points) {
            const Vec2 uv = fitted.base.foot(point).uv;
            if ((uv - hole.middle).norm() > hole.half_width + hole.guard() + hole.band()) continue;
            if (part.holds(uv) && !hole.holds(uv)) sound.push_back({point, 1.0});
        }
        if (sound.size() < 30) return no_safe_answer("too few points of sound skin");
        // Every so many of them, in their order: nothing hangs on chance.
        const std::size_t wanted = round + 1 < rounds ? base_points / 5 : base_points;
        const std::size_t stride = std::max<std::size_t>(1, sound.size() / wanted);
        std::vector<WeighedPoint> some;
        for (std::size_t i = 0; i < sound.size(); i += stride) some.push_back(sound[i]);
        fitted =
            fit_two_arc(some, w, std::max(tolerance::least_spread, request.least_noise.spread));
        fitted.base = fitted.base.measured_at(request.middle, request.reach);
    }
    return fitted;
}

/// Sound points in sectors of five degrees about the middle: how much of the way round they cover.
double cover_of(const std::vector<FieldPoint>& points, const Hole& hole) {
    constexpr int sectors = 72;
    std::array<bool, sectors> seen{};
    for (const FieldPoint& point : points) {
        const Vec2 from = point.uv - hole.middle;
        if (from.norm() > hole.half_width + hole.guard() + hole.band()) continue;
        const double turn = std::atan2(from.y(), from.x()) / (2.0 * std::numbers::pi) + 0.5;
        seen[static_cast<std::size_t>(std::min(sectors - 1, static_cast<int>(turn * sectors)))] =
            true;
    }
    return 360.0 / sectors * static_cast<double>(std::count(seen.begin(), seen.end(), true));
}

/// l where the person has not named it.
double fairness_by(double spread, bool base_alone_explains, double reach) {
    if (spread <= 0.15) return 100.0;
    if (spread <= tolerance::stiff_noise) return base_alone_explains ? 300.0 : 150.0;
    return 4.0 * reach;  // the base and a parabola alone
}

/// A rectangle of parameters.
struct Box {
    Vec2 low, high;
};

/// What a field is drawn over: points and hole with half a fairness round them, where it goes on as
/// fairly as it can; of one side of a chine that is hardly more than half of what lies about it.
Box box_of(const std::vector<FieldPoint>& sound, const Hole& hole, double reach, double fairness) {
    Box box{hole.middle, hole.middle};
    const auto hold = [&](const Vec2& uv) {
        box.low = box.low.cwiseMin(uv);
        box.high = box.high.cwiseMax(uv);
    };
    for (const FieldPoint& point : sound) hold(point.uv);
    for (const Vec2& uv : hole.outline()) hold(uv);
    const Vec2 spare = Vec2::Constant(0.5 * fairness), corner = Vec2::Constant(reach);
    box.low = (box.low - spare).cwiseMax(hole.middle - corner);
    box.high = (box.high + spare).cwiseMin(hole.middle + corner);
    return box;
}

FieldGrid grid_over(const Box& box, double fairness, double knots) {
    const Vec2 size = box.high - box.low;
    const double finest =
        std::sqrt(size.prod()) / (std::sqrt(static_cast<double>(most_poles)) - 3.0);
    // A dozen cells at least: a stiff surface still has its parabola drawn well.
    const double cell = std::max(finest, std::min(fairness / knots, size.minCoeff() / 12.0));
    return FieldGrid::over(box.low, box.high, cell);
}

/// [-] the shorter fairness that tells how much hangs on it.
constexpr double less_fair = 1.5;

/// Residuals that a bend may leave: an edge of a right angle lies an eighth of the fairness off.
/// What lies farther off stands before the hull, and to follow it would bend the surface to it.
std::vector<Residual> of_bends(const RobustFit& fit, double length) {
    const double most = length / 4.0;
    std::vector<Residual> all;
    for (const Residual& residual : fit.residuals)
        if (std::abs(residual.off) < most) all.push_back(residual);
    return all;
}

/// What is seen of noise, never less than what the scanner is known for.
Noise at_least(const Noise& known, const Noise& seen) {
    return {std::max(known.spread, seen.spread), std::max(known.correlation, seen.correlation)};
}

/// Points that count for nothing though they lie on what is believed.
void tell_strays(const std::vector<FieldPoint>& points, const RobustFit& fit, double floor,
                 FairSurface& surface) {
    const double most = tukey_reach * std::max(floor, fit.spread);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double off = std::abs(fit.residuals[i].off);
        if (!(off > most)) continue;
        ++surface.strays;
        if (!(off > surface.stray_off)) continue;
        surface.stray_off = off;
        surface.farthest_stray = surface.base.point(points[i].uv, points[i].height);
    }
}

/// The points that lie on the surface or near it: others are of something else, and do not show
/// how far the skin goes.
std::vector<FieldPoint> on_skin(const std::vector<FieldPoint>& points, const RobustFit& fit,
                                double floor, double guard) {
    const double most = std::max(guard, tukey_reach * std::max(floor, fit.spread));
    std::vector<FieldPoint> all;
    for (std::size_t i = 0; i < points.size(); ++i)
        if (std::abs(fit.residuals[i].off) < most) all.push_back(points[i]);
    return all;
}

/// Two faces of a skin, or two passes far apart: which of them is the hull nobody can tell.
Result<void> check_one_layer(const TwoArc& base, const std::vector<FieldPoint>& sound,
                             const RobustFit& fit, const FairRequest& request, double guard) {
    constexpr double half = 0.5, spreads = 6.0;
    std::vector<LayerPoint> points;
    points.reserve(sound.size());
    for (std::size_t i = 0; i < sound.size(); ++i)
        points.push_back(
            {sound[i].uv, fit.residuals[i].off, base.point(sound[i].uv, sound[i].height)});
    const auto layers =
        layers_of(points, request.spacing, std::max(guard, spreads * request.least_noise.spread));
    if (!layers || layers->share < half) return {};
    return bad_input("hull.scan",
                     "most of what the scan shows here are two layers of points one over the "
                     "other, about " +
                         fixed(layers->apart, 0) +
                         " mm apart, as of the outer and the inner face of a skin or of two passes "
                         "not laid on each other: cut the one that is not the face to be repaired "
                         "out of the scan, and save it anew",
                     request.middle);
}

/// What is not believed, by parameters.
Region2 bridged_part(const Hole& hole) {
    if (hole.outline().empty()) return {};
    const auto grown = plane::offset_region({hole.outline(), {}}, hole.guard());
    return grown.empty() ? Region2{} : grown.front();
}

}  // namespace

double FairSurface::height_error(const Vec2& uv) const {
    const double by_noise = noise.density() * field.noise_gain(uv);
    return std::sqrt(by_noise) + std::abs(field.at(uv) - less_fair.at(uv));
}

Result<FairSurface> fair_surface(const std::vector<Vec3>& points, const FairRequest& request) {
    const auto base = base_of(points, request);
    if (!base) return tl::unexpected(base.error());
    const Hole hole = hole_on(base->base, request);
    std::size_t looked_at = 0;
    const std::vector<FieldPoint> sound = feet(base->base, points, request, hole, looked_at);
    if (sound.size() < 30) return no_safe_answer("too few points of sound skin");

    const double floor = std::max(tolerance::least_spread, request.least_noise.spread);
    Noise noise = request.least_noise;
    FairSurface surface;
    surface.base = base->base;
    surface.middle = hole.middle;
    surface.bridged = bridged_part(hole);
    surface.spacing = request.spacing;
    surface.cover_degrees = cover_of(sound, hole);
    const bool explained = base->spread <= std::max(noise.spread, floor);
    const Wanted part(base->base, request);
    const double knots = request.follow_bends ? knots_a_length : knots_to_look;
    RobustFit fit;
    double length = 0.0;
    std::vector<double> lengths;  // of each cell of the last fit
    for (int again = 0; again < 3; ++again) {
        const double wanted = request.fairness
                                  ? *request.fairness
                                  : fairness_by(noise.spread, explained, request.reach);
        if (wanted == length) break;
        length = wanted;
        const double least = std::min(length, least_lengths * noise.correlation);
        const Box box = box_of(sound, hole, request.reach, length);
        FairnessMap map(grid_over(box, length, knots), length, least);
        fit = RobustFit::of_base(sound);
        for (const Doubt doubt : {Doubt::soft, Doubt::hard}) {
            // Where bends are followed each fit goes on from the one before, and only the first and
            // the last of them are brought to rest.
            constexpr int shortenings = 6;
            for (int k = 0; k < shortenings; ++k) {
                const FieldGrid grid = grid_over(box, map.shortest(), knots);
                map = map.on(grid);
                FairFit by_lengths(grid, part.lengths(grid, map.lengths()));
                const bool rest = (doubt == Doubt::soft && k == 0) || !request.follow_bends;
                fit = fitted(by_lengths, sound, floor, doubt, std::move(fit), rest ? to_rest : 1);
                if (!fit.carried || !request.follow_bends) break;
                // By the noise that the fit shows: a kind's own would take a rougher scan for
                // bends.
                noise =
                    at_least(request.least_noise, noise_of(believed(fit, floor), request.spacing));
                if (map.shorten(of_bends(fit, length), noise,
                                [&](const Vec2& uv) { return hole.holds(uv); }))
                    continue;
                if (doubt == Doubt::hard)
                    fit = fitted(by_lengths, sound, floor, doubt, std::move(fit), to_rest);
                break;
            }
            if (!fit.carried) return no_safe_answer("too few points of sound skin");
        }
        surface.least_fairness = map.shortest();
        lengths = part.lengths(fit.field.grid(), map.lengths());
        surface.seen = noise_of(believed(fit, floor), request.spacing);
        noise = at_least(request.least_noise, surface.seen);
    }
    if (auto one = check_one_layer(surface.base, sound, fit, request, hole.guard()); !one)
        return tl::unexpected(one.error());
    for (double& l : lengths) l /= less_fair;
    auto less_fair_field =
        FairFit(fit.field.grid(), lengths).through(believed_points(sound, fit, floor));
    if (!less_fair_field) return no_safe_answer("too few points of sound skin");
    surface.less_fair = std::move(*less_fair_field);
    tell_strays(sound, fit, floor, surface);
    std::vector<FieldPoint> skin = on_skin(sound, fit, floor, hole.guard());
    for (const Vec3& p : request.also_wanted) skin.push_back({surface.base.foot(p).uv});
    surface.domain = domain_of(skin, surface.bridged, hole.middle, request.reach, request.spacing);
    surface.field = std::move(fit.field);
    surface.data_holes = data_holes(skin, surface.bridged, surface.domain);
    if (request.follow_bends)
        surface.unfollowed = unfollowed(of_bends(fit, length), noise, request.spacing);
    surface.fairness = length;
    surface.noise = noise;
    surface.points = looked_at;
    surface.used = fit.used;
    return surface;
}

}  // namespace tearline::scan

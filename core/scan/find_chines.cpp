#include "core/scan/find_chines.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "core/scan/bridge.h"
#include "core/scan/chine_lines.h"
#include "core/scan/fit_creased.h"
#include "core/scan/kink_along.h"
#include "core/scan/robust.h"
#include "core/scan/surface_about.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

constexpr double degree = std::numbers::pi / 180.0;
/// [-] spreads that a turn has to stand out by.
constexpr double told_by = 4.0;

/// What a fit to each side tells of a line.
struct Judged {
    enum class What { smooth, sharp, rounded, doubtful } what = What::smooth;
    double turn = 0.0;         ///< [rad]
    double radius = 0.0;       ///< [mm] of what is rounded
    std::vector<Vec3> points;  ///< [mm] three along where the sides cross
    std::vector<Vec3> along;   ///< [mm] all the way, past what is seen of it too
};

/// How a line turns along one part of it: the middle of some places, and of their spreads [rad].
struct Turn {
    double turn = 0.0, spread = 0.0;
};

/// One spread of the angle between two sides at a place of their crease [rad].
double spread_at(const CreasedSurface& surface, std::size_t crease, double along, const Vec3& at) {
    double squares = 0.0;
    const CreaseLine& line = surface.creases()[crease];
    constexpr double aside = 1.0;  // [mm] clearly of one side
    for (const double way : {-aside, aside}) {
        const std::size_t piece = surface.piece_at(line.at(along) + way * line.across());
        const FairSurface& side = *surface.pieces()[piece].surface;
        squares += side.noise.density() * side.field.slope_noise_gain(side.base.foot(at).uv);
    }
    return std::sqrt(squares);
}

std::optional<Turn> turn_over(const CreasedSurface& surface, std::size_t crease,
                              const std::vector<double>& places) {
    std::vector<double> turns, spreads;
    for (const double along : places) {
        const auto point = surface.crease_point(crease, along);
        if (!point.crossed) continue;
        turns.push_back(point.turn);
        spreads.push_back(spread_at(surface, crease, along, point.at));
    }
    if (turns.empty() || 2 * turns.size() < places.size()) return std::nullopt;
    return Turn{median(turns), median(spreads)};
}

/// How far the points on a crease lie off the side that they are nearer to, half of them [mm]: what
/// is worn or bent round lies inside.
std::optional<double> off_edge(const CreasedSurface& surface, std::size_t crease, double low,
                               double high, double wide, const std::vector<Vec3>& points,
                               const Bridge& hole) {
    const CreaseLine& line = surface.creases()[crease];
    std::vector<double> off;
    for (const Vec3& point : points) {
        const Vec2 flat = surface.view().flat(point);
        const double along = line.along(flat);
        if (along < low || along > high || std::abs(line.left_of(flat)) > wide) continue;
        if (hole.holds(flat)) continue;
        off.push_back(surface.pieces()[surface.piece_at(flat)].surface->off(point));
    }
    constexpr std::size_t fewest = 8;
    if (off.size() < fewest) return std::nullopt;
    return std::abs(median(off));
}

/// Judges the last of some creases.
class Judge {
public:
    Judge(const std::vector<Vec3>& near, const job::HullScan& options, const ScanPlace& place,
          double spacing)
        : near_(near), options_(options), place_(place), spacing_(spacing) {}

    [[nodiscard]] Judged operator()(const ChineLine& line, std::vector<job::ScanCrease> creases,
                                    const Vec3& faces) const {
        ScanPlace here = place_;
        here.faces = faces;
        here.follow_bends = false;
        job::ScanCrease crease;
        crease.points = line.points;
        creases.push_back(crease);
        Judged judged;
        judged.turn = line.turn;
        judged.points = {line.points.front(), line.points[line.points.size() / 2],
                         line.points.back()};
        bool seen_to_turn = turns(line.turn, line.spread);
        if (const auto kink = seen_to_turn ? std::nullopt : kink_by_all(line, faces)) {
            seen_to_turn = turns(kink->turn, kink->spread);
            if (seen_to_turn) judged.turn = kink->turn;
        }
        // Told where its sides are not.
        if (seen_to_turn) judged.what = Judged::What::doubtful;
        // What is round is left out of its sides, by the radius that they then tell.
        constexpr int rounds = 5;
        for (int round = 0; round < rounds; ++round) {
            const auto sides = creased_sides(near_, options_, here, creases);
            if (!sides) {
                if (seen_to_turn) judged.what = Judged::What::doubtful;
                break;
            }
            judged = by_sides(sides->surface, line, std::move(judged));
            if (judged.what != Judged::What::rounded) break;
            creases.back().radius = judged.radius;
        }
        return judged;
    }

private:
    static bool turns(double turn, double spread) {
        return turn > std::max(tolerance::least_chine * degree, told_by * spread);
    }

    /// Where small places are too rough to tell a chine all points beside the line may.
    [[nodiscard]] std::optional<Kink> kink_by_all(const ChineLine& line, const Vec3& faces) const {
        if (told_by * line.spread < tolerance::least_chine * degree) return std::nullopt;
        const PlaceView view = PlaceView::along(line.points[line.points.size() / 2], faces);
        std::vector<Vec2> places;
        for (const Vec3& p : line.points) places.push_back(view.flat(p));
        const CreaseLine seen(places);
        if (!seen.goes_one_way()) return std::nullopt;
        Noise noise = noise_of_kind(options_.kind);
        noise.spread = options_.noise.value_or(noise.spread);
        constexpr double lengths = 9.0;  // correlations: as far as the slope of either side shows
        const double wide = std::min(lengths * noise.correlation, place_.half_side());
        return kink_along(near_, view, seen, bridged(view), wide, noise);
    }

    [[nodiscard]] Judged by_sides(const CreasedSurface& surface, const ChineLine& line,
                                  Judged judged) const {
        const std::size_t crease = surface.creases().size() - 1;
        const PlaceView& view = surface.view();
        const Bridge hole = bridged(view);
        const CreaseLine& drawn = surface.creases()[crease];
        const double low = drawn.along(view.flat(line.points.front()));
        const double high = drawn.along(view.flat(line.points.back()));
        // What is seen of it before the damage and past it, each by itself.
        std::array<std::vector<double>, 2> parts;
        std::size_t part = 0;
        bool crosses = false;
        constexpr int places = 24;
        for (int i = 0; i <= places; ++i) {
            const double along = low + (high - low) * i / places;
            if (hole.holds(drawn.at(along))) {
                crosses = true;
                part = 1;
            } else {
                parts[part].push_back(along);
            }
        }
        std::optional<Turn> least;
        for (const auto& seen : parts) {
            if (seen.empty()) continue;
            const auto turn = turn_over(surface, crease, seen);
            if (!turn) return judged;
            if (!least || turn->turn < least->turn) least = turn;
        }
        if (!least) return judged;
        judged.turn = least->turn;
        judged.points.clear();
        for (const double along : {low, 0.5 * (low + high), high})
            judged.points.push_back(surface.crease_point(crease, along).at);
        judged.along.clear();
        // Past the damage, too, where the same line may have been seen once more.
        const double reach = 2.0 * place_.half_side();
        for (int i = -places; i <= places; ++i) {
            const auto point =
                surface.crease_point(crease, 0.5 * (low + high) + reach * i / places);
            if (point.crossed) judged.along.push_back(point.at);
        }
        if (least->turn < tolerance::least_chine * degree) {
            if (judged.what == Judged::What::doubtful) judged.what = Judged::What::smooth;
            return judged;
        }
        const bool both_ends = !crosses || (!parts[0].empty() && !parts[1].empty());
        if (least->turn < told_by * least->spread || !both_ends) {
            judged.what = Judged::What::doubtful;
            return judged;
        }
        double noise = 0.0;
        for (const CreasedSurface::Piece& piece : surface.pieces())
            noise = std::max(noise, piece.surface->noise.spread);
        const auto off =
            off_edge(surface, crease, low, high, std::max(2.0, 0.6 * spacing_), near_, hole);
        judged.what = Judged::What::sharp;
        if (off && *off > std::max(tolerance::bend_off, noise)) {
            judged.what = Judged::What::rounded;
            // The middle of an arc lies r (1 - cos) inside either side that it rolls into.
            judged.radius = *off / (1.0 - std::cos(0.5 * judged.turn));
        }
        return judged;
    }

    /// Where the hole lies in a view, with its guard.
    [[nodiscard]] Bridge bridged(const PlaceView& view) const {
        Loop2 outline;
        if (place_.bridged)
            for (const Vec3& p : place_.outline) outline.push_back(view.flat(p));
        return {std::move(outline), guard_of(spacing_)};
    }

    const std::vector<Vec3>& near_;
    const job::HullScan& options_;
    const ScanPlace& place_;
    double spacing_;
};

/// Whether a line runs along another, known one.
bool runs_along(const ChineLine& line, const std::vector<Vec3>& known, double most) {
    if (known.size() < 2) return false;
    const ChineLine other{known, {}};
    const auto near = std::count_if(line.points.begin(), line.points.end(),
                                    [&](const Vec3& p) { return other.away(p) < most; });
    return 2 * near > static_cast<std::ptrdiff_t>(line.points.size());
}

/// Halfway between what the place faces and what a line's sides do, where one of them is seen too
/// much along itself.
Vec3 facing(const Vec3& faces, const ChineLine& line) {
    constexpr double edge_on = 0.5;
    Vec3 way = faces;
    for (const Vec3& normal : line.flank)
        if (normal.dot(faces) < edge_on) way += normal;
    return way.normalized();
}

}  // namespace

FoundChines find_chines(const Scan& scan, const job::HullScan& options, const ScanPlace& place,
                        const std::vector<job::ScanCrease>& marked) {
    FoundChines found;
    const auto near = points_about(scan, place);
    if (!near) return found;
    const FairRequest request = request_about(*near, options, place);
    const double guard = guard_of(request.spacing);
    const Judge judge(*near, options, place, request.spacing);
    std::vector<job::ScanCrease> creases = marked;
    std::vector<std::vector<Vec3>> known;  // lines that were judged, or are marked
    for (const job::ScanCrease& crease : marked) known.push_back(crease.points);
    constexpr std::size_t most = 4;
    constexpr double beside = 3.0;  // guards
    for (const ChineLine& line : chine_lines(*near, request)) {
        // What lies past all that the repair needs is not asked.
        if (line.away(place.middle) > place.half_width() + place.reach + guard) continue;
        if (creases.size() >= most) break;
        if (std::any_of(known.begin(), known.end(), [&](const std::vector<Vec3>& other) {
                return runs_along(line, other, beside * guard);
            }))
            continue;
        const Vec3 faces = facing(found.faces.isZero() ? request.outward : found.faces, line);
        const Judged judged = judge(line, creases, faces);
        const hull::Scanned::Chine told{judged.points, judged.turn / degree};
        if (judged.what != Judged::What::smooth)
            known.push_back(judged.along.empty() ? line.points : judged.along);
        switch (judged.what) {
            case Judged::What::smooth:
                break;
            case Judged::What::doubtful:
                found.doubtful.push_back(told);
                break;
            case Judged::What::rounded:
                found.rounded.push_back(told);
                found.radii.push_back(judged.radius);
                break;
            case Judged::What::sharp: {
                job::ScanCrease crease;
                crease.points = line.points;
                creases.push_back(crease);
                found.creases.push_back(std::move(crease));
                found.sharp.push_back(told);
                found.faces = faces;
                break;
            }
        }
    }
    return found;
}

}  // namespace tearline::scan

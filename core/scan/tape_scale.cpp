#include "core/scan/tape_scale.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/hull/mesh_file.h"
#include "core/scan/girth.h"
#include "core/scan/surface_about.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

/// [mm] one spread of reading a tape, and of picking a place on a scan (common practice).
constexpr double tape_spread = 1.0, pick_spread = 2.0;

/// [-] what the scale of a kind is known to without a tape: instruments are calibrated, a phone's
/// depth sensor errs by a percent (from memory).
double scale_of_kind(job::ScanKind kind) {
    return kind == job::ScanKind::light ? 0.0005 : 0.01;
}

std::string tape_key(std::size_t tape) {
    return "hull.scan.tape[" + std::to_string(tape + 1) + "]";
}

tl::unexpected<Error> at_tape(const job::ScanTape& tape, std::size_t number,
                              const std::string& what) {
    return tl::unexpected<Error>(
        Error{.key = tape_key(number) + ".length", .what = what, .line = tape.line});
}

/// How far a place lies off the nearest point of a scan, and how far its neighbours may lie from
/// one another there [mm].
struct Off {
    double nearest = 0.0, allowed = 0.0;
};

Off off_points(const std::vector<Vec3>& points, const Vec3& place) {
    const auto from = [&](const Vec3& a, const Vec3& b) { return (a - b).squaredNorm(); };
    const Vec3& nearest = *std::min_element(
        points.begin(), points.end(),
        [&](const Vec3& a, const Vec3& b) { return from(a, place) < from(b, place); });
    std::vector<double> apart;
    for (const Vec3& p : points)
        if (p != nearest) apart.push_back(from(p, nearest));
    const std::size_t neighbours = std::min<std::size_t>(apart.size(), 12);  // two rings of a grid
    if (neighbours == 0) return {(nearest - place).norm(), 0.0};
    const auto last = apart.begin() + static_cast<std::ptrdiff_t>(neighbours) - 1;
    std::nth_element(apart.begin(), last, apart.end());
    return {(nearest - place).norm(), std::sqrt(*last)};
}

/// The unit by which a place that was given in mm lies on the scan; nothing for none.
std::optional<std::string> unit_that_fits(const Scan& scan, const Vec3& place) {
    const double unit = hull::millimetres_in(scan.unit).value_or(1.0);
    for (const char* other : {"mm", "cm", "m", "in", "ft"}) {
        const double times = hull::millimetres_in(other).value() / unit;
        const Off off = off_points(scan.points, place / times);
        if (off.nearest <= std::max(tolerance::picked_off / times, off.allowed)) return other;
    }
    return std::nullopt;
}

/// What would be right in place of a place that lies off the scan.
std::string right_place(const Scan& scan, const Vec3& place) {
    const double unit = hull::millimetres_in(scan.unit).value_or(1.0);
    const Off times = off_points(scan.points, unit * place);
    if (unit != 1.0 && times.nearest <= std::max(tolerance::picked_off, times.allowed))
        return "it is written in " + scan.unit + ", as the file has it: times hull.unit it is [" +
               fixed(unit * place.x(), 1) + ", " + fixed(unit * place.y(), 1) + ", " +
               fixed(unit * place.z(), 1) + "], and so every place in the job is written";
    if (const auto other = unit_that_fits(scan, place))
        return "with hull.unit = \"" + *other + "\" in place of \"" + scan.unit +
               "\" it lies on the scan";
    return "pick a place that the scan shows, in its own coordinates times hull.unit (\"" +
           scan.unit + "\")";
}

/// A place off the scan was never picked on it, and would give a wrong size without a word.
Result<void> check_picked(const Scan& scan, const job::ScanTape& tape, std::size_t number,
                          double factor) {
    const double near = tolerance::picked_off / factor;
    for (const bool ends : {false, true}) {
        const Vec3& place = ends ? tape.to : tape.from;
        if (std::any_of(scan.points.begin(), scan.points.end(),
                        [&](const Vec3& p) { return (p - place).squaredNorm() <= near * near; }))
            continue;
        const Off off = off_points(scan.points, place);
        if (off.nearest <= off.allowed) continue;
        return tl::unexpected<Error>(
            Error{.key = tape_key(number) + (ends ? ".to" : ".from"),
                  .what = place_text(place) + " lies " + fixed(off.nearest, 0) +
                          " mm off every point of the scan: " + right_place(scan, place),
                  .line = tape.line});
    }
    return {};
}

/// s that makes the sum of (s measured - taped)^2 least.
double best_factor(const std::vector<double>& measured, const std::vector<job::ScanTape>& tapes) {
    double with = 0.0, square = 0.0;
    for (std::size_t i = 0; i < tapes.size(); ++i) {
        with += measured[i] * tapes[i].length;
        square += measured[i] * measured[i];
    }
    return with / square;
}

/// How wide a strip of skin tells where a tape runs: past what is bridged, where it touches that.
double strip_about(const ScanPlace& place, const Strip& strip) {
    const Vec3 way = strip.to - strip.from;
    double nearest = std::numeric_limits<double>::infinity(), farthest = 0.0;
    for (const Vec3& p : place.outline) {
        const double share = std::clamp((p - strip.from).dot(way) / way.squaredNorm(), 0.0, 1.0);
        const double away = (strip.from + share * way - p).norm();
        nearest = std::min(nearest, away);
        farthest = std::max(farthest, away);
    }
    const double band = tolerance::scan_band + tolerance::scan_guard;
    return place.bridged && nearest < band ? farthest + band : tolerance::scan_band;
}

/// The fair surface along a tape, the damage bridged where the tape passes it.
Result<double> girth_of(const Scan& scan, const job::HullScan& options, const ScanPlace& damage,
                        const job::ScanTape& tape, double factor) {
    ScanPlace place;
    place.middle = 0.5 * factor * (tape.from + tape.to);
    place.reach = 0.6 * factor * (tape.to - tape.from).norm();
    if (damage.bridged)
        for (const Vec3& p : damage.outline) place.outline.push_back(factor * p);
    place.bridged = damage.bridged;
    const double half = [&] {
        double most = 0.0;
        for (const Vec3& p : place.outline) most = std::max(most, (p - place.middle).norm());
        return most;
    }();
    // The outline stands beside the tape's middle: what is wanted is measured from there.
    place.reach = std::max(place.reach - half, tolerance::scan_band);
    const auto near = points_about(scan, place);
    if (!near) return tl::unexpected(near.error());
    FairRequest request = request_about(*near, options, place);
    request.strip = Strip{factor * tape.from, factor * tape.to};
    request.strip->half_width = strip_about(place, *request.strip);
    const auto surface = fair_surface(*near, request);
    if (!surface) return tl::unexpected(surface.error());
    return girth(*surface, factor * tape.from, factor * tape.to);
}

Result<std::vector<double>> girths(const Scan& unscaled, const job::HullScan& options,
                                   const ScanPlace& place, double factor) {
    Scan scan;  // its points alone: facets measure nothing
    scan.points = unscaled.points;
    scan.scale(factor);
    std::vector<double> all;
    for (const job::ScanTape& tape : options.tapes) {
        if (tape.laid == job::ScanTape::Laid::straight) {
            all.push_back((tape.to - tape.from).norm());
            continue;
        }
        const auto along = girth_of(scan, options, place, tape, factor);
        if (!along) return tl::unexpected(along.error());
        all.push_back(*along / factor);
    }
    return all;
}

Result<void> check(const TapeScale& scale, const job::HullScan& options) {
    const bool photo = options.kind == job::ScanKind::photo;
    constexpr double most_off = 0.05, photo_misfit = 0.005, most_misfit = 0.02;
    const double most_share = photo ? photo_misfit : most_misfit;
    std::size_t worst = 0;
    const auto share = [&](std::size_t i) {
        return std::abs(scale.misfit[i]) / options.tapes[i].length;
    };
    for (std::size_t i = 1; i < scale.misfit.size(); ++i)
        if (share(i) > share(worst)) worst = i;
    if (share(worst) > most_share) {
        const job::ScanTape& tape = options.tapes[worst];
        return at_tape(tape, worst,
                       shortest(tape.length) + " mm: by all tapes together it is " +
                           fixed(tape.length - scale.misfit[worst], 1) +
                           " mm; tapes must agree within " + fixed(100.0 * most_share, 1) +
                           " %: measure again, or pick the places again");
    }
    if (!photo && std::abs(scale.factor - 1.0) > most_off)
        return at_tape(options.tapes.front(), 0,
                       "says the hull is " + fixed(100.0 * scale.factor, 1) +
                           " % of its scan; more than 5 % off is no scale but a wrong unit or a "
                           "wrong place: check hull.unit, from and to");
    return {};
}

/// The upright of a plane through points, on the side of `up`.
Vec3 upright(const std::vector<Vec3>& points, const Vec3& up) {
    Vec3 mean(0, 0, 0);
    for (const Vec3& p : points) mean += p / static_cast<double>(points.size());
    Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
    for (const Vec3& p : points) scatter += (p - mean) * (p - mean).transpose();
    const Vec3 normal =
        Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(scatter).eigenvectors().col(0);
    return normal.dot(up) < 0.0 ? -normal : normal;
}

}  // namespace

Result<TapeScale> tape_scale(const Scan& scan, const job::HullScan& options,
                             const ScanPlace& place) {
    TapeScale scale;
    if (options.tapes.empty()) {
        if (options.kind == job::ScanKind::photo)
            return bad_input("hull.scan.tape",
                             "missing: a scan from photographs has no scale; tape a distance "
                             "between two places that can be picked on the scan, "
                             "[[hull.scan.tape]] with from, to and length");
        scale.error = scale_of_kind(options.kind);
        return scale;
    }
    std::vector<double> measured;
    for (const job::ScanTape& tape : options.tapes)
        measured.push_back((tape.to - tape.from).norm());
    scale.factor = best_factor(measured, options.tapes);
    for (std::size_t i = 0; i < options.tapes.size(); ++i)
        if (auto picked = check_picked(scan, options.tapes[i], i, scale.factor); !picked)
            return tl::unexpected(picked.error());
    // By chords first; what a tape follows of the hull is nearly as much longer at any scale.
    constexpr int rounds = 2;
    constexpr double hardly =
        0.05;  // [-] what fairness may be off by without a girth that shows it
    const bool straight =
        std::all_of(options.tapes.begin(), options.tapes.end(),
                    [](const auto& tape) { return tape.laid == job::ScanTape::Laid::straight; });
    for (int round = 0; round < rounds && !straight; ++round) {
        auto along = girths(scan, options, place, scale.factor);
        if (!along) return tl::unexpected(along.error());
        measured = std::move(*along);
        const double before = std::exchange(scale.factor, best_factor(measured, options.tapes));
        if (std::abs(scale.factor / before - 1.0) < hardly) break;
    }
    double squares = 0.0, off = 0.0;
    for (std::size_t i = 0; i < measured.size(); ++i) {
        scale.misfit.push_back(options.tapes[i].length - scale.factor * measured[i]);
        squares += options.tapes[i].length * options.tapes[i].length;
        off += scale.misfit[i] * scale.misfit[i];
    }
    const double one = std::hypot(tape_spread, std::sqrt(2.0) * pick_spread);
    const double seen =
        measured.size() > 1 ? std::sqrt(off / static_cast<double>(measured.size() - 1)) : 0.0;
    scale.error = std::max(one, seen) / std::sqrt(squares);
    if (auto fits = check(scale, options); !fits) return tl::unexpected(fits.error());
    return scale;
}

Result<job::Job> in_true_mm(job::Job job, double factor) {
    job::HullScan& scan = *job.hull.scan;
    const auto all = [&](std::vector<Vec3>& points) {
        for (Vec3& p : points) p *= factor;
    };
    const auto one = [&](std::optional<Vec3>& point) {
        if (point) *point *= factor;
    };
    all(job.damage.outline);
    all(job.damage.end);
    one(job.damage.centre);
    one(job.damage.within);
    for (job::Opening& opening : job.damage.openings) {
        one(opening.centre);
        all(opening.outline);
    }
    one(job.layup.press_first);
    for (job::Mark& mark : job.marks) one(mark.at);
    for (job::Sounding& sounding : job.damage.soundings) sounding.at *= factor;
    for (job::ScanCrease& crease : scan.creases) all(crease.points);
    one(scan.seen_from);
    if (!scan.bow_points.empty())
        job.hull.bow = (scan.bow_points[1] - scan.bow_points[0]).normalized();
    if (!scan.up_points.empty()) job.hull.up = (scan.up_points[1] - scan.up_points[0]).normalized();
    if (!scan.level_points.empty()) job.hull.up = upright(scan.level_points, job.hull.up);
    if (!(job.hull.bow.cross(job.hull.up).norm() >= tolerance::least_bow_up_sine))
        return bad_input("hull.scan", "bow and up, as the points say them, are parallel");
    return job;
}

}  // namespace tearline::scan

#include "core/damage/sample_curve.h"

#include <algorithm>
#include <utility>

#include "core/damage/tolerances.h"

namespace tearline::damage {

namespace {

bool near(const OutlinePoint& a, const OutlinePoint& b) {
    return (a.position - b.position).norm() < tolerance::damage_crowd;
}

class Sampler {
public:
    explicit Sampler(const Curve& curve) : curve_(curve) {}

    Result<std::vector<CurvePoint>> run(int count) {
        auto first = curve_(0.0);
        if (!first) return tl::unexpected(first.error());
        CurvePoint before = *first;
        for (int i = 0; i < count; ++i) {
            auto after = curve_(i + 1.0);
            if (!after) return tl::unexpected(after.error());
            points_.push_back(before);
            if (auto done = refine(i, before, i + 1.0, *after, 0); !done)
                return tl::unexpected(done.error());
            before = *after;
        }
        points_.push_back(before);
        return std::move(points_);
    }

private:
    /// Whether a stretch with its middle needs no more points.
    [[nodiscard]] static bool is_enough(const CurvePoint& a, const CurvePoint& middle,
                                        const CurvePoint& b, int depth) {
        constexpr int deepest = 12, jump = 7;
        // A curve that is off the hull at three places may yet come back between them.
        if (a.beyond && b.beyond) return middle.beyond && depth >= 2;
        const Vec3 chord = b.on.position - a.on.position;
        // The place where it passes over the end is found by halving.
        constexpr int halvings = 40;
        if (a.beyond || b.beyond) return chord.norm() < tolerance::end_passed || depth >= halvings;
        // Only square to the chord: where along the curve the middle sample lies is no matter.
        const Vec3 beside = middle.on.position - a.on.position;
        const Vec3 off = beside - chord * (beside.dot(chord) / chord.squaredNorm());
        // One sample may hide a bend that turns both ways: the first levels are always taken.
        const bool follows = !middle.beyond && off.norm() <= tolerance::damage_chord &&
                             chord.norm() <= tolerance::damage_spacing && depth >= 1;
        // So short a stretch does not make so long a chord: the feet jump over a crease, and
        // points crowded there would say nothing of the way that the curve runs.
        const bool jumps = depth >= jump && chord.norm() > tolerance::damage_spacing;
        return follows || jumps || depth >= deepest;
    }

    /// Adds what is needed between two samples, in order.
    Result<void> refine(double a, const CurvePoint& at_a, double b, const CurvePoint& at_b,
                        int depth) {
        const double middle = 0.5 * (a + b);
        auto at_middle = curve_(middle);
        if (!at_middle) return tl::unexpected(at_middle.error());
        if (is_enough(at_a, *at_middle, at_b, depth)) return {};
        if (auto done = refine(a, at_a, middle, *at_middle, depth + 1); !done) return done;
        points_.push_back(*at_middle);
        return refine(middle, *at_middle, b, at_b, depth + 1);
    }

    const Curve& curve_;
    std::vector<CurvePoint> points_;
};

/// Whether a point lies a little behind the one before it: the curve jumped back between them.
bool steps_back(const OutlinePoint& before, const OutlinePoint& point) {
    const Vec3 step = point.position - before.position;
    return step.dot(before.tangent_out) < 0.0 && step.norm() < tolerance::jump;
}

/// Where the curve jumps by a little the samples crowd on both sides of the jump, and the
/// directions from one to the next say nothing of the way that it runs.
void leave_out_crowds(CurveRun& run) {
    std::vector<OutlinePoint> kept;
    for (const OutlinePoint& point : run.points) {
        while (kept.size() > 1 && steps_back(kept.back(), point)) kept.pop_back();
        if (kept.empty() || !near(kept.back(), point)) kept.push_back(point);
    }
    if (run.closed) {
        while (kept.size() > 3 && near(kept.back(), kept.front())) kept.pop_back();
        if (kept.size() >= 3) run.points = std::move(kept);
        return;
    }
    // The place on the hull's end stays.
    if (kept.size() > 1 && near(kept.back(), run.points.back())) kept.pop_back();
    kept.push_back(run.points.back());
    run.points = std::move(kept);
}

double length_of(const CurveRun& run) {
    double length = 0.0;
    for (std::size_t i = 1; i < run.points.size(); ++i)
        length += (run.points[i].position - run.points[i - 1].position).norm();
    return length;
}

/// Where a curve jumps just as it passes over the hull's end it comes and goes there more than
/// once, farther back each time: such runs could not be closed along the end in order.
void leave_out_jumps_at_end(std::vector<CurveRun>& runs) {
    const auto is_jump = [](const CurveRun& run) {
        return !run.closed && length_of(run) < tolerance::jump;
    };
    if (std::all_of(runs.begin(), runs.end(), is_jump)) return;
    std::erase_if(runs, is_jump);
    for (std::size_t i = 0; runs.size() > 1 && i < runs.size();) {
        CurveRun& run = runs[i];
        const std::size_t next = (i + 1) % runs.size();
        const bool goes_on =
            !run.closed && !runs[next].closed && near(run.points.back(), runs[next].points.front());
        if (!goes_on) {
            ++i;
            continue;
        }
        run.points.insert(run.points.end(), runs[next].points.begin(), runs[next].points.end());
        runs.erase(runs.begin() + static_cast<std::ptrdiff_t>(next));
        if (next < i) --i;
    }
}

}  // namespace

Result<std::vector<CurveRun>> sample_curve(const Curve& curve, int count, bool closed) {
    auto sampled = Sampler(curve).run(count);
    if (!sampled) return tl::unexpected(sampled.error());
    std::vector<CurvePoint>& points = *sampled;
    if (closed) points.pop_back();
    std::size_t first = 0;
    while (first < points.size() && !points[first].beyond) ++first;
    std::vector<CurveRun> runs;
    if (first == points.size()) {
        // An open curve starts and ends on the hull's end by what was asked.
        runs.push_back({{}, closed});
        for (const CurvePoint& point : points) runs.back().points.push_back(point.on);
    } else {
        if (!closed) first = 0;
        const std::size_t n = points.size(), steps = closed ? n : n - 1;
        bool on = !points[first].beyond;
        if (on) runs.push_back({{points[first].on}});
        for (std::size_t k = 1; k <= steps; ++k) {
            const CurvePoint& before = points[(first + k - 1) % n];
            const CurvePoint& here = points[(first + k) % n];
            if (!on && !here.beyond) runs.push_back({{before.on}});
            if (on || !here.beyond) runs.back().points.push_back(here.on);
            on = !here.beyond;
        }
    }
    if (closed) leave_out_jumps_at_end(runs);
    for (CurveRun& run : runs) leave_out_crowds(run);
    std::erase_if(runs, [](const CurveRun& run) {
        return !run.closed && (run.points.size() < 2 ||
                               (run.points.size() == 2 && near(run.points[0], run.points[1])));
    });
    return runs;
}

}  // namespace tearline::damage

#include "core/patch/lapped_patch.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/patch/tolerances.h"
#include "core/plane/crossings.h"
#include "core/surface/chart.h"
#include "core/surface/surface_behind.h"

namespace tearline::patch {
namespace {

/// [mm] rows of the mesh beyond the bend lie no farther apart.
constexpr double longest_row = 10.0;
/// [rad] and on the bend no farther than this turn.
constexpr double turn_a_chord = std::numbers::pi / 24.0;
/// [mm] the strip goes on so far beyond what is asked for: lines are drawn a little past edges.
constexpr double beyond_flap = 5.0;
/// [-] of the chart's own radius that a strip inside a hollow end may take.
constexpr double most_of_radius = 0.7;

/// The face behind a patch and behind the strips that were added to it.
class LappedBehind final : public surface::SurfaceBehind {
public:
    struct Corner {
        std::shared_ptr<const EndStrip> strip;
        std::array<Vec2, 3> uv;
    };
    LappedBehind(std::shared_ptr<const surface::SurfaceBehind> hull, std::size_t first_beyond)
        : hull_(std::move(hull)), first_beyond_(first_beyond) {}

    void add(Corner corner) { corners_.push_back(std::move(corner)); }

    [[nodiscard]] surface::SurfaceSample at(const surface::SurfaceMesh& mesh,
                                            const surface::Location& at) const override {
        if (at.triangle.index() < first_beyond_) return hull_->at(mesh, at);
        const Corner& c = corners_[at.triangle.index() - first_beyond_];
        const Vec2 uv = at.weights[0] * c.uv[0] + at.weights[1] * c.uv[1] + at.weights[2] * c.uv[2];
        return c.strip->at(uv.x(), uv.y());
    }

private:
    std::shared_ptr<const surface::SurfaceBehind> hull_;
    std::size_t first_beyond_;
    std::vector<Corner> corners_;
};

/// Unit, square to a run in the chart and away from the hull.
std::vector<Vec2> outward(const EndRun& run) {
    const std::size_t n = run.chart.size();
    std::vector<Vec2> out;
    for (std::size_t i = 0; i < n; ++i) {
        Vec2 along(0, 0);
        if (i > 0) along += (run.chart[i] - run.chart[i - 1]).normalized();
        if (i + 1 < n) along += (run.chart[i + 1] - run.chart[i]).normalized();
        along.normalize();
        out.emplace_back(along.y(), -along.x());
    }
    return out;
}

/// How far apart the ways over may be drawn in the chart: as they are, or nearer where the end
/// bends about what lies beyond it, so that they do not meet.
double chart_scale(const EndRun& run, const std::vector<Vec2>& out, std::size_t first,
                   std::size_t last, double width) {
    double most = 0.0;  // [1/mm]
    for (std::size_t i = first; i < last; ++i) {
        const Vec2 along = run.chart[i + 1] - run.chart[i];
        most = std::max(most, -(out[i + 1] - out[i]).dot(along) / along.squaredNorm());
    }
    return most * width > most_of_radius ? most_of_radius / (most * width) : 1.0;
}

std::vector<double> rows(const EndBend& bend, std::span<const double> lines) {
    std::vector<double> kept(lines.begin(), lines.end());
    kept.push_back(0.0);
    kept.push_back(bend.girth());
    std::sort(kept.begin(), kept.end());
    kept.push_back(kept.back() + beyond_flap);
    std::vector<double> out{0.0};
    for (const double next : kept) {
        const double before = out.back();
        if (!(next - before > tolerance::weld)) continue;
        const double longest = before < bend.girth() - tolerance::weld
                                   ? std::min(longest_row, turn_a_chord * bend.radius)
                                   : longest_row;
        const int parts = static_cast<int>(std::ceil((next - before) / longest));
        for (int k = 1; k <= parts; ++k) out.push_back(before + (next - before) * k / parts);
    }
    return out;
}

}  // namespace

/// Adds the strips one after the other.
class LapBuilder {
public:
    LapBuilder(const surface::Patch& patch, std::vector<EndRun> runs, std::vector<EndSpan> spans,
               const EndBend& bend, std::span<const double> lines)
        : rows_(rows(bend, lines)) {
        out_.patch = patch;
        out_.bend_ = bend;
        out_.across_ = rows_.back();
        out_.runs_ = std::move(runs);
        out_.spans_ = std::move(spans);
        out_.out_.resize(out_.runs_.size());
        out_.strips_.resize(out_.runs_.size());
        out_.first_beyond_ = patch.mesh.triangle.size();
    }

    Result<LappedPatch> run() {
        surface::Patch& patch = out_.patch;
        auto behind = std::make_shared<LappedBehind>(patch.behind, out_.first_beyond_);
        for (const EndSpan& span : out_.spans_)
            if (auto added = add(span); !added) return tl::unexpected(added.error());
        for (const LappedPatch::Corner& c : out_.corners_) behind->add({out_.strips_[c.run], c.uv});
        patch.behind = std::move(behind);
        patch.mesh.edge_length.clear();
        patch.crease.resize(patch.mesh.triangle.size(), {false, false, false});
        patch.hull_end.resize(patch.mesh.triangle.size(), {false, false, false});
        surface::finish_patch(patch);
        if (auto flat = check_chart(); !flat) return tl::unexpected(flat.error());
        return std::move(out_);
    }

private:
    [[nodiscard]] Result<void> add(const EndSpan& span) {
        const EndRun& run = out_.runs_[span.run];
        std::vector<Vec3> place;
        for (const std::int32_t v : run.vertex) place.push_back(out_.patch.mesh.position[v]);
        const auto strip = std::make_shared<const EndStrip>(place, run.normal, out_.bend_);
        out_.strips_[span.run] = strip;
        const auto [first, last] = columns(run, span);
        if (auto sound = check_strip(*strip, place, first, last); !sound) return sound;
        std::vector<Vec2>& out = out_.out_[span.run] = outward(run);
        const double scale = chart_scale(run, out, first, last, rows_.back());
        if (!(scale > tolerance::least_chart_stretch)) return too_tight(place[(first + last) / 2]);
        for (Vec2& way : out) way *= scale;
        add_mesh(span.run, first, last);
        out_.covered_.push_back({span.run, static_cast<double>(first), static_cast<double>(last)});
        return {};
    }

    /// Numbers of the first and the last point of a run that the strip goes over.
    [[nodiscard]] std::pair<std::size_t, std::size_t> columns(const EndRun& run,
                                                              const EndSpan& span) const {
        auto first = static_cast<std::size_t>(std::max(0.0, std::floor(span.from)));
        auto last = static_cast<std::size_t>(std::ceil(span.to));
        const std::size_t end = run.vertex.size() - 1;
        last = std::min(last, end);
        const auto far = [&](std::size_t a, std::size_t b) {
            return (run.chart[a] - run.chart[b]).norm() > beyond_flap;
        };
        const std::size_t asked_first = first, asked_last = last;
        while (first > 0 && !far(first, asked_first)) --first;
        while (last < end && !far(last, asked_last)) ++last;
        return {first, last};
    }

    [[nodiscard]] Result<void> check_strip(const EndStrip& strip, const std::vector<Vec3>& place,
                                           std::size_t first, std::size_t last) const {
        for (std::size_t i = first; i <= last; ++i)
            for (const double v : rows_)
                if (!(strip.stretch_along(static_cast<double>(i), v) >
                      tolerance::least_end_stretch))
                    return too_tight(place[i]);
        return {};
    }

    [[nodiscard]] Result<void> too_tight(const Vec3& place) const {
        return no_safe_answer(
            "damage.at_end",
            "\"lap\": the hull's end bends so tightly near " + place_text(place) +
                " mm that the cloth, " + fixed(rows_.back() - beyond_flap, 0) +
                " mm over it, would gather in folds; make lap_over or edge_radius less, or say "
                "at_end = \"cut\" and lap it by hand in strips",
            place);
    }

    void add_mesh(std::size_t run_number, std::size_t first, std::size_t last) {
        surface::Patch& patch = out_.patch;
        const EndRun& run = out_.runs_[run_number];
        const EndStrip& strip = *out_.strips_[run_number];
        const std::size_t across = rows_.size();
        std::vector<std::int32_t> number;
        std::vector<Vec3> normal;
        for (std::size_t i = first; i <= last; ++i)
            for (std::size_t j = 0; j < across; ++j) {
                const auto u = static_cast<double>(i);
                const surface::SurfaceSample sample = strip.at(u, rows_[j]);
                normal.push_back(sample.normal);
                if (j == 0) {
                    number.push_back(run.vertex[i]);
                    continue;
                }
                number.push_back(static_cast<std::int32_t>(patch.mesh.position.size()));
                patch.mesh.position.push_back(sample.position);
                patch.chart.push_back(out_.chart_at(run_number, u, rows_[j]));
            }
        const auto add = [&](std::array<std::array<std::size_t, 2>, 3> corner) {
            std::array<std::int32_t, 3> v{};
            std::array<Vec3, 3> n;
            LappedPatch::Corner uv{run_number, {}};
            for (std::size_t k = 0; k < 3; ++k) {
                const auto [i, j] = corner[k];
                v[k] = number[(i - first) * across + j];
                n[k] = normal[(i - first) * across + j];
                uv.uv[k] = Vec2(static_cast<double>(i), rows_[j]);
            }
            patch.mesh.triangle.push_back(v);
            patch.mesh.corner_normal.push_back(n);
            out_.corners_.push_back(uv);
        };
        for (std::size_t i = first; i < last; ++i)
            for (std::size_t j = 0; j + 1 < across; ++j) {
                add({{{i, j}, {i, j + 1}, {i + 1, j + 1}}});
                add({{{i, j}, {i + 1, j + 1}, {i + 1, j}}});
            }
    }

    /// Two ends may face each other over less than both laps take.
    [[nodiscard]] Result<void> check_chart() const {
        const surface::Patch& patch = out_.patch;
        bool sound = !plane::crosses_itself({patch.domain().outer, {}});
        for (std::size_t t = out_.first_beyond_; sound && t < patch.mesh.triangle.size(); ++t) {
            const auto& v = patch.mesh.triangle[t];
            sound = cross2(patch.chart[v[1]] - patch.chart[v[0]],
                           patch.chart[v[2]] - patch.chart[v[0]]) > 0.0;
        }
        if (sound) return {};
        return no_safe_answer("damage.at_end",
                              "\"lap\": the hull's end turns back on itself within the lap, and "
                              "the cloth over it would lie on itself; make lap_over less, or say "
                              "at_end = \"cut\" and lap it by hand in strips");
    }

    LappedPatch out_;
    std::vector<double> rows_;
};

Vec2 LappedPatch::chart_at(std::size_t run, double u, double v) const {
    const std::vector<Vec2>& chart = runs_[run].chart;
    const auto i = std::min(static_cast<std::size_t>(u), chart.size() - 2);
    const double part = u - static_cast<double>(i);
    const auto at = [&](std::size_t k) { return Vec2(chart[k] + v * out_[run][k]); };
    return (1.0 - part) * at(i) + part * at(i + 1);
}

std::vector<Vec2> LappedPatch::line(const EndSpan& span, double v) const {
    std::vector<Vec2> line{chart_at(span.run, span.from, v)};
    constexpr double slack = tolerance::same_on_run;
    for (double u = std::floor(span.from) + 1.0; u < span.to - slack; u += 1.0)
        if (u > span.from + slack) line.push_back(chart_at(span.run, u, v));
    line.push_back(chart_at(span.run, span.to, v));
    return line;
}

Vec3 LappedPatch::place_at(std::size_t run, double u, double v) const {
    return strips_[run]->at(u, v).position;
}

std::optional<LappedPatch::Beyond> LappedPatch::beyond(const Vec2& chart_point) const {
    const auto at = patch.locate(chart_point);
    if (!at || at->triangle.index() < first_beyond_) return std::nullopt;
    const Corner& c = corners_[at->triangle.index() - first_beyond_];
    const Vec2 uv = at->weights[0] * c.uv[0] + at->weights[1] * c.uv[1] + at->weights[2] * c.uv[2];
    return Beyond{chart_at(c.run, uv.x(), 0.0), uv.y()};
}

Result<LappedPatch> lapped_patch(const surface::Patch& patch, std::vector<EndRun> runs,
                                 std::vector<EndSpan> spans, const EndBend& bend,
                                 std::span<const double> lines) {
    return LapBuilder(patch, std::move(runs), std::move(spans), bend, lines).run();
}

}  // namespace tearline::patch

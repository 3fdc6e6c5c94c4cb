#include "core/ground/loops_on_end.h"

#include <algorithm>
#include <limits>
#include <optional>

#include "core/base/length_text.h"
#include "core/ground/tolerances.h"
#include "core/plane/segment.h"

namespace tearline::ground {
namespace {

/// A place of the hull's end.
struct EndPlace {
    std::size_t run = 0;
    double u = 0.0;  ///< number of the run's point, and how far beyond it
    double distance = std::numeric_limits<double>::infinity();  ///< [mm] of what was asked for
};

EndPlace nearest_place(const std::vector<patch::EndRun>& runs, const Vec2& p) {
    EndPlace best;
    for (std::size_t r = 0; r < runs.size(); ++r) {
        const auto& chart = runs[r].chart;
        for (std::size_t i = 0; i + 1 < chart.size(); ++i) {
            const double part = plane::nearest_share(chart[i], chart[i + 1], p);
            const double distance = (p - chart[i] - part * (chart[i + 1] - chart[i])).norm();
            if (distance < best.distance) best = {r, static_cast<double>(i) + part, distance};
        }
    }
    return best;
}

tl::unexpected<Error> refused(const std::string& why, const Vec3& at) {
    return no_safe_answer(
        "damage.at_end",
        "\"lap\": " + why + " near " + place_text(at) +
            " mm, and cloth cannot be rolled over it there; round a corner in the "
            "model as it will be ground (an end that bends in a radius is "
            "lapped), keep the repair off it, or say at_end = \"cut\" and lap it by hand in strips",
        at);
}

/// Walks round a loop from stretch to stretch.
class LoopWalk {
public:
    LoopWalk(const Loop2& loop, const std::vector<patch::EndRun>& runs, const surface::Patch& patch,
             double narrowest)
        : loop_(loop), runs_(runs), patch_(patch), narrowest_(narrowest) {
        for (const Vec2& p : loop) place_.push_back(nearest_place(runs, p));
        for (std::size_t i = 0; i < loop.size(); ++i) on_.push_back(side_on_end(i));
    }

    Result<std::vector<LoopOnEnd>> stretches() const {
        std::vector<LoopOnEnd> out;
        const auto off = std::find(on_.begin(), on_.end(), false);
        if (off == on_.end()) return refused("the cloth goes all round an opening", at(0));
        const auto start = static_cast<std::size_t>(off - on_.begin());
        for (std::size_t k = 1; k < loop_.size(); ++k) {
            const std::size_t i = (start + k) % loop_.size();
            if (!on_[i] || on_[before(i)]) continue;
            auto found = stretch_from(i);
            if (!found) return tl::unexpected(found.error());
            if (*found) out.push_back(**found);
        }
        return out;
    }

    [[nodiscard]] bool touches_end() const {
        return std::any_of(on_.begin(), on_.end(), [](bool on) { return on; });
    }

    [[nodiscard]] Vec3 at(std::size_t i) const {
        const EndPlace& place = place_[i];
        return patch_.mesh.position[runs_[place.run].vertex[static_cast<std::size_t>(place.u)]];
    }

private:
    [[nodiscard]] std::size_t after(std::size_t i) const { return (i + 1) % loop_.size(); }
    [[nodiscard]] std::size_t before(std::size_t i) const {
        return (i + loop_.size() - 1) % loop_.size();
    }

    [[nodiscard]] bool side_on_end(std::size_t i) const {
        const auto near = [](const EndPlace& place) {
            return place.distance < tolerance::edge_on_end;
        };
        return near(place_[i]) && near(place_[after(i)]) &&
               near(nearest_place(runs_, 0.5 * (loop_[i] + loop_[after(i)])));
    }

    Result<std::optional<LoopOnEnd>> stretch_from(std::size_t first) const {
        LoopOnEnd found{first, 1, {place_[first].run, 0.0, 0.0}};
        // A corner belongs to the run of the side that leaves it, or comes to it.
        const std::size_t run = nearest_place(runs_, middle(first)).run;
        double length = 0.0;
        std::size_t i = first;
        for (; on_[i]; i = after(i)) {
            if (nearest_place(runs_, middle(i)).run != run)
                return refused("the hull's end has a sharp corner, or a crease runs out over it,",
                               at(i));
            length += (loop_[after(i)] - loop_[i]).norm();
            ++found.count;
        }
        found.span = {run, u_on(run, first), u_on(run, i)};
        if (!(length >= narrowest_)) return std::optional<LoopOnEnd>();
        if (!(found.span.from < found.span.to))
            return refused("the cloth goes all round an opening", at(first));
        return std::optional(found);
    }

    [[nodiscard]] Vec2 middle(std::size_t i) const { return 0.5 * (loop_[i] + loop_[after(i)]); }

    [[nodiscard]] double u_on(std::size_t run, std::size_t i) const {
        return nearest_place({runs_[run]}, loop_[i]).u;
    }

    const Loop2& loop_;
    const std::vector<patch::EndRun>& runs_;
    const surface::Patch& patch_;
    double narrowest_;  ///< [mm]
    std::vector<EndPlace> place_;
    std::vector<bool> on_;  ///< by point: whether the side that leaves it lies on the end
};

}  // namespace

Result<std::vector<LoopOnEnd>> loops_on_end(const Region2& region,
                                            const std::vector<patch::EndRun>& runs,
                                            const surface::Patch& patch, double narrowest) {
    if (runs.empty()) return std::vector<LoopOnEnd>();
    for (const Loop2& hole : region.holes) {
        const LoopWalk walk(hole, runs, patch, narrowest);
        if (walk.touches_end()) return refused("the cloth goes all round an opening", walk.at(0));
    }
    return LoopWalk(region.outer, runs, patch, narrowest).stretches();
}

Region2 over_end(const Region2& region, const std::vector<LoopOnEnd>& stretches,
                 const patch::LappedPatch& over, double v) {
    Region2 out{{}, region.holes};
    const std::size_t n = region.outer.size();
    std::vector<const LoopOnEnd*> from(n, nullptr);
    std::vector<bool> inner(n, false), end(n, false);
    for (const LoopOnEnd& stretch : stretches) {
        from[stretch.first] = &stretch;
        end[(stretch.first + stretch.count - 1) % n] = true;
        for (std::size_t k = 1; k + 1 < stretch.count; ++k) inner[(stretch.first + k) % n] = true;
    }
    for (std::size_t i = 0; i < n; ++i) {
        if (!inner[i] && !end[i]) out.outer.push_back(region.outer[i]);
        if (from[i] == nullptr) continue;
        // Its ends are put on the end to the last bit: lines that the mesh keeps run along it.
        const patch::EndSpan& span = from[i]->span;
        out.outer.back() = over.chart_at(span.run, span.from, 0.0);
        const std::vector<Vec2> line = over.line(span, v);
        out.outer.insert(out.outer.end(), line.begin(), line.end());
        out.outer.push_back(over.chart_at(span.run, span.to, 0.0));
    }
    return out;
}

}  // namespace tearline::ground

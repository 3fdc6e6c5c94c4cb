#include "core/damage/outline_picks.h"

#include <algorithm>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/damage/outline_words.h"
#include "core/damage/tolerances.h"

namespace tearline::damage {

namespace {

/// Which picks lie on the hull's end. Of a damage that reaches hardly farther in than picks are
/// off, the near ones alone: taken for all on the end they would bound nothing.
void find_those_on_end(const surface::Patch& patch, const HullEndWay& end,
                       std::vector<Pick>& picks) {
    std::vector<double> inwards;
    for (const Pick& pick : picks)
        inwards.push_back(pick.foot.over_hull_end ? 0.0
                                                  : end.distance(patch.chart_point(pick.foot.at)));
    const double deepest = *std::max_element(inwards.begin(), inwards.end());
    const double near =
        std::min(tolerance::picked_on_end, tolerance::picked_on_end_share * deepest);
    for (std::size_t i = 0; i < picks.size(); ++i)
        picks[i].on_hull_end = picks[i].foot.over_hull_end || inwards[i] <= near;
}

}  // namespace

Result<std::vector<Pick>> picks_on_hull(const surface::Patch& patch, const HullEndWay& end,
                                        const std::vector<Vec3>& points, double carried) {
    std::vector<Pick> picks;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Foot foot = foot_of(patch, points[i]);
        if (!(foot.distance <= tolerance::outline_reach + carried))
            return bad_input(
                "damage.outline",
                "point " + std::to_string(i + 1) + " " + point_text(points[i]) + " is " +
                    fixed(foot.distance, 1) + " mm off the hull; points must lie within " +
                    fixed(tolerance::outline_reach, 0) + " mm of it, and the nearest place is " +
                    point_text(foot.sample.position) + " (is the unit of the model right?)",
                points[i]);
        Pick pick{foot, foot.sample.position, foot.over_hull_end};
        if (foot.over_hull_end) pick.knot = points[i];
        picks.push_back(pick);
    }
    find_those_on_end(patch, end, picks);
    for (std::size_t i = 0; i < picks.size(); ++i) {
        const std::size_t next = (i + 1) % picks.size();
        if (!((picks[i].knot - picks[next].knot).norm() > tolerance::damage_chord))
            return bad_input("damage.outline",
                             "points " + std::to_string(i + 1) + " and " +
                                 std::to_string(next + 1) + " lie at one place, " +
                                 point_text(points[i]) + "; leave one out",
                             points[i]);
    }
    return picks;
}

}  // namespace tearline::damage

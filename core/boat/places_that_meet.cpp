#include "core/boat/places_that_meet.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <utility>

#include "core/boat/tell.h"
#include "core/boat/tolerances.h"
#include "core/surface/patch_index.h"

namespace tearline::boat {

namespace {

/// A region of the hull's face, to be asked what lies on it.
class Region {
public:
    Region(const plan::DishView& view, const std::vector<Region3>& edges) : view_(view) {
        constexpr double far = std::numeric_limits<double>::max();
        low_ = Vec3(far, far, far);
        high_ = -low_;
        for (const Vec3& p : view.points) low_ = low_.cwiseMin(p), high_ = high_.cwiseMax(p);
        for (const Region3& edge : edges) {
            edge_.insert(edge_.end(), edge.outer.begin(), edge.outer.end());
            for (const Loop3& hole : edge.holes)
                edge_.insert(edge_.end(), hole.begin(), hole.end());
        }
        if (!view.triangles.empty()) tree_ = surface::build_box_tree(view.points, view.triangles);
    }

    /// Whether two regions have a place in common, or come nearer than that: an edge point of one
    /// then lies on the other.
    [[nodiscard]] bool meets(const Region& other, double within) const {
        if (!tree_ || !other.tree_) return false;
        if (((low_ - other.high_).array() > within).any()) return false;
        if (((other.low_ - high_).array() > within).any()) return false;
        return has_edge_of(other, within) || other.has_edge_of(*this, within);
    }

private:
    [[nodiscard]] bool has_edge_of(const Region& other, double within) const {
        return std::any_of(other.edge_.begin(), other.edge_.end(), [&](const Vec3& p) {
            if (((low_ - p).array() > within).any() || ((p - high_).array() > within).any())
                return false;
            return surface::nearest_triangle(*tree_, view_.points, view_.triangles, p).distance <=
                   within;
        });
    }

    const plan::DishView& view_;
    Vec3 low_, high_;
    std::vector<Vec3> edge_;
    std::optional<surface::BoxTree> tree_;
};

/// What a place takes of one face of the skin.
struct Taken {
    job::Side side;
    Region ground, footprint;
};

std::vector<Taken> taken_by(const Plan& plan) {
    std::vector<Taken> out;
    const auto add = [&](const Plan& part) {
        if (part.job.part.below > 0.0) return;  // under what its near skin's part takes
        out.push_back({part.job.damage.side, Region(part.place.dish_view, part.place.scarf),
                       Region(part.place.footprint_view, part.place.footprint)});
    };
    if (plan.parts.empty()) add(plan);
    for (const Plan& part : plan.parts) add(part);
    return out;
}

enum class Meeting { none, covers, ground, opposite };

Meeting meeting_of(const std::vector<Taken>& first, const std::vector<Taken>& second, double skin) {
    Meeting worst = Meeting::none;
    for (const Taken& a : first)
        for (const Taken& b : second) {
            Meeting found = Meeting::none;
            const double near = tolerance::places_meet;
            if (a.side != b.side)
                found = a.ground.meets(b.ground, skin + near) ? Meeting::opposite : found;
            else if (a.ground.meets(b.ground, near))
                found = Meeting::ground;
            else if (a.footprint.meets(b.footprint, near))
                found = Meeting::covers;
            worst = std::max(worst, found);
        }
    return worst;
}

std::string words_for(Meeting meeting, const std::string& first, const std::string& second) {
    const std::string both = first + " and " + second;
    const std::string merge = "make one repair of them, one [[repair]] with an outline round both";
    switch (meeting) {
        case Meeting::ground:
            return "the ground of " + both + " overlaps: " + merge;
        case Meeting::opposite:
            return "the ground of " + both +
                   " lies over one another on opposite faces of the skin, and what stands between "
                   "was judged for each as if the other were sound: " +
                   merge +
                   " (damage.through), or plan the second by a job file of its own once the first "
                   "has cured";
        case Meeting::covers:
            return "covers or torn bands of " + both + " overlap: " + merge +
                   "; or say allow_overlap = true at the top of the file, and lay the second when "
                   "the covers of the first have cured and are abraded";
        case Meeting::none:
            break;
    }
    return {};
}

}  // namespace

PairsThatMeet refuse_overlaps(std::vector<Repair>& repairs, bool allow_overlap) {
    std::vector<std::vector<Taken>> taken;
    for (const Repair& repair : repairs)
        taken.push_back(repair.plan ? taken_by(*repair.plan) : std::vector<Taken>());
    PairsThatMeet allowed;
    std::vector<std::string> refused(repairs.size());
    const auto refuse = [&](std::size_t i, const std::string& why) {
        refused[i] += (refused[i].empty() ? "" : "; ") + why;
    };
    for (std::size_t i = 0; i < repairs.size(); ++i)
        for (std::size_t j = i + 1; j < repairs.size(); ++j) {
            if (taken[i].empty() || taken[j].empty()) continue;
            const double skin = repairs[i].plan->job.hull.skin.value_or(0.0);
            const Meeting meeting = meeting_of(taken[i], taken[j], skin);
            if (meeting == Meeting::none) continue;
            if (meeting == Meeting::covers && allow_overlap) {
                allowed.emplace_back(i, j);
                continue;
            }
            const std::string why = words_for(meeting, repairs[i].name, repairs[j].name);
            refuse(i, why);
            refuse(j, why);
        }
    for (std::size_t i = 0; i < repairs.size(); ++i) {
        if (refused[i].empty()) continue;
        repairs[i].plan.reset();
        repairs[i].refused = refused[i];
    }
    // Of one that is refused nobody lays covers.
    std::erase_if(allowed, [&](const auto& pair) {
        return !refused[pair.first].empty() || !refused[pair.second].empty();
    });
    return allowed;
}

}  // namespace tearline::boat

#include "core/rates/sounded_shift.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "core/base/tolerances.h"
#include "core/damage/foot.h"
#include "core/ground/corrected_soundings.h"
#include "core/rates/tape_shift.h"
#include "core/rates/tolerances.h"
#include "core/surface/locate_near.h"

namespace tearline::rates {

SoundedShift::SoundedShift(const PlannedGround& on, const dish::SoundedDish& dish,
                           const MovedSurface& surface, const OutlineShift& outline)
    : on_(on), dish_(dish), surface_(surface) {
    add_soundings();
    add_edges(outline);
    for (Eigen::Index pole = 0; pole < surface.poles(); ++pole) {
        std::vector<dish::PlatePoint> points;
        bool changes = false;
        for (const Change& change : changes_) {
            points.push_back({change.at, change.deeper[pole]});
            changes = changes || change.deeper[pole] != 0.0;
        }
        if (!changes) continue;
        plates_.emplace_back(points);
        poles_.push_back(pole);
    }
}

void SoundedShift::add_soundings() {
    const job::Job& job = on_.placed.job;
    const surface::Patch& patch = on_.ground.patch;
    std::optional<TapeShift> tapes;
    if (on_.placed.about_marks) tapes.emplace(on_, surface_);
    for (std::size_t i = 0; i < job.damage.soundings.size(); ++i) {
        const job::Sounding& sounding = job.damage.soundings[i];
        if (sounding.after != job.after_ply) continue;
        const damage::Foot foot = damage::foot_of(patch, sounding.at);
        const Vec2 chart = patch.chart_point(foot.at);
        // A floor that the plate passes above holds nothing.
        if (dish_.before_cut(chart) > dish_.deepest() + tolerance::sounding_floor) continue;
        const bool repeated =
            std::any_of(changes_.begin(), changes_.end(), [&](const Change& other) {
                return (other.at - chart).norm() < tolerance::sounding_repeated;
            });
        if (repeated) continue;
        const auto own = std::find_if(
            on_.asked.taped.begin(), on_.asked.taped.end(), [i](const job::TapedPoint& point) {
                return point.use == job::TapedPoint::Use::sounding && point.index == i;
            });
        const Eigen::Matrix3Xd slides =
            own != on_.asked.taped.end() && tapes
                ? tapes->of(*own, sounding.at)
                : Eigen::Matrix3Xd(-surface_.slide({foot.sample.position, foot.sample.normal}));
        Change change{chart, corrected(sounding, foot.at)};
        const Vec2 slope = dish_.slope(chart);
        for (Eigen::Index pole = 0; pole < slides.cols(); ++pole)
            change.deeper[pole] -= slope.dot(
                surface::chart_direction(patch, foot.at.triangle, Vec3(slides.col(pole))));
        changes_.push_back(std::move(change));
    }
}

Eigen::RowVectorXd SoundedShift::corrected(const job::Sounding& sounding,
                                           const surface::Location& at) const {
    Eigen::RowVectorXd deeper = Eigen::RowVectorXd::Zero(surface_.poles());
    if (sounding.from != job::Sounding::From::straightedge) return deeper;
    const surface::Patch& patch = on_.ground.patch;
    const ground::OldSurface old = ground::old_surface(on_.ground, dish_.ground());
    const auto rest =
        ground::straightedge_rest(old, at, ground::straightedge_of(on_.ground, at, sounding));
    if (!rest) return deeper;
    const auto lifts = [&](const ground::EdgeContact& contact) -> Eigen::RowVectorXd {
        const auto sample = damage::foot_of(old.widest(), contact.at).sample;
        return contact.share * contact.lift.transpose() *
               surface_.move({sample.position, sample.normal});
    };
    const auto here = patch.sample(at);
    // How far the old surface rises over the straightedge.
    return here.normal.transpose() * surface_.move({here.position, here.normal}) -
           lifts(rest->ahead) - lifts(rest->behind);
}

void SoundedShift::add_edges(const OutlineShift& outline) {
    constexpr double edge_points = 48.0;
    const surface::Patch& patch = on_.ground.patch;
    for (const Region2& region : dish_.ground()) {
        const double spacing = perimeter(region.outer) / edge_points;
        double run = spacing;
        for (std::size_t i = 0; i < region.outer.size(); ++i) {
            const Vec2 &a = region.outer[i], &b = region.outer[(i + 1) % region.outer.size()];
            run += (b - a).norm();
            if (run < spacing || !((b - a).norm() > 0.0)) continue;
            run = 0.0;
            const bool crowded =
                std::any_of(changes_.begin(), changes_.end(), [&](const Change& other) {
                    return (other.at - a).norm() < tolerance::sounding_repeated;
                });
            if (crowded) continue;
            const Vec2 out = -turned_left(b - a).normalized();
            const auto at = surface::locate_near(patch, a).at;
            const Vec3 direction = surface::space_direction(patch, at.triangle, out).normalized();
            changes_.push_back({a, -dish_.slope(a).dot(out) * outline.outward(a, direction)});
        }
    }
}

Eigen::RowVectorXd SoundedShift::outward(const Vec2& chart) const {
    Eigen::RowVectorXd moved = Eigen::RowVectorXd::Zero(surface_.poles());
    // On a floor a level is no line: not flatter than any scarf is counted.
    const double slope = std::max(dish_.slope(chart).norm(), tolerance::flattest_wall);
    for (std::size_t i = 0; i < poles_.size(); ++i) moved[poles_[i]] = plates_[i].at(chart) / slope;
    return moved;
}

}  // namespace tearline::rates

#include "core/rates/outline_shift.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "core/damage/foot.h"
#include "core/plane/nearest_on_line.h"
#include "core/rates/tape_shift.h"
#include "core/rates/tolerances.h"
#include "core/surface/locate_near.h"

namespace tearline::rates {

std::vector<BasePlace> places_between(const surface::Patch& patch, const Vec2& from,
                                      const Vec2& to) {
    const int steps =
        std::max(1, static_cast<int>(std::ceil((to - from).norm() / tolerance::way_spacing)));
    std::vector<BasePlace> places;
    for (int i = 0; i <= steps; ++i) {
        const Vec2 chart = from + (to - from) * (static_cast<double>(i) / steps);
        const auto sample = patch.sample(surface::locate_near(patch, chart).at);
        if (places.empty() || (sample.position - places.back().at).norm() > 0.0)
            places.push_back({sample.position, sample.normal});
    }
    return places;
}

OutlineShift::OutlineShift(const PlannedGround& on, const MovedSurface& surface)
    : on_(on), surface_(surface) {
    if (on.placed.job.damage.centre) return;
    pick(on);
    if (on.placed.job.damage.join == job::Join::smooth) draw_smooth();
}

void OutlineShift::pick(const PlannedGround& on) {
    std::optional<TapeShift> tapes;
    if (on.placed.about_marks) tapes.emplace(on, surface_);
    const auto& outline = on.ground.outline.points;
    for (std::size_t i = 0; i < on.placed.job.damage.outline.size(); ++i) {
        const Vec3& at = on.placed.job.damage.outline[i];
        const auto nearest =
            std::min_element(outline.begin(), outline.end(), [&](const auto& a, const auto& b) {
                return (a.position - at).squaredNorm() < (b.position - at).squaredNorm();
            });
        const auto& taped = on.asked.taped;
        const auto own = std::find_if(taped.begin(), taped.end(), [i](const auto& point) {
            return point.use == job::TapedPoint::Use::outline && point.index == i;
        });
        const auto foot = damage::foot_of(on.ground.patch, at).sample;
        const BasePlace place{foot.position, foot.normal};
        Picked picked;
        picked.index = static_cast<std::size_t>(nearest - outline.begin());
        picked.at = place.at;
        picked.shift = own != taped.end() && tapes ? tapes->of(*own, at)
                                                   : Eigen::Matrix3Xd(-surface_.slide(place));
        picked.moved = picked.shift + surface_.move(place);
        picked_.push_back(std::move(picked));
    }
    std::stable_sort(picked_.begin(), picked_.end(),
                     [](const Picked& a, const Picked& b) { return a.index < b.index; });
}

void OutlineShift::draw_smooth() {
    std::vector<Vec3> points;
    for (const Picked& picked : picked_) points.push_back(picked.at);
    drawn_.emplace_back(points);
    for (Eigen::Index pole = 0; pole < surface_.poles(); ++pole) {
        bool moves = false;
        for (std::size_t i = 0; i < points.size(); ++i) {
            points[i] = picked_[i].at + picked_[i].moved.col(pole);
            moves = moves || picked_[i].moved.col(pole).squaredNorm() > 0.0;
        }
        if (!moves) continue;
        drawn_.emplace_back(points);
        poles_.push_back(pole);
    }
}

Eigen::RowVectorXd OutlineShift::outward(const Vec2& chart, const Vec3& direction) const {
    const plane::OnLine from = plane::nearest_on_loop(on_.ground.outline.chart, chart);
    return along(from, direction) -
           surface_.stretch(places_between(on_.ground.patch, from.at, chart));
}

Eigen::RowVectorXd OutlineShift::along(const plane::OnLine& point, const Vec3& direction) const {
    if (const auto& centre = on_.placed.job.damage.centre) {
        const surface::Patch& patch = on_.ground.patch;
        const Vec2 middle = patch.chart_point(patch.nearest(*centre).at);
        const auto ray = places_between(patch, middle, point.at);
        if (ray.size() < 2) return Eigen::RowVectorXd::Zero(surface_.poles());
        const Vec3 arriving = (ray.back().at - ray[ray.size() - 2].at).normalized();
        return -arriving.dot(direction) * surface_.stretch(ray);
    }
    // Between the picked points on both sides, by how far along the outline it lies.
    const auto next = std::upper_bound(
        picked_.begin(), picked_.end(), point.segment,
        [](std::size_t index, const Picked& picked) { return index < picked.index; });
    const Picked& behind = next == picked_.begin() ? picked_.back() : *std::prev(next);
    const Picked& ahead = next == picked_.end() ? picked_.front() : *next;
    const Loop2& loop = on_.ground.outline.chart;
    const auto run = [&](std::size_t from, std::size_t to) {
        double length = 0.0;
        for (std::size_t i = from; i != to; i = (i + 1) % loop.size())
            length += (loop[(i + 1) % loop.size()] - loop[i]).norm();
        return length;
    };
    const double whole = run(behind.index, ahead.index);
    const double part = run(behind.index, point.segment) + (point.at - loop[point.segment]).norm();
    const double t = whole > 0.0 ? std::clamp(part / whole, 0.0, 1.0) : 0.0;
    if (drawn_.empty()) return direction.transpose() * ((1.0 - t) * behind.shift + t * ahead.shift);
    // The curve moves in space, the surface under it as well: the foot follows their difference.
    const auto foot = on_.ground.patch.sample(surface::locate_near(on_.ground.patch, point.at).at);
    Eigen::RowVectorXd moved = -direction.transpose() * surface_.move({foot.position, foot.normal});
    const auto segment = static_cast<std::size_t>(&behind - picked_.data());
    const Vec3 before = drawn_.front().at(segment, t);
    for (std::size_t i = 0; i < poles_.size(); ++i)
        moved[poles_[i]] += direction.dot(drawn_[i + 1].at(segment, t) - before);
    return moved;
}

}  // namespace tearline::rates

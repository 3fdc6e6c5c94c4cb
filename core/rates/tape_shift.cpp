#include "core/rates/tape_shift.h"

#include <Eigen/QR>
#include <algorithm>
#include <utility>
#include <vector>

#include "core/damage/foot.h"
#include "core/damage/straight_way.h"
#include "core/rates/tolerances.h"

namespace tearline::rates {

namespace {

/// A tape on the surface: its places and its direction at both ends.
struct Tape {
    std::vector<BasePlace> places;
    Vec3 leaving{0, 0, 0}, arriving{0, 0, 0};
};

std::optional<Tape> tape(const surface::Patch& patch, const Vec3& from, const Vec3& to) {
    const auto way = damage::straight_way(patch, damage::foot_of(patch, from).at,
                                          damage::foot_of(patch, to).at, tolerance::way_spacing);
    if (!way || way->at.size() < 2) return std::nullopt;
    Tape out;
    for (const surface::Location& at : way->at) {
        const auto sample = patch.sample(at);
        out.places.push_back({sample.position, sample.normal});
    }
    out.leaving = way->direction.front();
    out.arriving = way->direction.back();
    return out;
}

}  // namespace

TapeShift::TapeShift(const PlannedGround& on, const MovedSurface& surface)
    : on_(on), surface_(surface) {
    for (std::size_t i = 0; i < on.placed.job.marks.size(); ++i) {
        const job::Mark& mark = on.placed.job.marks[i];
        if (mark.at) marks_[mark.name] = {*mark.at, mark_shift(i)};
    }
}

Eigen::Matrix3Xd TapeShift::mark_shift(std::size_t index) const {
    const job::Mark& mark = on_.placed.job.marks[index];
    const surface::Patch& patch = *on_.placed.about_marks;
    const auto& taped = on_.asked.taped;
    const auto own = std::find_if(taped.begin(), taped.end(), [&](const auto& point) {
        return point.use == job::TapedPoint::Use::mark && point.index == index;
    });
    if (own == taped.end()) {  // given in space

        const auto sample = damage::foot_of(patch, *mark.at).sample;
        return -surface_.slide({sample.position, sample.normal});
    }
    if (on_.asked.marks[index].at || own->distances.size() > 1) return of(*own, *mark.at);
    // Half a distance from the middle, along a straight way.
    const Vec3 middle = 0.5 * (on_.hull.report.extent_min + on_.hull.report.extent_max);
    const auto way = tape(patch, middle, *mark.at);
    if (!way) return Eigen::Matrix3Xd::Zero(3, surface_.poles());
    return -way->arriving * surface_.stretch(way->places);
}

Eigen::Matrix3Xd TapeShift::below_plane(const surface::Patch& patch, const Vec3& at) const {
    const auto sample = damage::foot_of(patch, at).sample;
    const Vec3& n = sample.normal;
    Eigen::Matrix3Xd shift = -surface_.move({sample.position, n});
    // In the tangent plane, x and y as they were.
    shift.row(2) = -(n.x() * shift.row(0) + n.y() * shift.row(1)) / n.z();
    return shift;
}

Eigen::Matrix3Xd TapeShift::of(const job::TapedPoint& point, const Vec3& at) const {
    const surface::Patch& patch = *on_.placed.about_marks;
    if (point.distances.empty()) return below_plane(patch, at);
    const auto n = static_cast<Eigen::Index>(point.distances.size());
    Eigen::MatrixXd arriving(n, 3), longer(n, surface_.poles());
    for (Eigen::Index i = 0; i < n; ++i) {
        const auto mark = marks_.find(point.distances[static_cast<std::size_t>(i)].first);
        const auto way = mark == marks_.end() ? std::nullopt : tape(patch, mark->second.first, at);
        if (!way) return Eigen::Matrix3Xd::Zero(3, surface_.poles());
        arriving.row(i) = way->arriving.transpose();
        longer.row(i) =
            surface_.stretch(way->places) - way->leaving.transpose() * mark->second.second;
    }
    return -arriving.completeOrthogonalDecomposition().solve(longer);
}

}  // namespace tearline::rates

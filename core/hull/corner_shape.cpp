#include "core/hull/corner_shape.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/hull/batten_patch.h"
#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

/// The bend of the line that has the curvatures measured on both flats. About the centre of the
/// line's circle a place at p turns on 1/|b| + p.b/|b|; of a circle's curvature a surface shows as
/// much as its normal points away from the centre: k (1 + p.b) = n.b.
Vec2 bend_of_line(const CornerSection& section, const job::Corner& corner) {
    if (!corner.gaps_along) return Vec2::Zero();
    Eigen::Matrix2d by;
    Vec2 measured;
    for (const Eigen::Index i : {0, 1}) {
        const SectionPoint end = section.at(i == 0 ? section.bend_from() : section.bend_to());
        measured[i] = curvature_of_gap((*corner.gaps_along)[static_cast<std::size_t>(i)],
                                       0.5 * corner.batten.value());
        by.row(i) = (end.normal() - measured[i] * end.at).transpose();
    }
    Eigen::CompleteOrthogonalDecomposition<Eigen::Matrix2d> solver;
    // Flats that hardly turn towards each other do not tell how the line bends sideways.
    solver.setThreshold(tolerance::least_corner_turn);
    solver.compute(by);
    return solver.solve(measured);
}

}  // namespace

Result<CornerShape> CornerShape::make(const job::Corner& corner, const CornerFrame& frame) {
    CornerShape shape(CornerSection(corner), frame);
    shape.bend_ = bend_of_line(shape.section_, corner);
    const double bend = shape.bend_.norm();
    shape.half_length_ = 0.5 * corner.length;
    if (!(bend > 0.0)) return shape;
    if (!(shape.half_length_ * bend <= tolerance::measured_turn))
        return bad_input("hull.corner.length",
                         "the line turns so far by gaps_along that it cannot be drawn flat; give "
                         "less length, or measure the gaps again");
    constexpr int places = 64;
    for (int i = 0; i <= places; ++i) {
        const double round =
            shape.section_.least() + (shape.section_.most() - shape.section_.least()) * i / places;
        if (!(shape.share(shape.section_.at(round).at) > tolerance::least_corner_share))
            return bad_input("hull.corner.gaps_along",
                             "by them the line bends round a centre that lies within the flats; "
                             "give less in flats, or measure the gaps again");
    }
    return shape;
}

Vec3 CornerShape::place(const Vec2& in_section) const {
    return in_section.x() * frame_.across + in_section.y() * frame_.out;
}

Vec3 CornerShape::at(double along, double round) const {
    const Vec2 p = section_.at(round).at;
    const double bend = bend_.norm();
    if (!(bend > 0.0)) return place(p) + along * frame_.line;
    const Vec2 away = bend_ / bend;
    const double radius = share(p) / bend, turn = along * bend;
    const double half = std::sin(0.5 * turn);
    return place(p - 2.0 * radius * half * half * away) + radius * std::sin(turn) * frame_.line;
}

bool CornerShape::holds(double along, double round) const {
    return std::abs(along) <= half_length_ && round >= section_.least() && round <= section_.most();
}

std::array<double, 2> CornerShape::bends_along() const {
    const auto at = [&](double round) {
        const SectionPoint end = section_.at(round);
        return bend_.dot(end.normal()) / share(end.at);
    };
    return {at(section_.bend_from()), at(section_.bend_to())};
}

}  // namespace tearline::hull

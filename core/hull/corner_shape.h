#pragma once
#include <array>
#include <optional>

#include "core/base/result.h"
#include "core/base/vec.h"
#include "core/hull/corner_section.h"
#include "core/job/measurements.h"

namespace tearline::hull {

/// Which way a corner lies before the person.
struct CornerFrame {
    Vec3 line{1, 0, 0};    ///< unit: forward, or up
    Vec3 across{0, 1, 0};  ///< unit: up, or forward
    Vec3 out{0, 0, 1};     ///< unit: towards the person
};

/// A section swept along a straight line, or round an axis where the corner's line bends.
class CornerShape {
public:
    /// @error bad_input  a line that bends more than the flats are wide for
    [[nodiscard]] static Result<CornerShape> make(const job::Corner& corner,
                                                  const CornerFrame& frame);

    /// The place so far along the line of the marks, and so far round from it [mm].
    [[nodiscard]] Vec3 at(double along, double round) const;
    [[nodiscard]] bool holds(double along, double round) const;

    [[nodiscard]] const CornerSection& section() const { return section_; }
    [[nodiscard]] const CornerFrame& frame() const { return frame_; }
    /// [mm] to each side of the middle, along the line of the marks.
    [[nodiscard]] double half_length() const { return half_length_; }
    /// [1/mm] which way the line of the marks bends, across and out: away from the centre that it
    /// goes round, as long as one over its radius.
    [[nodiscard]] const Vec2& bend() const { return bend_; }
    /// The place of the section in the plane through the middle.
    [[nodiscard]] Vec3 place(const Vec2& in_section) const;
    /// [1/mm] how much the line bends away from a batten laid along it, where the bend ends.
    [[nodiscard]] std::array<double, 2> bends_along() const;

private:
    CornerShape(CornerSection section, const CornerFrame& frame)
        : section_(std::move(section)), frame_(frame) {}
    /// Radius of a place's circle over that of the line of the marks.
    [[nodiscard]] double share(const Vec2& in_section) const { return 1.0 + bend_.dot(in_section); }

    CornerSection section_;
    CornerFrame frame_;
    double half_length_ = 0.0;
    Vec2 bend_{0, 0};
};

}  // namespace tearline::hull

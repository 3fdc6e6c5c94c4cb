#pragma once
#include <vector>

#include "core/base/vec.h"

namespace tearline::scan {

/// A place seen straight on: plane coordinates along two directions, and heights over them.
struct PlaceView {
    Vec3 middle{0, 0, 0};  ///< [mm]
    Vec3 normal{0, 0, 1};  ///< unit, towards the eye
    Vec3 right{1, 0, 0}, up{0, 1, 0};

    static PlaceView along(const Vec3& middle, const Vec3& normal);
    [[nodiscard]] Vec2 flat(const Vec3& point) const {
        return {(point - middle).dot(right), (point - middle).dot(up)};
    }
    [[nodiscard]] Vec3 raised(const Vec2& flat, double height) const {
        return middle + flat.x() * right + flat.y() * up + height * normal;
    }
};

/// A chine as it is seen straight on: a line that goes one way, known by how far along its chord.
class CreaseLine {
public:
    /// @param places  [mm] in order along it, seen in a view; three or more
    explicit CreaseLine(const std::vector<Vec2>& places);

    /// Whether each place lies farther along the chord than the one before it.
    [[nodiscard]] bool goes_one_way() const { return one_way_; }
    /// How far along a place lies [mm].
    [[nodiscard]] double along(const Vec2& flat) const { return (flat - from_).dot(way_); }
    /// How far it lies to the left of the line, across the chord [mm].
    [[nodiscard]] double left_of(const Vec2& flat) const {
        const double s = along(flat);
        return (flat - from_).dot(across()) - offset(s);
    }
    /// The place of the line at a length along its chord; straight on past its ends.
    [[nodiscard]] Vec2 at(double along) const {
        return from_ + along * way_ + offset(along) * across();
    }
    [[nodiscard]] const Vec2& way() const { return way_; }
    [[nodiscard]] Vec2 across() const { return {-way_.y(), way_.x()}; }
    [[nodiscard]] double length() const { return length_; }

    /// The same chord, the line led through other places; two or more, in order along it.
    void lead_through(const std::vector<Vec2>& places);

private:
    struct Knot {
        double along = 0.0, offset = 0.0;  ///< [mm]
    };
    [[nodiscard]] double offset(double along) const;

    Vec2 from_{0, 0}, way_{1, 0};
    double length_ = 0.0;
    bool one_way_ = true;
    std::vector<Knot> knots_;  ///< ascending
};

}  // namespace tearline::scan

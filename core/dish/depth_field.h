#pragma once
#include <span>

#include "core/base/vec.h"

namespace tearline::dish {

class ScannedDish;
class SoundedDish;

/// The ground-out cavity as a depth over the base surface, however it is known.
class DepthField {
public:
    virtual ~DepthField() = default;

    /// Depth below the base surface [mm], 0 outside the ground area.
    [[nodiscard]] virtual double depth(const Vec2& chart_point) const = 0;

    /// Depth of its deepest place [mm].
    [[nodiscard]] virtual double deepest() const = 0;

    /// Where the distance outside the damage outline alone tells the depth: (offset, depth) pairs
    /// [mm], straight between them, so that the field bends there. Empty where it is smooth.
    [[nodiscard]] virtual std::span<const Vec2> profile() const { return {}; }

    /// Whether it was ground and measured; else it is planned, and still to be ground.
    [[nodiscard]] virtual bool measured() const = 0;

    /// The surface through soundings, for who follows each of them; none where it is another.
    [[nodiscard]] virtual const SoundedDish* soundings() const { return nullptr; }

    /// The field through a scan, for who tells how sure it is; none where it is another.
    [[nodiscard]] virtual const ScannedDish* scan() const { return nullptr; }
};

}  // namespace tearline::dish

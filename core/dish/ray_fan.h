#pragma once
#include <functional>

#include "core/dish/offset_sweep.h"

namespace tearline::dish {

/// Shoots the ray at a fraction [-] of the way between two known ones.
using ShootBetween = std::function<SweptRay(double)>;

/// Fills the room between neighbouring rays with as many as the front's shape asks for.
class RayFiller {
public:
    RayFiller(const surface::Patch& patch, std::span<const double> stations,
              const SweepOptions& options)
        : patch_(patch), stations_(stations), options_(options) {}

    /// Adds the rays between two neighbours to `out`, in order.
    /// @param width  [mm] how far apart they set out, or would at 100 mm when they turn at a place
    void fill(const ShootBetween& shoot, double width, const SweptRay& first, const SweptRay& last,
              std::vector<SweptRay>& out) const;

private:
    struct Span;
    /// The vertices that a fan set out from, the last one first.
    struct Origin {
        std::int32_t vertex;
        const Origin* before;
    };
    void fill(const Span& span, std::vector<SweptRay>& out) const;
    [[nodiscard]] bool too_far_apart(const SweptRay& a, const SweptRay& b) const;
    void fill_from_vertex(const SweptRay& a, const SweptRay& b, const Origin* origins,
                          std::vector<SweptRay>& out) const;

    const surface::Patch& patch_;
    std::span<const double> stations_;
    SweepOptions options_;
};

/// A ray in a chart direction from a point of the chart.
/// @param vertex  the patch's vertex there, -1 for none
[[nodiscard]] RayStart start_towards(const surface::Patch& patch, const Vec2& from,
                                     const Vec2& direction, std::int32_t vertex);

}  // namespace tearline::dish

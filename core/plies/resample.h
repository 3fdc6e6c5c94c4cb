#pragma once
#include <functional>
#include <vector>

#include "core/base/outline.h"

namespace tearline::plies {

/// Edge length asked for at a place of the chart [mm].
using SizeAt = std::function<double(const Vec2&)>;

/// A curve by points, and which of them must stay: corners, ends, crossings.
struct MarkedCurve {
    std::vector<Vec2> points;
    std::vector<char> keep;
    bool closed = false;
};

/// Marks the ends and corners of a curve, merging points that coincide.
[[nodiscard]] MarkedCurve mark_corners(const std::vector<Vec2>& points, bool closed);

/// Puts a point on the curve where it crosses something, and keeps it.
/// @param segment  index of the segment's first point
void insert_kept(MarkedCurve& curve, std::size_t segment, const Vec2& point);

enum class Between { straight, smooth };

/// Points along the curve about as far apart as asked, closer where a chord would leave the curve
/// by more than tolerance::outline_chord; kept points stay.
///
/// @param between  whether the curve runs straight or bends between its points
[[nodiscard]] std::vector<Vec2> resample(const MarkedCurve& curve, const SizeAt& size,
                                         Between between);

}  // namespace tearline::plies

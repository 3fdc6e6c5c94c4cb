#pragma once
#include <array>

namespace tearline::drawing {

/// How a line looks on every template, in an SVG file and on a printed page alike.
struct LineStyle {
    double width = 0.2;                ///< [mm]
    std::array<double, 2> dash{0, 0};  ///< [mm] of ink and of gap; zeros: a solid line
};

/// Where the mat is torn: heavy, dashed.
inline constexpr LineStyle tear_style{0.6, {4.2, 1.5}};
/// Where a blade goes: heavy, solid.
inline constexpr LineStyle cut_style{0.6, {0, 0}};
inline constexpr LineStyle relief_style{0.5, {0, 0}};
/// The edge of the full-thickness ply: thin, solid.
inline constexpr LineStyle net_style{0.3, {0, 0}};
/// A ring of the grind guide.
inline constexpr LineStyle ring_style{0.25, {0, 0}};
/// The edge of the next smaller ply: thin, dotted.
inline constexpr LineStyle next_edge_style{0.25, {1.0, 1.2}};

}  // namespace tearline::drawing

#pragma once
#include <array>
#include <optional>

#include "core/drawing/drawing.h"

namespace tearline::drawing {

/// How a line looks on every template, in an SVG file and on a printed page alike.
struct LineStyle {
    double width = 0.2;                ///< [mm]
    std::array<double, 2> dash{0, 0};  ///< [mm] of ink and of gap; zeros: a solid line
};

/// Nothing for what only a cutter sees: notches, holes to drill.
[[nodiscard]] constexpr std::optional<LineStyle> line_style(Role role) {
    switch (role) {
        case Role::tear:
        case Role::torn_hole:
            return LineStyle{0.6, {4.2, 1.5}};  // heavy, dashed
        case Role::cut:
        case Role::hole:
            return LineStyle{0.6};  // heavy: where a blade goes
        case Role::relief:
            return LineStyle{0.5};
        case Role::net:
            return LineStyle{0.3};
        case Role::ring:
        case Role::sketch:
            return LineStyle{0.25};
        case Role::next_edge:
            return LineStyle{0.25, {1.0, 1.2}};  // dotted
        case Role::fold:
            return LineStyle{0.35, {8.0, 1.5}};  // long dashes
        case Role::kerf:
            return LineStyle{0.2, {3.0, 1.0}};  // fine dashes
        case Role::datum:
        case Role::fibre:
            return LineStyle{0.35};
        case Role::arrow:
            return LineStyle{0.5};
        case Role::tick:
            return LineStyle{0.4};
        case Role::tape:
        case Role::frame:
            return LineStyle{0.2};
        case Role::notch:
        case Role::drill:
            break;
    }
    return std::nullopt;
}

}  // namespace tearline::drawing

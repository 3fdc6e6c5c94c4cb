#pragma once
#include <cmath>
#include <numbers>

#include "core/paper/drawing.h"
#include "core/paper/print_plan.h"

namespace tearline::paper {

inline Loop2 circle(double radius, const Vec2& at = {0, 0}, int count = 360) {
    Loop2 loop;
    for (int k = 0; k < count; ++k) {
        const double angle = 2.0 * std::numbers::pi * k / count;
        loop.push_back(at + radius * Vec2(std::cos(angle), std::sin(angle)));
    }
    return loop;
}

inline Loop2 rectangle(double width, double height) {
    return {{0, 0}, {width, 0}, {width, height}, {0, height}};
}

inline Drawing outlined(const std::string& id, Loop2 loop) {
    Drawing drawing;
    drawing.id = id;
    drawing.strokes.push_back({std::move(loop), true, Pen::cut});
    return drawing;
}

/// Mat discs of these net radii with a 20 mm tear margin, and the rings that go with them.
inline PrintPlan disc_plan(const std::vector<double>& radii) {
    PrintPlan plan;
    plan.title = "Sandpiper";
    for (std::size_t k = 0; k < radii.size(); ++k) {
        PrintPiece piece;
        piece.ply = static_cast<int>(k) + 1;
        piece.id = std::to_string(piece.ply) + "A";
        piece.kind = "mat";
        piece.outline.net.outer = circle(radii[k]);
        piece.outline.tear = Region2{circle(radii[k] + 20.0), {}};
        plan.pieces.push_back(piece);
        plan.guide.rings.push_back({{circle(radii[k])}, "ring", 1.0, piece.ply});
    }
    plan.guide.footprint.outer = circle(radii.back() + 20.0);
    return plan;
}

}  // namespace tearline::paper

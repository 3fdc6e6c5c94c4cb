#pragma once
#include <cmath>
#include <numbers>

#include "core/drawing/drawing.h"
#include "core/templates/template_set.h"
#include "tests/support/loops.h"

namespace tearline::drawing {

using test::circle;

inline Loop2 rectangle(double width, double height) {
    return {{0, 0}, {width, 0}, {width, height}, {0, height}};
}

inline Drawing outlined(const std::string& name, Loop2 loop) {
    Drawing drawing;
    drawing.name = name;
    drawing.lines.push_back({Role::cut, std::move(loop), true});
    return drawing;
}

/// Mat discs of these net radii with a 20 mm tear margin, and the rings that go with them.
inline templates::TemplateSet disc_set(const std::vector<double>& radii) {
    templates::TemplateSet set;
    set.title = "Sandpiper";
    for (std::size_t k = 0; k < radii.size(); ++k) {
        templates::PieceTemplate piece;
        piece.ply = static_cast<int>(k) + 1;
        piece.id = std::to_string(piece.ply) + "A";
        piece.outline.net.outer = circle(radii[k]);
        piece.outline.tear = Region2{circle(radii[k] + 20.0), {}};
        set.pieces.push_back(piece);
        set.guide.rings.push_back({{circle(radii[k])}, "ring", 1.0, piece.ply});
    }
    set.guide.footprint.outer = circle(radii.back() + 20.0);
    return set;
}

inline bool is_upright(const Drawing::Text& text) {
    return text.up.x() == 0.0 && text.up.y() > 0.0;
}

/// Read from below upwards.
inline bool is_upwards(const Drawing::Text& text) {
    return text.up.x() < 0.0 && text.up.y() == 0.0;
}

/// Whether a line runs through the box of words, by points closer together than letters.
inline bool runs_through(const std::vector<Vec2>& line, bool closed, const Drawing::Text& text) {
    const Loop2 box = corners(box_of(text));
    const std::size_t segments = line.size() - (closed ? 0 : 1);
    for (std::size_t i = 0; i < segments; ++i) {
        const Vec2 &a = line[i], &b = line[(i + 1) % line.size()];
        const int steps = 1 + static_cast<int>((b - a).norm() / 0.25);
        for (int k = 0; k <= steps; ++k)
            if (contains(box, a + double(k) / steps * (b - a))) return true;
    }
    return false;
}

}  // namespace tearline::drawing

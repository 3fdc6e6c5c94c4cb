#pragma once
#include <functional>

#include "core/pieces/piece.h"
#include "core/templates/mark.h"

/// A flat piece of square cells for the tests of templates: on the hull, in the chart and on the
/// table it is the same, so that every place is known by hand.
namespace tearline::templates {

/// @param columns, rows  of cells, the lower left corner of the first at `corner`
/// @param cell           [mm]
/// @param keeps          whether the cell at (column, row) is cloth
inline pieces::Piece plate(int columns, int rows, double cell, const Vec2& corner,
                           const std::function<bool(int, int)>& keeps = {}) {
    pieces::Piece piece;
    piece.id = "1A";
    for (int j = 0; j <= rows; ++j)
        for (int i = 0; i <= columns; ++i) piece.flat.push_back(corner + cell * Vec2(i, j));
    const auto at = [columns](int i, int j) { return j * (columns + 1) + i; };
    for (int j = 0; j < rows; ++j)
        for (int i = 0; i < columns; ++i) {
            if (keeps && !keeps(i, j)) continue;
            piece.lay.triangle.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            piece.lay.triangle.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    piece.chart = piece.flat;
    for (const Vec2& p : piece.flat) piece.base.emplace_back(p.x(), p.y(), 0.0);
    piece.lay.position = piece.base;
    piece.lay.corner_normal.assign(piece.lay.triangle.size(),
                                   {Vec3(0, 0, 1), Vec3(0, 0, 1), Vec3(0, 0, 1)});
    surface::set_arc_lengths(piece.lay);
    return piece;
}

/// The marks of one kind, in their order.
template <class Kind>
std::vector<Kind> all_of(const std::vector<Mark>& marks) {
    std::vector<Kind> out;
    for (const Mark& mark : marks)
        if (const auto* found = std::get_if<Kind>(&mark)) out.push_back(*found);
    return out;
}

}  // namespace tearline::templates

#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "core/paper/ink.h"

namespace tearline::paper {

/// [mm] a cell of the packing grid
inline constexpr double packing_cell = 2.0;
/// [mm] kept between two drawings on a page
inline constexpr double packing_gap = 4.0;

struct Cell {
    int x = 0, y = 0;
};

/// Which cells of a grid are taken; rows are words of bits, so that a whole row compares at once.
class Occupancy {
public:
    Occupancy(int width, int height);

    [[nodiscard]] int width() const { return width_; }
    [[nodiscard]] int height() const { return height_; }
    [[nodiscard]] int taken() const;
    [[nodiscard]] bool at(int x, int y) const;
    void take(int x, int y);

    /// Whether the other, its lower left cell moved to `to`, takes a cell that is taken here.
    [[nodiscard]] bool collides(const Occupancy& other, Cell to) const;
    void take(const Occupancy& other, Cell to);

    /// The lowest, then leftmost place for the other; nothing when it does not fit.
    ///
    /// @param height_limit  [cells] its top stays at or below this
    [[nodiscard]] std::optional<Cell> lowest_place(const Occupancy& other, int height_limit) const;

    /// Every cell within `cells` of a taken one, in both directions, on a grid larger all round.
    [[nodiscard]] Occupancy grown(int cells) const;

private:
    [[nodiscard]] std::uint64_t word(int y, int bit) const;  ///< 64 cells from `bit` on

    int width_, height_, stride_;
    std::vector<std::uint64_t> words_;
};

/// What a drawing takes on paper: ink, the inside of closed lines, half the gap round both.
struct Silhouette {
    Occupancy cells;
    Vec2 low;  ///< [mm] the drawing's place of the grid's lower left corner
};

[[nodiscard]] Silhouette silhouette(const Drawing& drawing);

}  // namespace tearline::paper

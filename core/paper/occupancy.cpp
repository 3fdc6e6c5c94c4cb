#include "core/paper/occupancy.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace tearline::paper {

namespace {

constexpr int word_bits = 64;

void fill(Occupancy& cells, const std::vector<Vec2>& loop, const Vec2& low) {
    for (int y = 0; y < cells.height(); ++y) {
        const double level = low.y() + (y + 0.5) * packing_cell;
        std::vector<double> crossings;
        for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
            const Vec2 &a = loop[i], &b = loop[j];
            if ((a.y() > level) != (b.y() > level))
                crossings.push_back(a.x() + (b.x() - a.x()) * (level - a.y()) / (b.y() - a.y()));
        }
        std::sort(crossings.begin(), crossings.end());
        for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
            const int from = static_cast<int>((crossings[k] - low.x()) / packing_cell);
            const int to = static_cast<int>((crossings[k + 1] - low.x()) / packing_cell);
            for (int x = from; x <= to; ++x) cells.take(x, y);
        }
    }
}

}  // namespace

Occupancy::Occupancy(int width, int height)
    : width_(width),
      height_(height),
      stride_((width + word_bits - 1) / word_bits),
      words_(static_cast<std::size_t>(stride_) * static_cast<std::size_t>(height), 0) {}

int Occupancy::taken() const {
    int count = 0;
    for (const std::uint64_t bits : words_) count += std::popcount(bits);
    return count;
}

bool Occupancy::at(int x, int y) const {
    return (word(y, x) & 1u) != 0;
}

void Occupancy::take(int x, int y) {
    if (x < 0 || y < 0 || x >= width_ || y >= height_) return;
    words_[static_cast<std::size_t>(y * stride_ + x / word_bits)] |= std::uint64_t{1}
                                                                     << (x % word_bits);
}

std::uint64_t Occupancy::word(int y, int bit) const {
    const int index = bit / word_bits, offset = bit % word_bits;
    const auto row = static_cast<std::size_t>(y * stride_);
    std::uint64_t out =
        index < stride_ ? words_[row + static_cast<std::size_t>(index)] >> offset : 0;
    if (offset > 0 && index + 1 < stride_)
        out |= words_[row + static_cast<std::size_t>(index + 1)] << (word_bits - offset);
    return out;
}

bool Occupancy::collides(const Occupancy& other, Cell to) const {
    for (int y = 0; y < other.height_; ++y)
        for (int k = 0; k < other.stride_; ++k)
            if (other.words_[static_cast<std::size_t>(y * other.stride_ + k)] &
                word(to.y + y, to.x + k * word_bits))
                return true;
    return false;
}

void Occupancy::take(const Occupancy& other, Cell to) {
    for (int y = 0; y < other.height_; ++y)
        for (int x = 0; x < other.width_; ++x)
            if (other.at(x, y)) take(to.x + x, to.y + y);
}

std::optional<Cell> Occupancy::lowest_place(const Occupancy& other, int height_limit) const {
    const int top = std::min(height_, height_limit) - other.height_;
    for (int y = 0; y <= top; ++y)
        for (int x = 0; x + other.width_ <= width_; ++x)
            if (!collides(other, {x, y})) return Cell{x, y};
    return std::nullopt;
}

Occupancy Occupancy::grown(int cells) const {
    Occupancy out(width_ + 2 * cells, height_ + 2 * cells);
    for (int y = 0; y < height_; ++y)
        for (int x = 0; x < width_; ++x)
            if (at(x, y))
                for (int dy = 0; dy <= 2 * cells; ++dy)
                    for (int dx = 0; dx <= 2 * cells; ++dx) out.take(x + dx, y + dy);
    return out;
}

Silhouette silhouette(const Drawing& drawing) {
    const Box box = bounds(drawing);
    const Vec2 size = box.size() / packing_cell;
    Occupancy cells(static_cast<int>(std::floor(size.x())) + 1,
                    static_cast<int>(std::floor(size.y())) + 1);
    for (const Vec2& point : ink_points(drawing, packing_cell / 2.0))
        cells.take(static_cast<int>((point.x() - box.low.x()) / packing_cell),
                   static_cast<int>((point.y() - box.low.y()) / packing_cell));
    for (const Drawing::Line& line : drawing.lines)
        if (line.closed && line.points.size() > 2) fill(cells, line.points, box.low);
    for (const Drawing::Text& text : drawing.texts)
        fill(cells, corners(drawing::box_of(text)), box.low);
    const int grow = static_cast<int>(std::ceil(packing_gap / 2.0 / packing_cell));
    const double grown = grow * packing_cell;
    return {cells.grown(grow), box.low - Vec2(grown, grown)};
}

}  // namespace tearline::paper

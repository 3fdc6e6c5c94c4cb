#include "core/templates/piece_outline.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "core/base/tolerances.h"
#include "core/plane/offset_region.h"
#include "core/plane/thin_line.h"

namespace tearline::templates {

Region2 net_region(const pieces::Piece& piece) {
    Region2 region;
    double widest = 0.0;
    std::vector<Loop2> loops;
    std::size_t outer = 0;
    for (const auto& vertices : surface::boundary_loops(piece.lay)) {
        Loop2 loop;
        for (const std::int32_t v : vertices)
            loop.push_back(piece.flat[static_cast<std::size_t>(v)]);
        const double size = std::abs(signed_area(loop));
        if (size > widest) widest = size, outer = loops.size();
        loops.push_back(plane::thinned(loop, tolerance::outline_thinning));
    }
    if (loops.empty()) throw std::logic_error("piece " + piece.id + " has no edge");
    region.outer = std::move(loops[outer]);
    loops.erase(loops.begin() + static_cast<std::ptrdiff_t>(outer));
    region.holes = std::move(loops);
    if (!(signed_area(region.outer) > 0.0))
        throw std::logic_error("piece " + piece.id + " is laid out face down");
    // The sides of a slit overlap on the table: its cloth is there once.
    const bool slit = std::any_of(piece.cuts.begin(), piece.cuts.end(),
                                  [](const pieces::PieceCut& cut) { return cut.opening < 0.0; });
    if (!slit) return region;
    auto united = plane::united_regions({region});
    return *std::max_element(united.begin(), united.end(),
                             [](const Region2& a, const Region2& b) { return area(a) < area(b); });
}

std::optional<EdgeCrossing> edge_crossing(const pieces::Piece& piece,
                                          const std::vector<std::vector<std::int32_t>>& loops,
                                          const Vec3& origin, const Vec3& across,
                                          const Vec3& towards) {
    std::optional<EdgeCrossing> best;
    double farthest = 0.0;
    for (const auto& loop : loops) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const auto a = static_cast<std::size_t>(loop[i]);
            const auto b = static_cast<std::size_t>(loop[(i + 1) % loop.size()]);
            const double side_a = (piece.base[a] - origin).dot(across);
            const double side_b = (piece.base[b] - origin).dot(across);
            if ((side_a > 0.0) == (side_b > 0.0)) continue;
            const double t = side_a / (side_a - side_b);
            const double reach =
                (piece.base[a] + t * (piece.base[b] - piece.base[a]) - origin).dot(towards);
            if (!(reach > farthest)) continue;
            farthest = reach;
            const Vec2 along = piece.flat[b] - piece.flat[a];
            // The surface lies on the left of its boundary, so outside is on the right.
            best = EdgeCrossing{piece.flat[a] + t * along, -turned_left(along).normalized()};
        }
    }
    return best;
}

}  // namespace tearline::templates

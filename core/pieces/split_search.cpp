#include "core/pieces/split_search.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <utility>

namespace tearline::pieces {

namespace {

/// [mm] a cell narrower than this plus its laps is no piece to handle.
constexpr double narrowest_cell = 40.0;

/// How many ways to move the same seams are tried.
constexpr std::size_t most_shifts = 2;

/// [-] of a cell: seams are moved by so many such steps to either side.
constexpr double shift_step = 0.05;
constexpr int shift_steps = 8;

/// Direction of the warp in the chart, at the middle of the damage.
double warp_angle(const PlyShape& shape) {
    // Two places of the chart with the direction between them nearest to the axes' on the hull.
    constexpr double step = 5.0;
    const auto place = [&](const Vec2& chart) {
        const auto at = shape.patch->locate(chart);
        return at ? shape.patch->sample(*at).position : Vec3(Vec3::Zero());
    };
    const Vec3 u = place(shape.middle + Vec2(step, 0)) - place(shape.middle - Vec2(step, 0));
    const Vec3 v = place(shape.middle + Vec2(0, step)) - place(shape.middle - Vec2(0, step));
    const double turn = shape.entry.axis * std::numbers::pi / 180.0;
    return std::atan2(v.dot(shape.axis_from), u.dot(shape.axis_from)) + turn;
}

std::vector<double> angles(const PlyShape& shape, const Extent& extent, Search search) {
    const bool usual = search == Search::usual;
    if (shape.fabric.kind != job::FabricKind::mat)
        return usual ? std::vector{warp_angle(shape)} : std::vector<double>{};
    // Turned by an eighth, the seams of one ply cross those of the next at one place only.
    const std::vector<double> degrees =
        usual ? std::vector{0.0, 45.0} : std::vector{15.0, 30.0, 60.0, 75.0};
    std::vector<double> out;
    for (const double turn : degrees) out.push_back(extent.angle + turn * std::numbers::pi / 180.0);
    return out;
}

/// Columns and rows with so many seams in all: those of fewer cells first, then squarer ones.
std::vector<std::array<int, 2>> shapes(int seams, double length, double width) {
    std::vector<std::array<int, 2>> out;
    for (int across = 0; across <= seams; ++across) out.push_back({across + 1, seams - across + 1});
    const auto rank = [&](const std::array<int, 2>& cells) {
        return std::pair(cells[0] * cells[1],
                         std::abs(std::log(length / cells[0] * cells[1] / width)));
    };
    std::stable_sort(out.begin(), out.end(),
                     [&](const auto& a, const auto& b) { return rank(a) < rank(b); });
    return out;
}

/// Moves of both sets of seams to try, the smallest first; a set without seams is not moved.
std::vector<std::array<double, 2>> shifts(const std::array<int, 2>& cells) {
    std::vector<std::array<double, 2>> out;
    const auto steps = [](int count) { return count > 1 ? shift_steps : 0; };
    for (int i = -steps(cells[0]); i <= steps(cells[0]); ++i)
        for (int j = -steps(cells[1]); j <= steps(cells[1]); ++j)
            out.push_back({shift_step * i, shift_step * j});
    const auto far = [](const std::array<double, 2>& shift) {
        return std::max(std::abs(shift[0]), std::abs(shift[1]));
    };
    std::stable_sort(out.begin(), out.end(),
                     [&](const auto& a, const auto& b) { return far(a) < far(b); });
    return out;
}

}  // namespace

double lap_half_width(const job::Fabric& fabric) {
    return fabric.kind == job::FabricKind::mat ? fabric.tear_margin : 0.5 * fabric.lap;
}

std::vector<Division> divisions(const PlyShape& shape, int seams,
                                const std::function<bool(const Division&)>& keeps_distance,
                                const std::function<bool(const Division&)>& prefers,
                                Search search) {
    const Extent extent = extent_of(shape.region);
    const double least = narrowest_cell + 2.0 * lap_half_width(shape.fabric);
    std::vector<Division> out;
    for (const auto& cells : shapes(seams, extent.half_long, extent.half_wide))
        for (const double angle : angles(shape, extent, search)) {
            std::vector<Division> preferred, others;
            for (const auto& shift : shifts(cells)) {
                Division made;
                made.seams = even_seams(shape.region, angle, cells, shift);
                made.cells = cells[0] * cells[1];
                made.lines = seam_lines(shape.region, made.seams);
                const auto narrow = [&](const std::vector<double>& lines) {
                    for (std::size_t i = 0; i + 1 < lines.size(); ++i)
                        if (lines[i + 1] - lines[i] < least) return true;
                    return false;
                };
                if (narrow(made.seams.across) || narrow(made.seams.along) || made.lines.empty())
                    continue;
                if (!keeps_distance(made)) continue;
                (prefers(made) ? preferred : others).push_back(std::move(made));
                if (preferred.size() == most_shifts) break;
            }
            std::move(others.begin(), others.end(), std::back_inserter(preferred));
            if (preferred.size() > most_shifts) preferred.resize(most_shifts);
            std::move(preferred.begin(), preferred.end(), std::back_inserter(out));
        }
    return out;
}

}  // namespace tearline::pieces

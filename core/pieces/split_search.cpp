#include "core/pieces/split_search.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <optional>
#include <utility>

namespace tearline::pieces {

namespace {

/// [mm] a cell narrower than this plus its laps is no piece to handle; torn small, plus nothing.
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
    const std::vector<double> degrees = usual ? std::vector{0.0, 45.0}
                                        : search == Search::between
                                            ? std::vector{15.0, 30.0, 60.0, 75.0}
                                            : std::vector{0.0, 15.0, 30.0, 45.0, 60.0, 75.0};
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

/// Steps of both sets of seams to try, the smallest first; a set without seams is not moved.
std::vector<std::array<int, 2>> shifts(const std::array<int, 2>& cells) {
    std::vector<std::array<int, 2>> out;
    const auto steps = [](int count) { return count > 1 ? shift_steps : 0; };
    for (int i = -steps(cells[0]); i <= steps(cells[0]); ++i)
        for (int j = -steps(cells[1]); j <= steps(cells[1]); ++j) out.push_back({i, j});
    const auto far = [](const std::array<int, 2>& shift) {
        return std::max(std::abs(shift[0]), std::abs(shift[1]));
    };
    std::stable_sort(out.begin(), out.end(),
                     [&](const auto& a, const auto& b) { return far(a) < far(b); });
    return out;
}

/// One of the two sets of seams moved by each step, found when it is first asked for: each goes
/// with every step of the other set.
class MovedSeams {
public:
    struct Moved {
        Seams seams;
        std::vector<std::vector<Vec2>> lines;
        bool narrow = false;  ///< leaves a cell that is no piece to handle
    };

    /// @param set  0: seams across, 1: along
    /// @param least  [mm] width of a cell
    MovedSeams(const PlyShape& shape, double angle, const std::array<int, 2>& cells, int set,
               double least)
        : shape_(shape), angle_(angle), set_(set), least_(least) {
        cells_[set] = cells[set];
    }

    const Moved& by(int steps) {
        std::optional<Moved>& moved = moved_[static_cast<std::size_t>(steps + shift_steps)];
        if (!moved) moved = made(steps);
        return *moved;
    }

private:
    [[nodiscard]] Moved made(int steps) const {
        Moved out;
        out.seams = even_seams(
            shape_.region, angle_, cells_,
            {set_ == 0 ? shift_step * steps : 0.0, set_ == 1 ? shift_step * steps : 0.0});
        out.lines = seam_lines(shape_.region, out.seams);
        const std::vector<double>& at = set_ == 0 ? out.seams.across : out.seams.along;
        for (std::size_t i = 0; i + 1 < at.size(); ++i)
            out.narrow = out.narrow || at[i + 1] - at[i] < least_;
        return out;
    }

    const PlyShape& shape_;
    double angle_;
    std::array<int, 2> cells_{1, 1};
    int set_;
    double least_;
    std::array<std::optional<Moved>, 2 * shift_steps + 1> moved_;
};

/// Both sets of seams as one way to part a shape.
Division crossed(const MovedSeams::Moved& across, const MovedSeams::Moved& along, int cells) {
    Division out;
    out.seams = {across.seams.angle, across.seams.across, along.seams.along};
    out.cells = cells;
    out.lines = across.lines;
    out.lines.insert(out.lines.end(), along.lines.begin(), along.lines.end());
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
    const double least =
        narrowest_cell + (search == Search::small ? 0.0 : 2.0 * lap_half_width(shape.fabric));
    std::vector<Division> out;
    for (const auto& cells : shapes(seams, extent.half_long, extent.half_wide))
        for (const double angle : angles(shape, extent, search)) {
            std::vector<Division> preferred, others;
            MovedSeams all_across(shape, angle, cells, 0, least),
                all_along(shape, angle, cells, 1, least);
            for (const auto& shift : shifts(cells)) {
                const auto &across = all_across.by(shift[0]), &along = all_along.by(shift[1]);
                if (across.narrow || along.narrow) continue;
                Division made = crossed(across, along, cells[0] * cells[1]);
                if (made.lines.empty() || !keeps_distance(made)) continue;
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

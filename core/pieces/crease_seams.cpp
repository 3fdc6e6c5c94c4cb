#include "core/pieces/crease_seams.h"

#include <algorithm>
#include <bit>
#include <utility>

#include "core/pieces/part_cloth.h"
#include "core/pieces/tolerances.h"
#include "core/plane/nearest_on_line.h"

namespace tearline::pieces {

namespace {

using Lines = std::vector<std::vector<Vec2>>;

/// More creases than these never meet in one ply, but may in a whole hull: of more, the longest are
/// tried in every choice, then all.
constexpr std::size_t most_creases = 4;

double length_of(const std::vector<Vec2>& line) {
    double length = 0.0;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) length += (line[i + 1] - line[i]).norm();
    return length;
}

/// The stretches of the creases inside the shape, the longest first.
Lines creases_inside(const PlyShape& shape) {
    Lines out;
    for (const auto& chain : shape.patch->crease_lines()) {
        std::vector<Vec2> line;
        for (const std::int32_t v : chain)
            line.push_back(shape.patch->chart[static_cast<std::size_t>(v)]);
        for (auto& stretch : stretches_inside(shape.region, line))
            out.push_back(std::move(stretch));
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const auto& a, const auto& b) { return length_of(a) > length_of(b); });
    return out;
}

/// Floods the triangles that `member` holds, over edges that `barred` does not mark.
std::vector<std::int32_t> flooded(const std::vector<std::array<std::int32_t, 3>>& across,
                                  const std::function<bool(std::size_t)>& member,
                                  const std::function<bool(std::size_t, int)>& barred) {
    std::vector<std::int32_t> part(across.size(), -1);
    std::int32_t next = 0;
    for (std::size_t start = 0; start < across.size(); ++start) {
        if (part[start] >= 0 || !member(start)) continue;
        std::vector<std::size_t> open{start};
        part[start] = next;
        while (!open.empty()) {
            const std::size_t t = open.back();
            open.pop_back();
            for (int i = 0; i < 3; ++i) {
                const std::int32_t n = across[t][i];
                if (n < 0 || barred(t, i)) continue;
                const auto other = static_cast<std::size_t>(n);
                if (part[other] >= 0 || !member(other)) continue;
                part[other] = next;
                open.push_back(other);
            }
        }
        ++next;
    }
    return part;
}

}  // namespace

std::vector<Division> crease_divisions(const PlyShape& shape,
                                       const std::function<bool(const Division&)>& keeps_distance) {
    const Lines creases = creases_inside(shape);
    const std::size_t chosen = std::min(creases.size(), most_creases);
    std::vector<unsigned> choices;
    for (unsigned choice = 1; choice < (1U << chosen); ++choice) choices.push_back(choice);
    std::stable_sort(choices.begin(), choices.end(),
                     [](unsigned a, unsigned b) { return std::popcount(a) < std::popcount(b); });
    std::vector<Division> out;
    const auto add = [&](Lines lines) {
        Division made;
        made.creases = lines;
        made.lines = std::move(lines);
        if (keeps_distance(made)) out.push_back(std::move(made));
    };
    for (const unsigned choice : choices) {
        Lines lines;
        for (std::size_t i = 0; i < chosen; ++i)
            if ((choice & (1U << i)) != 0) lines.push_back(creases[i]);
        add(std::move(lines));
    }
    if (creases.size() > chosen) add(creases);
    return out;
}

std::vector<std::int32_t> sides_of_lines(const plies::LaySurface& lay, const Lines& lines) {
    const auto across = surface::neighbours(lay.mesh);
    std::vector<char> on(lay.chart.size(), 0);
    for (std::size_t v = 0; v < on.size(); ++v)
        on[v] = plane::distance_to_lines(lines, lay.chart[v]) <= tolerance::beside_seam ? 1 : 0;
    const auto corner_on = [&](std::size_t t, int i) {
        return on[static_cast<std::size_t>(lay.mesh.triangle[t][static_cast<std::size_t>(i % 3)])];
    };
    const auto in_arc = [&](std::size_t t) {
        return corner_on(t, 0) && corner_on(t, 1) && corner_on(t, 2);
    };
    std::vector<std::int32_t> side = flooded(
        across, [&](std::size_t t) { return !in_arc(t); },
        [&](std::size_t t, int i) { return corner_on(t, i) && corner_on(t, i + 1); });
    const std::vector<std::int32_t> arc =
        flooded(across, in_arc, [](std::size_t, int) { return false; });
    // Each arc goes with the side of the lowest number that it touches.
    std::vector<std::int32_t> of_arc;
    for (std::size_t t = 0; t < across.size(); ++t) {
        if (arc[t] < 0) continue;
        of_arc.resize(std::max(of_arc.size(), static_cast<std::size_t>(arc[t]) + 1), -1);
        std::int32_t& taken = of_arc[static_cast<std::size_t>(arc[t])];
        for (const std::int32_t n : across[t])
            if (n >= 0 && side[static_cast<std::size_t>(n)] >= 0 &&
                (taken < 0 || side[static_cast<std::size_t>(n)] < taken))
                taken = side[static_cast<std::size_t>(n)];
    }
    for (std::size_t t = 0; t < across.size(); ++t)
        if (arc[t] >= 0) side[t] = std::max(0, of_arc[static_cast<std::size_t>(arc[t])]);
    return side;
}

}  // namespace tearline::pieces

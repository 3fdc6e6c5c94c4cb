#include "core/pieces/make_piece.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/flattening/flatten_membrane.h"
#include "core/flattening/pin_jointed_net.h"
#include "core/pieces/chart_map.h"
#include "core/pieces/flat_outline.h"
#include "core/pieces/part_cloth.h"
#include "core/pieces/piece_frame.h"
#include "core/pieces/strain_measures.h"

namespace tearline::pieces {

namespace {

std::string place_of(const Vec3& p) {
    return "(" + fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " + fixed(p.z(), 1) + ")";
}

/// Number of parts that share no edge.
std::size_t parts_of(const surface::SurfaceMesh& mesh) {
    const auto across = surface::neighbours(mesh);
    std::vector<bool> seen(across.size(), false);
    std::size_t parts = 0;
    std::vector<std::size_t> queue;
    for (std::size_t start = 0; start < across.size(); ++start) {
        if (seen[start]) continue;
        ++parts;
        seen[start] = true;
        queue.assign(1, start);
        while (!queue.empty()) {
            const std::size_t t = queue.back();
            queue.pop_back();
            for (const std::int32_t n : across[t])
                if (n >= 0 && !seen[static_cast<std::size_t>(n)]) {
                    seen[static_cast<std::size_t>(n)] = true;
                    queue.push_back(static_cast<std::size_t>(n));
                }
        }
    }
    return parts;
}

/// Refuses a shape that turns over, naming the place.
Result<void> check_turned(const Piece& piece, int flipped) {
    if (flipped == 0) return {};
    const auto worst = std::min_element(piece.stretch.begin(), piece.stretch.end(),
                                        [](const auto& a, const auto& b) { return a[1] < b[1]; });
    const auto& v = piece.lay.triangle[static_cast<std::size_t>(worst - piece.stretch.begin())];
    return no_safe_answer("piece " + piece.id + ": the cloth would have to turn over near " +
                          place_of(piece.base[v[0]]) +
                          "; the surface bends too sharply there for one piece: plan the "
                          "repair in smaller parts or fill the hollow first");
}

/// The sides of a cut, from the mouth in, found among the edges of the parted surface.
PieceCut sides_of(const Piece& piece, const std::vector<std::int32_t>& from,
                  std::span<const Vec2> line) {
    const Vec2 inward = line.back() - line.front();
    const auto on = [&](std::int32_t v) {
        return distance_to_line(line, piece.chart[v]) <= tolerance::on_chart_line;
    };
    std::map<std::int32_t, std::array<std::int32_t, 2>> pair;
    for (const auto& loop : surface::boundary_loops(piece.lay))
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const std::int32_t a = loop[i], b = loop[(i + 1) % loop.size()];
            if (!on(a) || !on(b)) continue;
            // The piece lies to the left of its boundary: inward along the left side of the cut.
            const bool left = (piece.chart[b] - piece.chart[a]).dot(inward) > 0.0;
            for (const std::int32_t v : {a, b}) {
                auto& sides = pair.try_emplace(from[v], std::array{-1, -1}).first->second;
                sides[left ? 0 : 1] = v;
            }
        }
    PieceCut cut;
    for (const auto& [vertex, sides] : pair)
        if (sides[0] >= 0 && sides[1] >= 0) cut.sides.push_back(sides);
    std::sort(cut.sides.begin(), cut.sides.end(), [&](const auto& a, const auto& b) {
        return piece.chart[a[0]].dot(inward) < piece.chart[b[0]].dot(inward);
    });
    for (std::size_t i = 0; i + 1 < cut.sides.size(); ++i) {
        const auto& [l, r] = cut.sides[i];
        const auto& [next_l, next_r] = cut.sides[i + 1];
        const Vec2 way = piece.flat[next_l] + piece.flat[next_r] - piece.flat[l] - piece.flat[r];
        const Vec2 gap = piece.flat[l] - piece.flat[r];
        const double wide = std::copysign(gap.norm(), cross2(way, gap));
        if (std::abs(wide) > std::abs(cut.opening)) cut.opening = wide;
    }
    return cut;
}

/// Whether a place lies where the sides of a slit overlap.
bool in_slit(const Piece& piece, const Vec2& place) {
    return std::any_of(piece.cuts.begin(), piece.cuts.end(), [&](const PieceCut& cut) {
        std::vector<Vec2> middle;
        for (const auto& [l, r] : cut.sides)
            middle.push_back(0.5 * (piece.flat[l] + piece.flat[r]));
        return cut.opening < 0.0 &&
               distance_to_line(middle, place) <= -cut.opening + tolerance::strain_disc;
    });
}

/// Refuses a shape that lies on itself, naming the place.
Result<void> check_overlap(const Piece& piece) {
    const std::vector<Vec2> all = crossings(net_outline(piece));
    const auto cross = std::find_if(all.begin(), all.end(),
                                    [&](const Vec2& place) { return !in_slit(piece, place); });
    if (cross == all.end()) return {};
    const auto nearest =
        std::min_element(piece.flat.begin(), piece.flat.end(), [&](const Vec2& a, const Vec2& b) {
            return (a - *cross).squaredNorm() < (b - *cross).squaredNorm();
        });
    const auto v = static_cast<std::size_t>(nearest - piece.flat.begin());
    return no_safe_answer("piece " + piece.id + ": laid flat it overlaps itself near " +
                          place_of(piece.base[v]) + "; plan the repair in smaller parts");
}

/// A piece with its membrane flattening: the flat mat, or the picture that cloth is followed in.
struct Picture {
    Piece piece;
    double energy = 0.0, area = 0.0;
};

Result<Picture> lay_flat(const plies::LaySurface& lay, std::string id) {
    Picture out;
    Piece& piece = out.piece;
    piece.id = std::move(id);
    piece.lay = lay.mesh;
    piece.base = lay.base;
    piece.chart = lay.chart;
    piece.corner_chart = lay.corner_chart;
    if (const std::size_t parts = parts_of(piece.lay); parts != 1)
        return no_safe_answer("piece " + piece.id + ": its surface is in " + std::to_string(parts) +
                              " parts where it should be one");
    auto flat = flattening::flatten_membrane(piece.lay, piece.chart);
    if (!flat)
        return tl::unexpected<Error>(
            Error{flat.error().kind, "piece " + piece.id + ": " + flat.error().message});
    piece.flat = std::move(flat->flat);
    piece.stretch = std::move(flat->stretch);
    out.energy = flat->energy;
    out.area = flat->area;
    if (const auto fits = check_turned(piece, flat->flipped); !fits)
        return tl::unexpected(fits.error());
    return out;
}

double yarn_degrees(const ClothLaying& laying) {
    return laying.axis_degrees + (laying.biaxial ? 45.0 : 0.0);
}

}  // namespace

double parted_strain(const plies::LaySurface& lay, const std::vector<std::array<bool, 3>>& parted,
                     std::span<const Vec2> start) {
    const PartedSurface apart = part_along(lay, parted);
    std::vector<Vec2> places;
    places.reserve(apart.from.size());
    for (const std::int32_t v : apart.from) places.push_back(start[static_cast<std::size_t>(v)]);
    const auto flat = flattening::flatten_membrane(apart.lay.mesh, places,
                                                   {.stop_movement = tolerance::trial_movement});
    if (!flat || flat->flipped > 0) return std::numeric_limits<double>::infinity();
    return largest_disc_mean(apart.lay.mesh, flat->flat, largest_strains(flat->stretch),
                             tolerance::strain_disc)
        .value;
}

Result<Piece> make_piece(const plies::LaySurface& lay, std::string id) {
    return make_piece(lay, std::move(id), {});
}

Result<Piece> make_piece(const plies::LaySurface& lay, std::string id,
                         std::span<const std::vector<Vec2>> cuts) {
    std::vector<std::array<bool, 3>> parted(lay.mesh.triangle.size(), {false, false, false});
    for (const std::vector<Vec2>& line : cuts) {
        const auto marks = edges_on(lay, line);
        for (std::size_t t = 0; t < parted.size(); ++t)
            for (std::size_t i = 0; i < 3; ++i) parted[t][i] = parted[t][i] || marks[t][i];
    }
    const auto apart = cuts.empty() ? PartedSurface{lay, {}} : part_along(lay, std::move(parted));
    auto picture = lay_flat(apart.lay, std::move(id));
    if (!picture) return tl::unexpected(picture.error());
    Piece piece = std::move(picture->piece);
    for (const std::vector<Vec2>& line : cuts)
        piece.cuts.push_back(sides_of(piece, apart.from, line));
    if (const auto fits = check_overlap(piece); !fits) return tl::unexpected(fits.error());
    piece.strain_rms = std::sqrt(picture->energy / (2.0 * picture->area));
    const std::vector<double> strains = largest_strains(piece.stretch);
    piece.strain_max =
        largest_disc_mean(piece.lay, piece.flat, strains, tolerance::strain_disc).value;
    return piece;
}

namespace {

/// Direction of the yarns that run along the cloth's x, in the membrane picture.
Vec2 yarn_direction(const Piece& picture, const flattening::MetricChart& chart,
                    const surface::Location& at, const ClothLaying& laying) {
    const Vec2 x = flat_direction(picture, at, laying.x);
    const flattening::Metric g = chart.metric(ChartMap(picture).flat(at));
    const Vec2 along = x / g.length(x);
    const Vec2 square = turned_left(g.times(along));
    const Vec2 across = square / g.length(square);
    const double turn = yarn_degrees(laying) * std::numbers::pi / 180.0;
    return std::cos(turn) * along + std::sin(turn) * across;
}

}  // namespace

Result<Piece> make_cloth_piece(const plies::LaySurface& lay, std::string id,
                               const ClothLaying& laying) {
    auto picture = lay_flat(lay, std::move(id));
    if (!picture) return tl::unexpected(picture.error());
    Piece piece = std::move(picture->piece);
    if (const auto fits = check_overlap(piece); !fits) return tl::unexpected(fits.error());

    const flattening::MetricChart chart(piece.lay, piece.flat);
    const ChartMap map(piece);
    const surface::Location start = map.nearest(laying.press_first);
    const auto net = flattening::PinJointedNet::laid(chart, map.flat(start),
                                                     yarn_direction(piece, chart, start, laying));
    if (!net)
        return tl::unexpected<Error>(
            Error{net.error().kind, "piece " + piece.id + ": " + net.error().message});

    const std::vector<Vec2> membrane = std::move(piece.flat);
    const double turn = yarn_degrees(laying) * std::numbers::pi / 180.0;
    const Eigen::Rotation2Dd to_x(turn);
    piece.flat.clear();
    for (const Vec2& p : membrane) piece.flat.push_back(to_x * net->cloth_at(p)->at);
    for (const auto& v : piece.lay.triangle) {
        const auto middle = net->cloth_at((membrane[v[0]] + membrane[v[1]] + membrane[v[2]]) / 3.0);
        if (!middle) throw std::logic_error("cloth covers a triangle's corners and not its middle");
        piece.shear_degrees.push_back(std::abs(middle->shear) * 180.0 / std::numbers::pi);
    }
    piece.stretch.clear();
    piece.warp_degrees = laying.axis_degrees;
    piece.shear_max =
        largest_disc_mean(piece.lay, membrane, piece.shear_degrees, tolerance::strain_disc).value;
    if (const auto fits = check_overlap(piece); !fits) return tl::unexpected(fits.error());
    return piece;
}

Region2 net_outline(const Piece& piece) {
    return flat_outline(piece.lay, piece.flat);
}

}  // namespace tearline::pieces

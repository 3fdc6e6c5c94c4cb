#include "core/pieces/make_piece.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/flattening/flatten_membrane.h"
#include "core/flattening/pin_jointed_net.h"
#include "core/pieces/chart_map.h"
#include "core/pieces/flat_outline.h"
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

/// Refuses a shape that lies on itself, naming the place.
Result<void> check_overlap(const Piece& piece) {
    const auto cross = crossing(net_outline(piece));
    if (!cross) return {};
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

Result<Piece> make_piece(const plies::LaySurface& lay, std::string id) {
    auto picture = lay_flat(lay, std::move(id));
    if (!picture) return tl::unexpected(picture.error());
    Piece piece = std::move(picture->piece);
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

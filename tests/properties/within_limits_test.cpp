#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/pieces/lay_down.h"
#include "core/pieces/relief_cuts.h"
#include "core/pieces/seams.h"
#include "core/plane/nearest_on_line.h"
#include "tests/support/random_hull_patch.h"

/// A piece that passes its limit never ships without help, whatever the hull and the fabric.
namespace tearline::pieces {
namespace {

constexpr std::uint32_t first_seed = 20240611;
constexpr double degrees = 180.0 / std::numbers::pi;

/// Metric of a lay triangle in flat coordinates, from its arc lengths: J^T J of flat -> lay.
Eigen::Matrix2d metric(const Piece& piece, std::size_t t) {
    const auto& v = piece.lay.triangle[t];
    const auto& l = piece.lay.edge_length[t];
    const Vec2 e0 = piece.flat[v[1]] - piece.flat[v[0]], e1 = piece.flat[v[2]] - piece.flat[v[1]];
    const Vec2 e2 = piece.flat[v[0]] - piece.flat[v[2]];
    // Three lengths squared are linear in the metric's three numbers.
    Eigen::Matrix3d m;
    Eigen::Vector3d r;
    int row = 0;
    for (const Vec2& e : {e0, e1, e2}) {
        m.row(row) << e.x() * e.x(), 2.0 * e.x() * e.y(), e.y() * e.y();
        r[row] = l[static_cast<std::size_t>(row)] * l[static_cast<std::size_t>(row)];
        ++row;
    }
    const Eigen::Vector3d g = m.colPivHouseholderQr().solve(r);
    Eigen::Matrix2d out;
    out << g[0], g[1], g[1], g[2];
    return out;
}

double flat_area(const Piece& piece, std::size_t t) {
    const auto& v = piece.lay.triangle[t];
    return 0.5 * cross2(piece.flat[v[1]] - piece.flat[v[0]], piece.flat[v[2]] - piece.flat[v[0]]);
}

/// Slivers where a seam leaves the outline have no metric by their lengths, and no share in a mean.
bool has_metric(const Piece& piece, std::size_t t) {
    return flat_area(piece, t) > 0.01;
}

double lay_area(const Piece& piece) {
    double sum = 0.0;
    for (std::size_t t = 0; t < piece.lay.triangle.size(); ++t)
        if (has_metric(piece, t))
            sum += flat_area(piece, t) * std::sqrt(metric(piece, t).determinant());
    return sum;
}

/// Strain by a second route: stretches lay -> flat are the inverse roots of the metric's
/// eigenvalues; their mean square over the piece must be what the piece says.
void check_strain(const Piece& piece, double limit) {
    double energy = 0.0, area = 0.0;
    for (std::size_t t = 0; t < piece.lay.triangle.size(); ++t) {
        if (!has_metric(piece, t)) continue;
        const Eigen::Matrix2d g = metric(piece, t);
        const Eigen::Vector2d k = Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>(g).eigenvalues();
        const double here = flat_area(piece, t) * std::sqrt(g.determinant());
        for (const double lambda : k) energy += std::pow(1.0 / std::sqrt(lambda) - 1.0, 2) * here;
        area += here;
    }
    EXPECT_NEAR(std::sqrt(energy / (2.0 * area)), piece.strain_rms, 1e-5 + 0.01 * piece.strain_rms);
    EXPECT_LE(piece.strain_rms, piece.strain_max + 1e-9);
    EXPECT_LE(piece.strain_max, limit);
}

/// Shear by a second route: the angle that the two yarns have on the lay surface, and their length,
/// triangle by triangle. A sliver's own angles hang on hundredths of a millimetre: means over the
/// piece do not.
void check_shear(const Piece& piece, bool biaxial, double limit) {
    const double a = (*piece.warp_degrees + (biaxial ? 45.0 : 0.0)) / degrees;
    const Vec2 warp(std::cos(a), std::sin(a)), weft(-std::sin(a), std::cos(a));
    double area = 0.0, length_off = 0.0, shear_off = 0.0, most = 0.0;
    for (std::size_t t = 0; t < piece.lay.triangle.size(); ++t) {
        if (!has_metric(piece, t)) continue;
        const Eigen::Matrix2d g = metric(piece, t);
        const double one = warp.dot(g * warp), two = weft.dot(g * weft);
        const double cosine = std::clamp(warp.dot(g * weft) / std::sqrt(one * two), -1.0, 1.0);
        const double here = flat_area(piece, t);
        area += here;
        length_off += here * (std::abs(std::sqrt(one) - 1.0) + std::abs(std::sqrt(two) - 1.0));
        shear_off +=
            here * std::abs(std::abs(std::asin(cosine)) * degrees - piece.shear_degrees[t]);
        most = std::max(most, piece.shear_degrees[t]);
    }
    EXPECT_LE(length_off / area, 0.002) << "yarns keep their length";
    EXPECT_LE(shear_off / area, 0.2) << "the shear told is that of the cloth";
    EXPECT_LE(*piece.shear_max, limit);
    EXPECT_LE(*piece.shear_max, most + 1e-9);
}

CutLines lines_of(const LaidDown& laid) {
    CutLines lines;
    for (const Band& band : laid.bands) lines.push_back(band.line);
    return lines;
}

void check_laid(const PlyShape& shape, const plies::LaySurface& whole, const LaidDown& laid) {
    double area = 0.0;
    bool helped = laid.pieces.size() > 1;
    for (const Piece& piece : laid.pieces) {
        if (shape.fabric.kind == job::FabricKind::mat)
            check_strain(piece, shape.fabric.strain_limit);
        else
            check_shear(piece, shape.fabric.kind == job::FabricKind::biaxial,
                        shape.fabric.shear_limit);
        EXPECT_LE(roll_need(piece, shape.fabric), shape.fabric.roll_width);
        area += lay_area(piece);
        helped = helped || !piece.cuts.empty();
    }
    EXPECT_NEAR(area / whole.area, 1.0, 1e-3) << "the pieces partition the ply";
    EXPECT_EQ(helped, !laid.warnings.empty()) << "help is always told, and only help";
    const bool crosses =
        std::any_of(laid.warnings.begin(), laid.warnings.end(),
                    [](const Warning& w) { return w.code() == "seam-through-middle"; });
    if (!crosses) {
        EXPECT_GE(plane::distance_to_lines(lines_of(laid), shape.middle), 15.0);
    }
}

struct Count {
    int whole = 0, cut = 0, parted = 0, refused = 0;
};

void check_case(std::uint32_t seed, Count& count) {
    test::Draw draw(seed);
    const surface::Patch patch = test::hull_like_patch(draw);
    PlyShape shape = test::random_ply(draw, patch);
    const auto whole = lay_with_lines(shape, {});
    ASSERT_TRUE(whole) << whole.error().message();
    const auto laid = lay_down(shape, *whole, {});
    if (!laid) {
        ++count.refused;
        EXPECT_EQ(laid.error().kind, ErrorKind::no_safe_answer);
        EXPECT_TRUE(laid.error().message().find("limit") != std::string::npos ||
                    laid.error().message().find("roll_width") != std::string::npos)
            << laid.error().message();
        return;
    }
    check_laid(shape, *whole, *laid);
    ++(laid->pieces.size() > 1 ? count.parted : laid->bands.empty() ? count.whole : count.cut);
    if (laid->bands.empty() || seed % 4 != 0) return;
    // The next ply, of the same cloth, finds its own way.
    const auto next = lay_down(shape, *whole, laid->bands);
    if (!next) return;
    check_laid(shape, *whole, *next);
    for (const Band& band : next->bands)
        for (const Band& before : laid->bands)
            EXPECT_GE(distance_alongside({band.line}, {before.line}),
                      50.0 + band.half_width + before.half_width);
}

TEST(WithinLimits, NoPieceOverItsLimitShipsWithoutHelpOnTwoHundredRandomPatches) {
    Count count;
    for (std::uint32_t i = 0; i < 200; ++i) {
        SCOPED_TRACE("seed " + std::to_string(first_seed + i));
        check_case(first_seed + i, count);
        if (HasFatalFailure()) break;
    }
    std::printf("seeds from %u: %d whole, %d cut, %d parted, %d refused\n", first_seed, count.whole,
                count.cut, count.parted, count.refused);
    // The draw is wide enough to meet every way out.
    EXPECT_GT(count.whole, 20);
    EXPECT_GT(count.cut, 0);
    EXPECT_GT(count.parted, 20);
    EXPECT_GT(count.refused, 0);
}

}  // namespace
}  // namespace tearline::pieces

#include "core/scan/kink_along.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <cmath>
#include <cstdint>
#include <unordered_set>

#include "core/scan/robust.h"

namespace tearline::scan {

namespace {

/// Parabola in both ways and the kink, which comes last.
using Terms = Eigen::Matrix<double, 7, 1>;
using Square = Eigen::Matrix<double, 7, 7>;
constexpr Eigen::Index bend = 4, kink = 6;

struct Row {
    Terms terms;
    double height = 0.0;  ///< [mm]
    double weight = 1.0;
};

std::vector<Row> rows_beside(const std::vector<Vec3>& points, const PlaceView& view,
                             const CreaseLine& line, const Bridge& hole, double wide) {
    std::vector<Row> rows;
    const double half = 0.5 * line.length();
    for (const Vec3& point : points) {
        const Vec2 flat = view.flat(point);
        const double along = line.along(flat), across = line.left_of(flat);
        if (along < 0.0 || along > line.length() || std::abs(across) > wide) continue;
        if (hole.holds(flat)) continue;
        const double a = along / half - 1.0, c = across / wide;
        Row row;
        row.terms << 1.0, a, a * a, c, c * c, a * c, std::abs(c);
        row.height = (point - view.middle).dot(view.normal);
        rows.push_back(row);
    }
    return rows;
}

/// The surface that one point stands for [mm2], by the squares that hold any.
double area_of_one(const std::vector<Row>& rows, double long_by, double wide, double side) {
    std::unordered_set<std::int64_t> squares;
    for (const Row& row : rows)
        squares.insert(static_cast<std::int64_t>(std::floor(0.5 * row.terms[1] * long_by / side)) *
                           1'000'003 +
                       static_cast<std::int64_t>(std::floor(row.terms[3] * wide / side)));
    return static_cast<double>(squares.size()) * side * side / static_cast<double>(rows.size());
}

}  // namespace

std::optional<Kink> kink_along(const std::vector<Vec3>& points, const PlaceView& view,
                               const CreaseLine& line, const Bridge& hole, double wide,
                               const Noise& noise) {
    std::vector<Row> rows = rows_beside(points, view, line, hole, wide);
    constexpr std::size_t fewest = 100;
    if (rows.size() < fewest) return std::nullopt;
    Terms found = Terms::Zero();
    Square normal;
    constexpr int rounds = 4;
    for (int round = 0; round < rounds; ++round) {
        normal.setZero();
        Terms right = Terms::Zero();
        for (const Row& row : rows) {
            normal += row.weight * row.terms * row.terms.transpose();
            right += row.weight * row.height * row.terms;
        }
        const Eigen::LDLT<Square> solved(normal);
        if (solved.info() != Eigen::Success || !(solved.vectorD().minCoeff() > 0.0))
            return std::nullopt;
        found = solved.solve(right);
        std::vector<double> off;
        for (const Row& row : rows) off.push_back(std::abs(row.height - found.dot(row.terms)));
        const double spread = std::max(noise.spread, 1.4826 * median(off));
        for (std::size_t i = 0; i < rows.size(); ++i)
            rows[i].weight = tukey_weight(off[i] / spread);
    }
    const double area = area_of_one(rows, line.length(), wide, noise.correlation);
    const double variance = noise.density() / area * normal.inverse()(kink, kink);
    const double slope = found[kink] / wide;
    const bool with_bend = found[kink] * (found[bend] + found[kink]) > 0.0;
    const double turn = 2.0 * std::atan(std::abs(slope));
    return Kink{with_bend ? turn : -turn, 2.0 * std::sqrt(variance) / wide / (1.0 + slope * slope)};
}

}  // namespace tearline::scan

#include "core/scan/noise.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <unordered_map>
#include <vector>

#include "core/scan/robust.h"

namespace tearline::scan {

namespace {

constexpr double nearest_pair = 5.0, farthest_pair = 32.0;  // [mm]
constexpr std::size_t bins = 9;
/// Residuals that pairs are looked for from: some thousand settle a covariance to a few percent.
constexpr std::size_t looked_from = 4000;
/// And looked for among so many about each: of denser scans every so many of them.
constexpr std::size_t looked_among = 2500;
/// [-] a covariance below this share of the variance is not told from none.
constexpr double told = 0.05;

/// Residuals by squares of the parameters as wide as the farthest pair.
class ResidualSquares {
public:
    explicit ResidualSquares(std::span<const Residual> residuals) : residuals_(residuals) {
        for (std::size_t i = 0; i < residuals.size(); ++i)
            square_[key(residuals[i].uv, 0, 0)].push_back(i);
    }
    template <class Do>
    void near(const Vec2& uv, const Do& with) const {
        for (int right = -1; right <= 1; ++right)
            for (int up = -1; up <= 1; ++up)
                if (const auto found = square_.find(key(uv, right, up)); found != square_.end()) {
                    const std::vector<std::size_t>& held = found->second;
                    const std::size_t stride = 1 + 9 * held.size() / looked_among;
                    for (std::size_t k = 0; k < held.size(); k += stride) with(residuals_[held[k]]);
                }
    }

private:
    static std::int64_t key(const Vec2& uv, int right, int up) {
        const auto column = static_cast<std::int64_t>(std::floor(uv.x() / farthest_pair)) + right;
        const auto row = static_cast<std::int64_t>(std::floor(uv.y() / farthest_pair)) + up;
        return column * 1'000'003 + row;
    }
    std::span<const Residual> residuals_;
    std::unordered_map<std::int64_t, std::vector<std::size_t>> square_;
};

/// Mean product of two residuals by how far apart they lie.
struct Covariance {
    std::array<double, bins> product{}, apart{}, pairs{};
};

Covariance covariance(std::span<const Residual> residuals, double most) {
    const ResidualSquares squares(residuals);
    Covariance sum;
    const std::size_t stride = std::max<std::size_t>(1, residuals.size() / looked_from);
    constexpr double width = (farthest_pair - nearest_pair) / static_cast<double>(bins);
    for (std::size_t i = 0; i < residuals.size(); i += stride) {
        const Residual& one = residuals[i];
        if (std::abs(one.off) > most) continue;
        squares.near(one.uv, [&](const Residual& other) {
            const double apart = (other.uv - one.uv).norm();
            if (apart < nearest_pair || apart >= farthest_pair || std::abs(other.off) > most)
                return;
            const auto bin = static_cast<std::size_t>((apart - nearest_pair) / width);
            sum.product[bin] += one.off * other.off;
            sum.apart[bin] += apart;
            sum.pairs[bin] += 1.0;
        });
    }
    return sum;
}

}  // namespace

double Noise::density() const {
    return 2.0 * std::numbers::pi * correlation * correlation * spread * spread;
}

Noise noise_of(std::span<const Residual> residuals, double spacing) {
    std::vector<double> sizes;
    sizes.reserve(residuals.size());
    for (const Residual& residual : residuals) sizes.push_back(std::abs(residual.off));
    Noise noise;
    noise.spread = 1.4826 * median(sizes);
    // Uncorrelated noise of points `spacing` apart has the density of a correlation of this length.
    noise.correlation = spacing / std::sqrt(2.0 * std::numbers::pi);
    const double variance = noise.spread * noise.spread;
    if (!(variance > 0.0)) return noise;

    // ln C = ln(share) - r^2 / 2 L^2 by least squares, weighted by the pairs.
    const Covariance sum = covariance(residuals, tukey_reach * noise.spread);
    Eigen::Matrix2d normal = Eigen::Matrix2d::Zero();
    Vec2 right = Vec2::Zero();
    int bins_told = 0;
    for (std::size_t k = 0; k < bins; ++k) {
        if (!(sum.pairs[k] > 0.0)) break;
        const double share = sum.product[k] / sum.pairs[k] / variance;
        if (!(share > told)) break;  // past the first zero only the fit's own ripple is seen
        const double apart = sum.apart[k] / sum.pairs[k];
        const Vec2 row(1.0, -0.5 * apart * apart);
        const double weight = sum.pairs[k] * share * share;
        normal += weight * row * row.transpose();
        right += weight * std::log(share) * row;
        ++bins_told;
    }
    if (bins_told == 0) return noise;
    // One bin alone: the covariance is taken to start from the variance.
    const double by_square = bins_told == 1 ? std::max(0.0, (right.x() - 0.0) / normal(0, 1))
                                            : Vec2(normal.inverse() * right).y();
    if (by_square > 0.0)
        noise.correlation =
            std::clamp(1.0 / std::sqrt(by_square), noise.correlation, farthest_pair);
    return noise;
}

}  // namespace tearline::scan

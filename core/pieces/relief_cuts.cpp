#include "core/pieces/relief_cuts.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/pieces/flat_outline.h"
#include "core/pieces/part_cloth.h"
#include "core/pieces/seams.h"
#include "core/pieces/strain_measures.h"
#include "core/plane/nearest_on_line.h"

namespace tearline::pieces {

namespace {

/// [-] of the limit from which a triangle asks for help: near the limit is where it ends.
constexpr double asking_share = 0.6;
/// [mm] cuts begin so far outside the outline, so that they part it for certain.
constexpr double overshoot = 5.0;
/// [mm] no two cuts come nearer than this: the tongue between them would tear off.
constexpr double narrowest_tongue = 25.0;

}  // namespace

Region2 chart_outline(const Piece& piece) {
    return flat_outline(piece.lay, piece.chart);
}

CutProposals::CutProposals(const Piece& plain, double strain_limit) {
    const Region2 outline = chart_outline(plain);
    rim_ = outline.outer;
    const Extent extent = extent_of(outline);
    centre_ = extent.centre;
    spine_ = Vec2(std::cos(extent.angle), std::sin(extent.angle));
    half_spine_ = std::max(0.0, extent.half_long - extent.half_wide);

    std::vector<double> asked(rim_.size(), 0.0);
    const std::vector<double> strain = largest_strains(plain.stretch);
    for (std::size_t t = 0; t < strain.size(); ++t) {
        const double over = strain[t] - asking_share * strain_limit;
        if (!(over > 0.0)) continue;
        const auto& v = plain.lay.triangle[t];
        const Vec2 &a = plain.chart[v[0]], &b = plain.chart[v[1]], &c = plain.chart[v[2]];
        const Vec2 middle = (a + b + c) / 3.0;
        const auto nearest =
            std::min_element(rim_.begin(), rim_.end(), [&](const Vec2& p, const Vec2& q) {
                return (p - middle).squaredNorm() < (q - middle).squaredNorm();
            });
        asked[static_cast<std::size_t>(nearest - rim_.begin())] += over * cross2(b - a, c - a);
    }
    const auto most = std::max_element(asked.begin(), asked.end());
    asked_.resize(asked.size() + 1, 0.0);
    std::partial_sum(asked.begin(), asked.end(), asked_.begin() + 1);
    if (!(asked_.back() > 0.0)) {
        asked_.clear();
        return;
    }
    const auto at = static_cast<std::size_t>(most - asked.begin());
    peak_ = 0.5 * (asked_[at] + asked_[at + 1]) / asked_.back();
}

Vec2 CutProposals::mouth(double share) const {
    const double wanted = (share - std::floor(share)) * asked_.back();
    const auto above = std::upper_bound(asked_.begin(), asked_.end(), wanted);
    const auto i = static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(
        above - asked_.begin() - 1, 0, static_cast<std::ptrdiff_t>(rim_.size()) - 1));
    const double step = asked_[i + 1] - asked_[i];
    const double part = step > 0.0 ? (wanted - asked_[i]) / step : 0.5;
    const Vec2& p = rim_[i];
    const Vec2& before = rim_[(i + rim_.size() - 1) % rim_.size()];
    const Vec2& after = rim_[(i + 1) % rim_.size()];
    // Help asked at a point of the rim is spread over the half edges on both sides of it.
    return part < 0.5 ? Vec2(p + (0.5 - part) * (before - p))
                      : Vec2(p + (part - 0.5) * (after - p));
}

Vec2 CutProposals::spine(const Vec2& from) const {
    return centre_ + std::clamp((from - centre_).dot(spine_), -half_spine_, half_spine_) * spine_;
}

std::optional<CutLines> CutProposals::cuts(
    const Wish& wish, const std::function<bool(const Vec2&)>& sound_end) const {
    if (asked_.empty()) return std::nullopt;
    CutLines lines;
    for (int k = 0; k < wish.count; ++k) {
        const Vec2 from = mouth(peak_ + (k + wish.shift) / wish.count);
        const Vec2 way = spine(from) - from;
        if (!(way.norm() > narrowest_tongue)) return std::nullopt;
        std::optional<Vec2> tip;
        for (const double change : {0.0, 0.06, -0.06, 0.12, -0.12, 0.18, -0.18}) {
            const double depth = wish.depth + change;
            if (depth > 0.95 || depth < 0.1 || !sound_end(from + depth * way)) continue;
            tip = from + depth * way;
            break;
        }
        if (!tip) return std::nullopt;
        const std::vector<Vec2> line{from - overshoot * way.normalized(), *tip};
        for (const auto& other : lines)
            if (plane::distance_to_line(other, *tip) < narrowest_tongue ||
                plane::distance_to_line(line, other.back()) < narrowest_tongue)
                return std::nullopt;
        lines.push_back(line);
    }
    return lines;
}

}  // namespace tearline::pieces

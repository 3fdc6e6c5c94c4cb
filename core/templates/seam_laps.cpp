#include "core/templates/seam_laps.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/tolerances.h"
#include "core/pieces/seam_runs.h"
#include "core/templates/offset_region.h"

namespace tearline::templates {

namespace {

/// [mm] radius of the rounded end of a relief cut: no crack starts there.
constexpr double end_radius = 3.0;

/// The band of cloth outside a run of the net line, the piece being on its left.
Region2 band_outside(const std::vector<Vec2>& run, double lap) {
    std::vector<Vec2> outward;
    for (std::size_t i = 0; i + 1 < run.size(); ++i)
        outward.push_back(-turned_left((run[i + 1] - run[i]).normalized()));
    const auto offset = [&](std::size_t i, double far) {
        const Vec2& before = outward[i == 0 ? 0 : i - 1];
        const Vec2& after = outward[std::min(i, outward.size() - 1)];
        // Mitred: as far from both edges, and no farther than twice the lap at a sharp corner.
        const double share = std::max(1.0 + before.dot(after), 0.5);
        return Vec2(run[i] + far / share * (before + after));
    };
    // A little over the piece between the ends: an edge in common, rounded, would leave a slit.
    Region2 band;
    band.outer.push_back(run.back());
    for (std::size_t i = run.size() - 1; i-- > 0;) {
        const Vec2 middle = 0.5 * (run[i] + run[i + 1]) - tolerance::seam_overlap * outward[i];
        band.outer.push_back(middle);
        band.outer.push_back(i > 0 ? offset(i, -tolerance::seam_overlap) : run[0]);
    }
    for (std::size_t i = 0; i < run.size(); ++i) band.outer.push_back(offset(i, lap));
    if (signed_area(band.outer) < 0.0) std::reverse(band.outer.begin(), band.outer.end());
    return band;
}

/// The side of a cut from the mouth to the circle round its tip.
std::vector<Vec2> side_to_end(const std::vector<Vec2>& side) {
    std::vector<Vec2> out;
    const Vec2& tip = side.back();
    for (std::size_t i = 0; i < side.size(); ++i) {
        if ((side[i] - tip).norm() > end_radius) {
            out.push_back(side[i]);
            continue;
        }
        if (i == 0) break;
        const Vec2 way = (tip - side[i - 1]).normalized();
        const double far = (tip - side[i - 1]).norm();
        out.push_back(side[i - 1] + (far - end_radius) * way);
        break;
    }
    return out;
}

/// The way out of a cut through the torn band, in the direction its side has at the mouth.
Vec2 outside(const std::vector<Vec2>& side, double reach) {
    return side[0] + reach * (side[0] - side[1]).normalized();
}

ReliefCut drawn(const pieces::Piece& piece, const pieces::PieceCut& cut, double reach) {
    std::vector<Vec2> left, right;
    const bool slit = cut.opening < 0.0;
    for (const auto& [l, r] : cut.sides) {
        const Vec2 middle = 0.5 * (piece.flat[l] + piece.flat[r]);
        left.push_back(slit ? middle : piece.flat[l]);
        right.push_back(slit ? middle : piece.flat[r]);
    }
    ReliefCut out{slit ? "slit" : "dart", {}};
    if (left.size() < 2) return out;
    const Vec2 tip = left.back();
    const std::vector<Vec2> in = side_to_end(left), back = side_to_end(right);
    if (reach > 0.0) out.points.push_back(outside(left, reach));
    out.points.insert(out.points.end(), in.begin(), in.end());
    if (!in.empty() && !back.empty()) {
        // Round the far side of the tip, clockwise from the left side to the right one.
        const Vec2 from = in.back() - tip, to = back.back() - tip;
        const double start = std::atan2(from.y(), from.x());
        double turn = std::atan2(to.y(), to.x()) - start;
        while (turn >= -0.25 * std::numbers::pi) turn -= 2.0 * std::numbers::pi;
        constexpr int steps = 16;
        for (int k = 1; k < steps; ++k) {
            const double a = start + turn * k / steps;
            out.points.push_back(tip + end_radius * Vec2(std::cos(a), std::sin(a)));
        }
    }
    out.points.insert(out.points.end(), back.rbegin(), back.rend());
    if (reach > 0.0) out.points.push_back(outside(right, reach));
    return out;
}

}  // namespace

Region2 with_laps(const pieces::Piece& piece, const Region2& net, double lap) {
    std::vector<Region2> all{net};
    if (lap > 0.0)
        for (const auto& run : pieces::seam_runs(piece)) {
            std::vector<Vec2> line;
            for (const std::int32_t v : run)
                line.push_back(piece.flat[static_cast<std::size_t>(v)]);
            all.push_back(band_outside(line, lap));
        }
    if (all.size() == 1) return net;
    std::vector<Region2> united = united_regions(all);
    const auto largest =
        std::max_element(united.begin(), united.end(),
                         [](const Region2& a, const Region2& b) { return area(a) < area(b); });
    return largest == united.end() ? net : *largest;
}

std::vector<ReliefCut> relief_cuts(const pieces::Piece& piece, double reach) {
    std::vector<ReliefCut> out;
    for (const pieces::PieceCut& cut : piece.cuts) out.push_back(drawn(piece, cut, reach));
    return out;
}

}  // namespace tearline::templates

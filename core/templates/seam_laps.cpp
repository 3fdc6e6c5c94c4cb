#include "core/templates/seam_laps.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/pieces/seam_runs.h"
#include "core/plane/offset_region.h"
#include "core/plane/turned.h"
#include "core/templates/tolerances.h"

namespace tearline::templates {

namespace {

/// [mm] radius of the rounded end of a relief cut: no crack starts there.
constexpr double end_radius = 3.0;
/// [-] sine of the angle between outline and seam under which a lap's end goes on no farther.
constexpr double least_sine = 0.5;
/// [rad] an outline that turns by more within a lap's width has a corner.
constexpr double most_bend = 0.5;

/// The way of the outline that leads to the end of a seam, as it bends there.
struct Approach {
    Vec2 end{0, 0};
    Vec2 way{0, 0};     ///< unit, towards the end and on
    double bend = 0.0;  ///< [1/mm] to the left

    [[nodiscard]] Vec2 on(double length) const {
        return end + length * plane::turned(way, 0.5 * length * bend);
    }
};

/// @param back  the outline from the end of the seam backwards
Approach approach(const std::vector<Vec2>& back) {
    const Vec2& end = back.front();
    const Vec2& half = back[back.size() / 2];
    Approach out{end, (end - back[1]).normalized(), 0.0};
    if (back.size() < 3) return out;
    // The circle through three places, by the directions of its two chords.
    const Vec2 near = end - half, far = half - back.back();
    const double turn = std::atan2(cross2(far, near), far.dot(near));
    if (std::abs(turn) > most_bend) return out;  // a corner of the outline, no arc
    out.bend = 2.0 * turn / (near.norm() + far.norm());
    out.way = plane::turned(near.normalized(), 0.5 * near.norm() * out.bend);
    return out;
}

/// A run of a seam with the outline to either side of it.
struct SeamRun {
    std::vector<Vec2> line;           ///< the piece is on its left
    std::vector<Vec2> before, after;  ///< from its ends away; may be one place alone
};

/// The outline from one of its vertices on, for about `reach` or to the next seam.
std::vector<Vec2> outline_from(const std::vector<Vec2>& loop, std::size_t at, bool forward,
                               double reach) {
    std::vector<Vec2> out{loop[at]};
    double length = 0.0;
    while (length < reach && out.size() < loop.size()) {
        at = (at + (forward ? 1 : loop.size() - 1)) % loop.size();
        length += (loop[at] - out.back()).norm();
        out.push_back(loop[at]);
    }
    return out;
}

std::vector<SeamRun> seam_runs_flat(const pieces::Piece& piece, double reach) {
    std::vector<SeamRun> out;
    const auto loops = surface::boundary_loops(piece.lay);
    for (const auto& run : pieces::seam_runs(piece)) {
        SeamRun made;
        for (const std::int32_t v : run)
            made.line.push_back(piece.flat[static_cast<std::size_t>(v)]);
        for (const auto& loop : loops) {
            const auto at = [&](std::int32_t v) {
                return static_cast<std::size_t>(std::find(loop.begin(), loop.end(), v) -
                                                loop.begin());
            };
            const std::size_t first = at(run.front()), last = at(run.back());
            if (first == loop.size() || run.front() == run.back()) continue;
            std::vector<Vec2> flat;
            for (const std::int32_t v : loop)
                flat.push_back(piece.flat[static_cast<std::size_t>(v)]);
            made.before = outline_from(flat, first, false, reach);
            made.after = outline_from(flat, last, true, reach);
        }
        out.push_back(std::move(made));
    }
    return out;
}

/// Where the lap's outer edge ends: there the outline, carried on past the seam, is `lap` from it.
/// @param outward  unit, square to the seam
Vec2 lap_corner(const std::vector<Vec2>& back, const Vec2& outward, double lap) {
    if (back.size() < 2) return lap * outward;
    const Approach outline = approach(back);
    double length = lap;
    for (int step = 0; step < 4; ++step) {  // Newton's steps to the place that is `lap` off
        const Vec2 there = plane::turned(outline.way, length * outline.bend);
        const double missing = lap - (outline.on(length) - outline.end).dot(outward);
        length += missing / std::max(there.dot(outward), least_sine);
    }
    return outline.on(std::min(length, lap / least_sine)) - outline.end;
}

/// The band of cloth outside a run of the net line, its ends in line with the outline.
Region2 band_outside(const SeamRun& seam, double lap) {
    const std::vector<Vec2>& run = seam.line;
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
    const Vec2 first = lap_corner(seam.before, outward.front(), lap);
    const Vec2 last = lap_corner(seam.after, outward.back(), lap);
    band.outer.push_back(run.front() + first);
    for (std::size_t i = 1; i + 1 < run.size(); ++i) {
        const Vec2 at = offset(i, lap);
        // Where the ply narrows past the seam, its outline cuts the band's end off.
        const Vec2 from_first = at - run.front(), from_last = at - run.back();
        const bool past_first = cross2(first, from_first) < 0.0 && from_first.norm() < first.norm();
        const bool past_last = cross2(last, from_last) > 0.0 && from_last.norm() < last.norm();
        if (!past_first && !past_last) band.outer.push_back(at);
    }
    band.outer.push_back(run.back() + last);
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
        for (const SeamRun& run : seam_runs_flat(piece, lap)) all.push_back(band_outside(run, lap));
    if (all.size() == 1) return net;
    std::vector<Region2> united = plane::united_regions(all);
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

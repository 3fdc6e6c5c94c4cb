#include "core/damage/hull_end_way.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <unordered_map>

#include "core/damage/tolerances.h"
#include "core/plane/segment.h"

namespace tearline::damage {

HullEndWay::HullEndWay(const surface::Patch& patch) : patch_(patch) {
    std::unordered_map<std::int32_t, std::int32_t> from;
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            if (patch.neighbour[t][i] >= 0) continue;
            const auto& v = patch.mesh.triangle[t];
            from.emplace(v[i], static_cast<std::int32_t>(sides_.size()));
            sides_.push_back({v[i], v[(i + 1) % 3], t, i, patch.hull_end[t][i]});
        }
    for (std::size_t k = 0; k < sides_.size(); ++k) {
        const auto found = from.find(sides_[k].to);
        if (found == from.end()) continue;
        sides_[k].next = found->second;
        sides_[static_cast<std::size_t>(found->second)].before = static_cast<std::int32_t>(k);
    }
}

HullEndWay::Place HullEndWay::place_of(const OutlinePoint& point) const {
    // By the chart: in space places of a tube that is rolled out lie on those a turn away.
    const Vec2 place = patch_.chart_point(point.at);
    Place best;
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < sides_.size(); ++k) {
        const Vec2& a = patch_.chart[static_cast<std::size_t>(sides_[k].from)];
        const Vec2& b = patch_.chart[static_cast<std::size_t>(sides_[k].to)];
        const double part = plane::nearest_share(a, b, place);
        const double off = (place - a - part * (b - a)).squaredNorm();
        if (!(off < nearest)) continue;
        nearest = off;
        best = {k, part};
    }
    return best;
}

surface::Location HullEndWay::nearest(const Vec3& point) const {
    surface::Location at;
    double nearest = std::numeric_limits<double>::infinity();
    for (const Side& side : sides_) {
        if (!side.hull_end) continue;
        const Vec3& a = patch_.mesh.position[static_cast<std::size_t>(side.from)];
        const Vec3& b = patch_.mesh.position[static_cast<std::size_t>(side.to)];
        const double part = plane::nearest_share(a, b, point);
        const double off = (point - a - part * (b - a)).squaredNorm();
        if (!(off < nearest)) continue;
        nearest = off;
        at = {TriangleId(side.triangle), Vec3::Zero()};
        at.weights[side.edge] = 1.0 - part;
        at.weights[(side.edge + 1) % 3] = part;
    }
    return at;
}

Vec3 HullEndWay::direction(std::size_t side) const {
    return (patch_.mesh.position[static_cast<std::size_t>(sides_[side].to)] -
            patch_.mesh.position[static_cast<std::size_t>(sides_[side].from)])
        .normalized();
}

OutlinePoint HullEndWay::at_start_of(std::size_t side) const {
    const Side& here = sides_[side];
    OutlinePoint point;
    point.at.triangle = TriangleId(here.triangle);
    point.at.weights[here.edge] = 1.0;
    point.position = patch_.mesh.position[static_cast<std::size_t>(here.from)];
    point.tangent_out = direction(side);
    point.tangent_in =
        here.before >= 0 ? direction(static_cast<std::size_t>(here.before)) : point.tangent_out;
    const double corner = std::cos(tolerance::end_corner_degrees * std::numbers::pi / 180.0);
    if (point.tangent_in.dot(point.tangent_out) > corner)
        point.tangent_in = point.tangent_out = (point.tangent_in + point.tangent_out).normalized();
    return point;
}

double HullEndWay::distance(const Vec2& chart_point) const {
    double nearest = std::numeric_limits<double>::infinity();
    for (const Side& side : sides_)
        if (side.hull_end)
            nearest = std::min(nearest,
                               plane::distance_to_segment(
                                   patch_.chart[static_cast<std::size_t>(side.from)],
                                   patch_.chart[static_cast<std::size_t>(side.to)], chart_point));
    return nearest;
}

std::optional<std::vector<std::vector<OutlinePoint>>> HullEndWay::closed(
    const std::vector<CurveRun>& runs) const {
    std::vector<Place> entry, exit;
    for (const CurveRun& run : runs) {
        entry.push_back(place_of(run.points.front()));
        exit.push_back(place_of(run.points.back()));
    }
    std::vector<std::vector<OutlinePoint>> loops;
    std::vector<bool> used(runs.size(), false);
    for (std::size_t start = 0; start < runs.size(); ++start) {
        if (used[start]) continue;
        std::vector<OutlinePoint> loop;
        std::size_t r = start;
        do {
            if (used[r]) return std::nullopt;
            used[r] = true;
            const std::size_t first = loop.size();
            loop.insert(loop.end(), runs[r].points.begin(), runs[r].points.end());
            loop[first].tangent_in = direction(entry[r].side);
            loop.back().tangent_out = direction(exit[r].side);
            const auto found = next_entry(entry, exit[r], loop);
            if (!found) return std::nullopt;
            r = *found;
        } while (r != start);
        loops.push_back(std::move(loop));
    }
    return loops;
}

std::optional<std::size_t> HullEndWay::next_entry(const std::vector<Place>& entry, Place here,
                                                  std::vector<OutlinePoint>& way) const {
    for (std::size_t steps = 0; steps <= sides_.size(); ++steps) {
        const Side& side = sides_[here.side];
        if (!side.hull_end) return std::nullopt;
        std::optional<std::size_t> found;
        for (std::size_t k = 0; k < entry.size(); ++k)
            if (entry[k].side == here.side && entry[k].part >= here.part - tolerance::same_part &&
                (!found || entry[k].part < entry[*found].part))
                found = k;
        if (found) return found;
        if (side.next < 0) return std::nullopt;
        here = {static_cast<std::size_t>(side.next), 0.0};
        way.push_back(at_start_of(here.side));
    }
    return std::nullopt;
}

std::vector<OutlinePoint> HullEndWay::round_opening(const Loop2& hole) const {
    std::size_t first = 0;
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < sides_.size(); ++k) {
        const double off =
            (patch_.chart[static_cast<std::size_t>(sides_[k].from)] - hole.front()).norm();
        if (off < nearest) nearest = off, first = k;
    }
    std::vector<OutlinePoint> loop;
    for (std::size_t k = first, steps = 0; steps <= sides_.size(); ++steps) {
        loop.push_back(at_start_of(k));
        if (sides_[k].next < 0) break;
        k = static_cast<std::size_t>(sides_[k].next);
        if (k == first) break;
    }
    // The surface was on its left.
    std::reverse(loop.begin(), loop.end());
    for (OutlinePoint& point : loop) {
        std::swap(point.tangent_in, point.tangent_out);
        point.tangent_in = -point.tangent_in;
        point.tangent_out = -point.tangent_out;
    }
    return loop;
}

}  // namespace tearline::damage

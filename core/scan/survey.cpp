#include "core/scan/survey.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <unordered_map>
#include <utility>

#include "core/scan/robust.h"
#include "core/scan/surface_about.h"

namespace tearline::scan {

namespace {

constexpr std::size_t most_places = 40;

/// Cubes of space that hold points, by their three numbers.
class Cubes {
public:
    Cubes(const std::vector<Vec3>& points, const Vec3& low, double size) : low_(low), size_(size) {
        for (std::size_t i = 0; i < points.size(); ++i) held_[key(points[i])].push_back(i);
    }
    using Held = std::unordered_map<std::uint64_t, std::vector<std::size_t>>;
    [[nodiscard]] const Held& held() const { return held_; }

    /// Cubes that hang together by faces, edges or corners; the one with most points first.
    [[nodiscard]] std::vector<std::vector<std::uint64_t>> parts() const {
        std::unordered_map<std::uint64_t, bool> seen;
        std::vector<std::vector<std::uint64_t>> all;
        for (const auto& [start, unused] : held_) {
            if (std::exchange(seen[start], true)) continue;
            std::vector<std::uint64_t> part{start};
            for (std::size_t i = 0; i < part.size(); ++i)
                for (const std::uint64_t next : around(part[i]))
                    if (held_.contains(next) && !std::exchange(seen[next], true))
                        part.push_back(next);
            all.push_back(std::move(part));
        }
        std::sort(all.begin(), all.end(),
                  [this](const auto& a, const auto& b) { return count(a) > count(b); });
        return all;
    }
    [[nodiscard]] std::size_t count(const std::vector<std::uint64_t>& part) const {
        std::size_t sum = 0;
        for (const std::uint64_t cube : part) sum += held_.at(cube).size();
        return sum;
    }

private:
    static constexpr std::uint64_t side = 1u << 20u;
    [[nodiscard]] std::uint64_t key(const Vec3& p) const {
        const Vec3 local = (p - low_) / size_;
        const auto number = [&](int axis) {
            return static_cast<std::uint64_t>(std::floor(local[axis])) + 1;
        };
        return (number(0) * side + number(1)) * side + number(2);
    }
    static std::vector<std::uint64_t> around(std::uint64_t cube) {
        std::vector<std::uint64_t> all;
        for (std::uint64_t x = 0; x < 3; ++x)
            for (std::uint64_t y = 0; y < 3; ++y)
                for (std::uint64_t z = 0; z < 3; ++z)
                    all.push_back(cube + (x * side + y) * side + z - (side + 1) * side - 1);
        return all;
    }
    Vec3 low_;
    double size_;
    Held held_;
};

/// Looks for the tightest radius well inside a fair surface.
void tightest(const FairSurface& surface, double half, Survey& survey) {
    constexpr int each_way = 8;
    const Vec2 middle = surface.middle;
    constexpr double own = 3.0;  // spreads that a surface may miss its points by and still be one
    if (surface.seen.spread > own * surface.noise.spread || 2 * surface.used < surface.points)
        return;
    for (int i = -each_way; i <= each_way; ++i)
        for (int k = -each_way; k <= each_way; ++k) {
            const Vec2 uv = middle + half * Vec2(i, k) / each_way;
            if (!contains(surface.domain, uv)) continue;
            const SurfaceJet jet = surface.jet(uv);
            const double bend = tightest_curvature(jet);
            if (bend > 0.0 &&
                (survey.tightest_radius <= 0.0 || 1.0 / bend < survey.tightest_radius)) {
                survey.tightest_radius = 1.0 / bend;
                survey.tightest_at = jet.position;
            }
        }
}

void add_holes(const FairSurface& surface, double half, Survey& survey) {
    for (const DataHole& hole : surface.data_holes) {
        if ((hole.middle - surface.middle).cwiseAbs().maxCoeff() > half) continue;
        const Vec3 at = surface.point(hole.middle);
        const double width = std::sqrt(hole.area_mm2);
        const bool known =
            std::any_of(survey.holes.begin(), survey.holes.end(),
                        [&](const auto& other) { return (other.at - at).norm() < width; });
        if (!known) survey.holes.push_back({at, hole.area_mm2});
    }
}

/// Where surfaces lie, and which way each faces: all one way, from neighbour to neighbour where
/// they are most alike; outside is where most of them face away from the middle of all.
struct Facing {
    std::vector<Vec3> middles;
    std::vector<double> sign;  ///< [-] of each surface's own normal
    Vec3 outward{0, 0, 0};     ///< unit, of all together
};

Facing facing_one_way(const std::vector<FairSurface>& surfaces) {
    Facing facing;
    std::vector<Vec3> normals;
    Vec3 middle(0, 0, 0);
    for (const FairSurface& surface : surfaces) {
        const SurfaceJet jet = surface.jet(surface.middle);
        facing.middles.push_back(jet.position);
        normals.push_back(jet.du.cross(jet.dv).normalized());
        middle += jet.position / static_cast<double>(surfaces.size());
    }
    facing.sign.assign(surfaces.size(), 0.0);
    facing.sign[0] = 1.0;
    for (std::size_t turned = 1; turned < surfaces.size(); ++turned) {
        double best = -1.0;
        std::size_t from = 0, to = 0;
        for (std::size_t i = 0; i < surfaces.size(); ++i)
            for (std::size_t k = 0; k < surfaces.size(); ++k) {
                if (facing.sign[i] == 0.0 || facing.sign[k] != 0.0) continue;
                const double alike = std::abs(normals[i].dot(normals[k])) /
                                     (facing.middles[i] - facing.middles[k]).norm();
                if (alike <= best) continue;
                best = alike;
                from = i;
                to = k;
            }
        facing.sign[to] =
            normals[from].dot(normals[to]) < 0.0 ? -facing.sign[from] : facing.sign[from];
    }
    double away = 0.0;
    for (std::size_t i = 0; i < surfaces.size(); ++i)
        away += facing.sign[i] * normals[i].dot(facing.middles[i] - middle);
    if (away < 0.0)
        for (double& sign : facing.sign) sign = -sign;
    for (std::size_t i = 0; i < surfaces.size(); ++i) facing.outward += facing.sign[i] * normals[i];
    facing.outward.normalize();
    return facing;
}

/// How far every point lies off the surface of the place nearest to it.
void add_misfit(const std::vector<FairSurface>& surfaces, const std::vector<Vec3>& points,
                Survey& survey) {
    const Facing facing = facing_one_way(surfaces);
    survey.outward = facing.outward;
    const std::vector<Vec3>& middles = facing.middles;
    for (const Vec3& point : points) {
        const auto nearest =
            std::min_element(middles.begin(), middles.end(), [&](const Vec3& a, const Vec3& b) {
                return (a - point).squaredNorm() < (b - point).squaredNorm();
            });
        const auto place = static_cast<std::size_t>(nearest - middles.begin());
        const FairSurface& surface = surfaces[place];
        const auto foot = surface.base.foot(point);
        if (surface.field.grid().holds(foot.uv))
            survey.misfit.emplace_back(
                point, facing.sign[place] * (foot.distance - surface.field.at(foot.uv)));
    }
}

/// Where to look: a point near the middle of every cube that holds enough.
std::vector<Vec3> places_in(const std::vector<Vec3>& points, const Vec3& low, double size) {
    constexpr std::size_t fewest = 200;
    const Cubes cubes(points, low, size);
    std::vector<std::pair<std::uint64_t, Vec3>> all;
    for (const auto& [key, held] : cubes.held()) {
        if (held.size() < fewest) continue;
        Vec3 mean(0, 0, 0);
        for (const std::size_t i : held) mean += points[i] / static_cast<double>(held.size());
        const auto nearest = std::min_element(held.begin(), held.end(), [&](auto a, auto b) {
            return (points[a] - mean).squaredNorm() < (points[b] - mean).squaredNorm();
        });
        all.emplace_back(key, points[*nearest]);
    }
    std::sort(all.begin(), all.end(),
              [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<Vec3> places;
    for (const auto& [key, place] : all) places.push_back(place);
    return places;
}

}  // namespace

Result<Survey> survey(const Scan& scan, job::ScanKind kind) {
    Survey out;
    out.points = scan.points.size();
    out.low = out.high = scan.points.front();
    for (const Vec3& p : scan.points) {
        out.low = out.low.cwiseMin(p);
        out.high = out.high.cwiseMax(p);
    }
    out.spacing = spacing_of(scan.points);
    constexpr double apart = 3.0;  // spacings between parts that do not hang together
    const double extent = (out.high - out.low).maxCoeff();
    const Cubes near(scan.points, out.low, std::max(apart * out.spacing, extent / 2000.0));
    const auto parts = near.parts();
    Scan largest;  // without the others, which are no hull
    std::vector<Vec3>& whole = largest.points;
    for (const std::uint64_t cube : parts.front())
        for (const std::size_t i : near.held().at(cube)) whole.push_back(scan.points[i]);
    out.islands = parts.size() - 1;
    out.island_points = out.points - whole.size();

    double size = std::max(extent / 6.0, 150.0);
    std::vector<Vec3> places = places_in(whole, out.low, size);
    while (places.size() > most_places) places = places_in(whole, out.low, size *= 1.25);
    job::HullScan options;
    options.kind = kind;
    std::vector<FairSurface> surfaces;
    std::vector<double> spreads, correlations, lengths;
    for (const Vec3& middle : places) {
        ScanPlace place;
        place.middle = middle;
        place.reach = 0.9 * size;
        place.bridged = false;
        place.follow_bends = false;  // so that the damage shows, too
        auto surface = surface_about(largest, options, place);
        if (!surface) continue;
        spreads.push_back(surface->seen.spread);
        correlations.push_back(surface->seen.correlation);
        lengths.push_back(surface->fairness);
        tightest(*surface, 0.5 * size, out);
        add_holes(*surface, 0.5 * size, out);
        surfaces.push_back(std::move(*surface));
    }
    out.places = surfaces.size();
    if (surfaces.empty())
        return bad_input("nowhere do enough points lie together to tell a surface: check the unit");
    add_misfit(surfaces, whole, out);
    out.noise = {median(spreads), median(correlations)};
    out.fairness = median(lengths);
    std::sort(out.holes.begin(), out.holes.end(),
              [](const auto& a, const auto& b) { return a.area_mm2 > b.area_mm2; });
    return out;
}

}  // namespace tearline::scan

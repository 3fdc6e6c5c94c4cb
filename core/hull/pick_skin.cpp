#include "core/hull/pick_skin.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/base/tolerances.h"
#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

struct Box {
    Vec3 low = Vec3::Constant(tolerance::largest_model);
    Vec3 high = Vec3::Constant(-tolerance::largest_model);
    void add(const Vec3& p) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    [[nodiscard]] double diagonal() const { return (high - low).norm(); }
};

const Vec3& corner(const Hull& hull, std::size_t t, std::size_t k) {
    return hull.vertices[static_cast<std::size_t>(hull.triangles[t][k])];
}

Vec3 area_normal(const Hull& hull, std::size_t t) {
    const Vec3& a = corner(hull, t, 0);
    return 0.5 * (corner(hull, t, 1) - a).cross(corner(hull, t, 2) - a);
}

Vec3 centroid(const Hull& hull, std::size_t t) {
    return (corner(hull, t, 0) + corner(hull, t, 1) + corner(hull, t, 2)) / 3.0;
}

/// Sets aside the triangles not kept; vertices stay, and go when the hull is packed.
void keep_only(Hull& hull, const std::vector<bool>& keep) {
    std::size_t n = 0;
    for (std::size_t t = 0; t < keep.size(); ++t) {
        if (!keep[t]) {
            hull.other_face.push_back({corner(hull, t, 0), corner(hull, t, 1), corner(hull, t, 2)});
            continue;
        }
        hull.triangles[n] = hull.triangles[t];
        if (hull.cad) {
            hull.face[n] = hull.face[t];
            hull.corner_uv[n] = hull.corner_uv[t];
        }
        ++n;
    }
    hull.triangles.resize(n);
    if (hull.cad) {
        hull.face.resize(n);
        hull.corner_uv.resize(n);
    }
    std::vector<std::int32_t> number(hull.vertices.size(), -1);
    std::vector<Vec3> used;
    for (auto& triangle : hull.triangles) {
        for (std::int32_t& v : triangle) {
            auto& to = number[static_cast<std::size_t>(v)];
            if (to < 0) {
                to = static_cast<std::int32_t>(used.size());
                used.push_back(hull.vertices[static_cast<std::size_t>(v)]);
            }
            v = to;
        }
    }
    hull.vertices = std::move(used);
    std::vector<EdgeOnCad> edges;
    for (EdgeOnCad e : hull.cad_edges) {
        e.from = number[static_cast<std::size_t>(e.from)];
        e.to = number[static_cast<std::size_t>(e.to)];
        if (e.from < 0 || e.to < 0) continue;
        if (e.from > e.to) {
            std::swap(e.from, e.to);
            std::swap(e.parameter_from, e.parameter_to);
        }
        edges.push_back(e);
    }
    std::sort(edges.begin(), edges.end(), [](const EdgeOnCad& a, const EdgeOnCad& b) {
        return std::pair(a.from, a.to) < std::pair(b.from, b.to);
    });
    hull.cad_edges = std::move(edges);
}

void say_kept(Hull& hull, job::Side side) {
    hull.surface = side;
    hull.report.orientation += std::string("; the model holds both faces of its skin, the ") +
                               (side == job::Side::outside ? "outer" : "inner") + " one is used";
}

/// Numbers the patches of triangles between creases.
std::vector<std::int32_t> smooth_regions(const Hull& hull, const Topology& topology) {
    const double least = std::cos(tolerance::crease_degrees * std::acos(-1.0) / 180.0);
    std::vector<std::int32_t> region(hull.triangles.size(), -1), open;
    std::int32_t count = 0;
    for (std::size_t seed = 0; seed < region.size(); ++seed) {
        if (region[seed] >= 0) continue;
        region[seed] = count;
        open.assign(1, static_cast<std::int32_t>(seed));
        while (!open.empty()) {
            const auto t = static_cast<std::size_t>(open.back());
            open.pop_back();
            const Vec3 n = area_normal(hull, t).normalized();
            for (const std::int32_t next : topology.across[t]) {
                if (next < 0 || region[static_cast<std::size_t>(next)] >= 0) continue;
                const auto o = static_cast<std::size_t>(next);
                if (n.dot(area_normal(hull, o).normalized()) < least) continue;
                region[o] = count;
                open.push_back(next);
            }
        }
        ++count;
    }
    return region;
}

/// How much a region faces away from the boat's middle at the height of its rim, in [-1, 1].
std::vector<double> facing_away(const Hull& hull, const std::vector<std::int32_t>& region,
                                const Vec3& middle) {
    const auto count =
        static_cast<std::size_t>(*std::max_element(region.begin(), region.end()) + 1);
    std::vector<double> away(count, 0.0), all(count, 0.0);
    for (std::size_t t = 0; t < region.size(); ++t) {
        const auto r = static_cast<std::size_t>(region[t]);
        const Vec3 n = area_normal(hull, t), from = centroid(hull, t) - middle;
        away[r] += n.dot(from);
        all[r] += n.norm() * from.norm();
    }
    for (std::size_t r = 0; r < count; ++r) {
        if (all[r] > 0.0) away[r] /= all[r];
    }
    return away;
}

/// Twice the area over the perimeter of each region [mm]: the breadth of a long strip.
std::vector<double> breadths(const Hull& hull, const Topology& topology,
                             const std::vector<std::int32_t>& region) {
    const auto count =
        static_cast<std::size_t>(*std::max_element(region.begin(), region.end()) + 1);
    std::vector<double> area(count, 0.0), perimeter(count, 0.0);
    for (std::size_t t = 0; t < region.size(); ++t) {
        const auto r = static_cast<std::size_t>(region[t]);
        area[r] += area_normal(hull, t).norm();
        for (std::size_t k = 0; k < 3; ++k) {
            const std::int32_t next = topology.across[t][k];
            if (next >= 0 && region[static_cast<std::size_t>(next)] == region[t]) continue;
            perimeter[r] += (corner(hull, t, k) - corner(hull, t, (k + 1) % 3)).norm();
        }
    }
    for (std::size_t r = 0; r < count; ++r) area[r] = 2.0 * area[r] / perimeter[r];
    return area;
}

/// A closed part that is thin for its size.
struct ThinBody {
    Box box;
    double thickness = 0.0;  ///< [mm]
};

Result<bool> split_thin_body(Hull& hull, const Topology& topology, const ThinBody& body,
                             job::Side side, const Vec3& up) {
    constexpr double rim_in_thicknesses = 2.0;  // a strip narrower than this joins two skins
    Vec3 middle = 0.5 * (body.box.low + body.box.high);
    double top = up.dot(hull.vertices.front());
    for (const Vec3& v : hull.vertices) top = std::max(top, up.dot(v));
    middle += (top - up.dot(middle)) * up;
    const auto region = smooth_regions(hull, topology);
    std::vector<double> away = facing_away(hull, region, middle);
    const auto breadth = breadths(hull, topology, region);
    for (std::size_t r = 0; r < away.size(); ++r) {
        if (breadth[r] < rim_in_thicknesses * body.thickness) away[r] = 0.0;
    }
    const double sign = side == job::Side::outside ? 1.0 : -1.0;
    std::vector<bool> keep(region.size());
    double kept = 0.0, other = 0.0;
    for (std::size_t t = 0; t < region.size(); ++t) {
        const double facing = sign * away[static_cast<std::size_t>(region[t])];
        keep[t] = facing > tolerance::skin_facing;
        if (keep[t]) kept += area_normal(hull, t).norm();
        if (facing < -tolerance::skin_facing) other += area_normal(hull, t).norm();
    }
    if (!(std::min(kept, other) > tolerance::skin_likeness * std::max(kept, other))) {
        return bad_input(
            "hull.model",
            "the model is a thin closed body whose outer and inner face cannot be told "
            "apart; export the face that is repaired alone");
    }
    if (side == job::Side::inside) {  // it faces the inside of the boat: outward is the other way
        for (std::size_t t = 0; t < keep.size(); ++t) {
            std::swap(hull.triangles[t][1], hull.triangles[t][2]);
            if (hull.cad) std::swap(hull.corner_uv[t][1], hull.corner_uv[t][2]);
        }
    }
    keep_only(hull, keep);
    say_kept(hull, side);
    return true;
}

}  // namespace

Result<bool> pick_skin(Hull& hull, const Topology& topology, const std::vector<Part>& parts,
                       job::Side side, const Vec3& up) {
    std::vector<Box> boxes(parts.size());
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        for (std::size_t k = 0; k < 3; ++k) {
            boxes[static_cast<std::size_t>(topology.component[t])].add(corner(hull, t, k));
        }
    }
    std::vector<std::size_t> by_area(parts.size());
    std::iota(by_area.begin(), by_area.end(), 0);
    std::sort(by_area.begin(), by_area.end(),
              [&](std::size_t a, std::size_t b) { return parts[a].area > parts[b].area; });
    const std::size_t first = by_area[0];
    if (parts.size() > 1) {
        const std::size_t second = by_area[1];
        const double apart = std::max((boxes[first].low - boxes[second].low).norm(),
                                      (boxes[first].high - boxes[second].high).norm());
        const bool nested = apart < tolerance::skin_share * boxes[first].diagonal() &&
                            parts[second].area > tolerance::skin_likeness * parts[first].area;
        if (nested) {
            const bool first_is_outer = boxes[first].diagonal() > boxes[second].diagonal();
            const std::size_t used =
                (side == job::Side::outside) == first_is_outer ? first : second;
            std::vector<bool> keep(hull.triangles.size());
            for (std::size_t t = 0; t < keep.size(); ++t) {
                keep[t] = static_cast<std::size_t>(topology.component[t]) == used;
            }
            keep_only(hull, keep);
            say_kept(hull, side);
            return true;
        }
    }
    const double thickness = 2.0 * std::abs(parts[first].volume) / parts[first].area;
    if (parts[first].closed() && thickness < tolerance::skin_share * boxes[first].diagonal()) {
        return split_thin_body(hull, topology, {boxes[first], thickness}, side, up);
    }
    return false;
}

}  // namespace tearline::hull

#include "core/job_sheet/hull_picture.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

#include "core/formats/svg.h"
#include "core/job_sheet/colour_scale.h"

namespace tearline::job_sheet {

namespace {

/// Triangles to draw, whichever mesh they come from.
struct Facets {
    const std::vector<Vec3>& vertices;
    const std::vector<std::array<std::int32_t, 3>>& triangles;
};

Facets facets_of(const Plan& plan) {
    if (!plan.place.view.far_triangles.empty())
        return {plan.place.view.far_vertices, plan.place.view.far_triangles};
    return {plan.place.view.near.position, plan.place.view.near.triangle};
}

std::vector<Vec3> vertex_normals(const Facets& facets) {
    std::vector<Vec3> normals(facets.vertices.size(), Vec3::Zero());
    for (const auto& [a, b, c] : facets.triangles) {
        const Vec3& p = facets.vertices[static_cast<std::size_t>(a)];
        const Vec3 n = (facets.vertices[static_cast<std::size_t>(b)] - p)
                           .cross(facets.vertices[static_cast<std::size_t>(c)] - p);
        for (const std::int32_t v : {a, b, c}) normals[static_cast<std::size_t>(v)] += n;
    }
    return normals;
}

/// Light from above left, and a little from the onlooker: both sides of a facet are lit alike.
double brightness(const Vec3& normal, const HullProjection& view) {
    const double length = normal.norm();
    if (!(length > 0.0)) return 0.8;
    Vec3 n = normal / length;
    if (n.dot(view.towards) < 0.0) n = -n;
    const Vec3 light = (view.towards + 0.7 * view.up - 0.45 * view.right).normalized();
    return 0.42 + 0.55 * std::max(0.0, n.dot(light));
}

/// The part of a convex polygon inside a box (Sutherland and Hodgman).
std::vector<Vec2> clipped(std::vector<Vec2> polygon, const plane::Box& box) {
    for (int side = 0; side < 4; ++side) {
        const int axis = side % 2;
        const double sign = side < 2 ? 1.0 : -1.0;
        const double limit = side < 2 ? box.low[axis] : -box.high[axis];
        std::vector<Vec2> kept;
        for (std::size_t i = 0; i < polygon.size(); ++i) {
            const Vec2 &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
            const double da = sign * a[axis] - limit, db = sign * b[axis] - limit;
            if (da >= 0.0) kept.push_back(a);
            if ((da >= 0.0) != (db >= 0.0)) kept.push_back(a + da / (da - db) * (b - a));
        }
        polygon = std::move(kept);
    }
    return polygon;
}

struct DrawnFacet {
    std::vector<Vec2> polygon;
    double depth = 0.0;  ///< towards the onlooker
    int shade = 0;       ///< 0 to 63
};

std::vector<DrawnFacet> drawn_facets(const Facets& facets, const HullProjection& view,
                                     const plane::Box& window) {
    const std::vector<Vec3> normals = vertex_normals(facets);
    std::vector<DrawnFacet> drawn;
    for (const auto& corners : facets.triangles) {
        DrawnFacet facet;
        Vec3 normal = Vec3::Zero();
        for (const std::int32_t v : corners) {
            const auto i = static_cast<std::size_t>(v);
            facet.polygon.push_back(view(facets.vertices[i]));
            facet.depth += facets.vertices[i].dot(view.towards);
            normal += normals[i].normalized();
        }
        facet.polygon = clipped(std::move(facet.polygon), window);
        if (facet.polygon.size() < 3) continue;
        facet.shade = static_cast<int>(std::lround(63.0 * brightness(normal, view)));
        drawn.push_back(std::move(facet));
    }
    std::stable_sort(drawn.begin(), drawn.end(),
                     [](const DrawnFacet& a, const DrawnFacet& b) { return a.depth < b.depth; });
    return drawn;
}

/// Coarse coordinates keep the picture small: 0.01 mm on paper is less than any printer shows.
std::string coarse_path(const std::vector<Vec2>& polygon, bool closed = true) {
    std::vector<Vec2> rounded;
    for (const Vec2& p : polygon)
        rounded.emplace_back(std::round(p.x() * 100.0) / 100.0, std::round(p.y() * 100.0) / 100.0);
    return formats::svg_path(rounded, closed);
}

}  // namespace

HullProjection square_on(const Plan& plan) {
    HullProjection view;
    view.towards = plan.place.frame.normal;
    view.up = plan.place.frame.y;
    view.right = plan.place.frame.x;
    view.centre = plan.place.frame.middle;
    return view;
}

HullProjection three_quarter(const Plan& plan) {
    const Vec3 bow = plan.job.hull.bow.normalized(), up = plan.job.hull.up.normalized();
    const Vec3 starboard = bow.cross(up).normalized();
    // From the side that the repair is on, from under the hull where that faces down.
    const double side = plan.place.frame.normal.dot(starboard) < 0.0 ? -1.0 : 1.0;
    const double height = plan.place.frame.normal.dot(up) < -0.5 ? -0.55 : 0.45;
    HullProjection view;
    view.towards = (side * starboard + 0.55 * bow + height * up).normalized();
    view.right = up.cross(view.towards).normalized();
    view.up = view.towards.cross(view.right);
    view.centre = plan.place.frame.middle;
    return view;
}

void fit(HullProjection& projection, const std::vector<Vec3>& points, const plane::Box& paper,
         double most_scale) {
    if (points.empty()) return;
    projection.scale = 1.0;
    projection.at = Vec2(0, 0);
    std::vector<Vec2> flat;
    for (const Vec3& p : points) flat.push_back(projection(p));
    const plane::Box box = plane::box_round(flat);
    const Vec2 size = (box.high - box.low).cwiseMax(Vec2(1.0, 1.0)), room = paper.high - paper.low;
    projection.scale = std::min({room.x() / size.x(), room.y() / size.y(), most_scale});
    projection.at = 0.5 * (paper.low + paper.high) - projection.scale * 0.5 * (box.low + box.high);
}

std::string shaded_hull(const Plan& plan, const HullProjection& projection,
                        const plane::Box& window) {
    std::string out = "<g class=\"hull\" stroke-width=\"0.12\" stroke-linejoin=\"round\">\n";
    int shade = -1;
    for (const DrawnFacet& facet : drawn_facets(facets_of(plan), projection, window)) {
        // Neighbours in order and shade share one path.
        if (facet.shade != shade) {
            if (shade >= 0) out += "\"/>\n";
            shade = facet.shade;
            const std::string fill = colour(Vec3(235, 238, 240) * (0.35 + 0.65 * shade / 63.0));
            out += "<path fill=\"" + fill + "\" stroke=\"" + fill + "\" d=\"";
        }
        out += coarse_path(facet.polygon);
    }
    if (shade >= 0) out += "\"/>\n";
    return out + "</g>\n";
}

std::string projected_line(const std::vector<Vec3>& line, const HullProjection& projection) {
    std::vector<Vec2> points;
    for (const Vec3& p : line) points.push_back(projection(p));
    return coarse_path(points, false);
}

std::string projected_path(const Region3& region, const HullProjection& projection) {
    const auto path = [&projection](const Loop3& loop) {
        std::vector<Vec2> points;
        for (const Vec3& p : loop) points.push_back(projection(p));
        return coarse_path(points);
    };
    std::string out = path(region.outer);
    for (const Loop3& hole : region.holes) out += path(hole);
    return out;
}

}  // namespace tearline::job_sheet

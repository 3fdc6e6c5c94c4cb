#pragma once
#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "core/surface/surface_mesh.h"

/// Meshes whose edge lengths are the surface's own, so that a test of flattening tests nothing
/// else.
namespace tearline::test {

/// Plane mesh that a surface is drawn on: places and counter-clockwise triangles.
struct PlaneMesh {
    std::vector<Vec2> place;
    std::vector<std::array<std::int32_t, 3>> triangle;
};

/// Disc of near-equilateral triangles: `rings` rings, ring k of 6 k vertices; 6 rings^2 triangles.
inline PlaneMesh disc(double radius, int rings) {
    PlaneMesh out;
    out.place.emplace_back(0.0, 0.0);
    const auto first = [](int ring) { return ring == 0 ? 0 : 1 + 3 * ring * (ring - 1); };
    for (int k = 1; k <= rings; ++k)
        for (int i = 0; i < 6 * k; ++i) {
            const double turn = 2.0 * std::numbers::pi * i / (6.0 * k);
            out.place.push_back(radius * k / rings * Vec2(std::cos(turn), std::sin(turn)));
        }
    const auto vertex = [&](int ring, int i) {
        return ring == 0 ? 0 : first(ring) + (i % (6 * ring));
    };
    for (int k = 1; k <= rings; ++k)
        for (int side = 0; side < 6; ++side)
            for (int i = 0; i < k; ++i) {
                const int out0 = vertex(k, side * k + i), out1 = vertex(k, side * k + i + 1);
                const int in0 = vertex(k - 1, side * (k - 1) + i);
                out.triangle.push_back({in0, out0, out1});
                if (i + 1 < k)
                    out.triangle.push_back({in0, out1, vertex(k - 1, side * (k - 1) + i + 1)});
            }
    return out;
}

/// Ring between two radii, triangles near equilateral at the middle.
inline PlaneMesh ring(double inner, double outer, int across, int around) {
    PlaneMesh out;
    for (int k = 0; k <= across; ++k)
        for (int i = 0; i < around; ++i) {
            const double turn = 2.0 * std::numbers::pi * (i + 0.5 * (k % 2)) / around;
            const double radius = inner + (outer - inner) * k / across;
            out.place.push_back(radius * Vec2(std::cos(turn), std::sin(turn)));
        }
    for (int k = 0; k < across; ++k)
        for (int i = 0; i < around; ++i) {
            const auto at = [&](int row, int j) { return row * around + (j + around) % around; };
            const int a = at(k, i), b = at(k, i + 1), c = at(k + 1, i), d = at(k + 1, i + 1);
            // Odd rows are turned half a step: the diagonal goes to the nearer vertex.
            if (k % 2 == 0) {
                out.triangle.push_back({a, c, b});
                out.triangle.push_back({b, c, d});
            } else {
                out.triangle.push_back({a, c, d});
                out.triangle.push_back({a, d, b});
            }
        }
    return out;
}

/// Takes out the triangles with a corner inside a circle, and the vertices left over.
inline PlaneMesh with_hole(const PlaneMesh& mesh, const Vec2& centre, double radius) {
    PlaneMesh out;
    std::vector<std::int32_t> renumbered(mesh.place.size(), -1);
    for (const auto& v : mesh.triangle) {
        const bool inside = std::any_of(v.begin(), v.end(), [&](std::int32_t i) {
            return (mesh.place[i] - centre).norm() < radius;
        });
        if (inside) continue;
        auto corners = v;
        for (std::int32_t& i : corners) {
            if (renumbered[i] < 0) {
                renumbered[i] = static_cast<std::int32_t>(out.place.size());
                out.place.push_back(mesh.place[i]);
            }
            i = renumbered[i];
        }
        out.triangle.push_back(corners);
    }
    return out;
}

/// Cuts a disc mesh open along +x, from ring `from_ring` to the rim: each vertex there but the
/// first becomes two.
inline PlaneMesh with_slit(PlaneMesh mesh, int from_ring) {
    const auto first = [](int ring) { return ring == 0 ? 0 : 1 + 3 * ring * (ring - 1); };
    std::vector<std::int32_t> twin(mesh.place.size(), -1);
    const auto whole = static_cast<std::int32_t>(mesh.place.size());
    for (int k = from_ring + 1; first(k) < whole; ++k) {
        twin[first(k)] = static_cast<std::int32_t>(mesh.place.size());
        mesh.place.push_back(mesh.place[first(k)]);
    }
    for (auto& v : mesh.triangle) {
        const double height = mesh.place[v[0]].y() + mesh.place[v[1]].y() + mesh.place[v[2]].y();
        for (std::int32_t& i : v)
            if (height < 0.0 && i < whole && twin[i] >= 0) i = twin[i];
    }
    return mesh;
}

/// A surface given over a plane: where a point goes, the normal there, and the geodesic distance.
struct Surface {
    std::function<Vec3(const Vec2&)> position;
    std::function<Vec3(const Vec2&)> normal;
    std::function<double(const Vec2&, const Vec2&)> distance;
};

/// Carries a plane mesh to a surface.
inline surface::SurfaceMesh on_surface(const PlaneMesh& mesh, const Surface& surface) {
    surface::SurfaceMesh out;
    for (const Vec2& p : mesh.place) out.position.push_back(surface.position(p));
    out.triangle = mesh.triangle;
    for (const auto& v : mesh.triangle) {
        std::array<double, 3> length{};
        std::array<Vec3, 3> normal;
        for (std::size_t i = 0; i < 3; ++i) {
            length[i] = surface.distance(mesh.place[v[i]], mesh.place[v[(i + 1) % 3]]);
            normal[i] = surface.normal(mesh.place[v[i]]);
        }
        out.edge_length.push_back(length);
        out.corner_normal.push_back(normal);
    }
    return out;
}

/// Rolled on a cylinder about y, outside up: lengths stay those of the plane.
inline surface::SurfaceMesh on_cylinder(const PlaneMesh& mesh, double radius) {
    const auto out = [=](const Vec2& p) {
        return Vec3(std::sin(p.x() / radius), 0.0, std::cos(p.x() / radius));
    };
    return on_surface(
        mesh, {[=](const Vec2& p) { return Vec3(radius * out(p) + Vec3(0.0, p.y(), 0.0)); }, out,
               [](const Vec2& a, const Vec2& b) { return (a - b).norm(); }});
}

/// Rolled on a cone of a half-angle, the mesh's origin lying `slant` from the apex.
inline surface::SurfaceMesh on_cone(const PlaneMesh& mesh, double half_angle, double slant) {
    const double sine = std::sin(half_angle), cosine = std::cos(half_angle);
    const auto turn = [=](const Vec2& p) { return std::atan2(p.y(), p.x() + slant) / sine; };
    return on_surface(mesh, {[=](const Vec2& p) {
                                 const double s = (p + Vec2(slant, 0.0)).norm();
                                 return Vec3(s * sine * std::cos(turn(p)),
                                             s * sine * std::sin(turn(p)), -s * cosine);
                             },
                             [=](const Vec2& p) {
                                 return Vec3(cosine * std::cos(turn(p)), cosine * std::sin(turn(p)),
                                             sine);
                             },
                             [](const Vec2& a, const Vec2& b) { return (a - b).norm(); }});
}

/// Laid on a sphere about its pole by geodesic polar coordinates; lengths are great-circle arcs.
inline surface::SurfaceMesh on_sphere(const PlaneMesh& mesh, double radius) {
    const auto unit = [=](const Vec2& p) {
        const double r = p.norm();
        if (!(r > 0.0)) return Vec3(0.0, 0.0, 1.0);
        const double a = r / radius;
        return Vec3(std::sin(a) * p.x() / r, std::sin(a) * p.y() / r, std::cos(a));
    };
    return on_surface(mesh, {[=](const Vec2& p) { return Vec3(radius * unit(p)); }, unit,
                             [=](const Vec2& a, const Vec2& b) {
                                 const Vec3 u = unit(a), v = unit(b);
                                 return radius * std::atan2(u.cross(v).norm(), u.dot(v));
                             }});
}

}  // namespace tearline::test

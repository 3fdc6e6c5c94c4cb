#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>

#include "core/remesh/remesh.h"
#include "core/remesh/tolerances.h"

namespace tearline::remesh {
namespace {

constexpr double least_cosine = 0.5;  ///< between a flipped triangle and the pair before
/// Between a flipped triangle and the surface at each of its corners: less where the pair had less.
constexpr double least_cosine_to_surface = 0.7;

/// A triangle by two of its edges, and the surface's normals at its corners.
struct Facing {
    Vec3 one, other;
    std::array<const Vec3*, 3> normal;

    /// The least cosine between the surface and the triangle at a corner of it; one without an
    /// area faces nowhere, and any other is better.
    [[nodiscard]] double least() const {
        const Vec3 area = one.cross(other);
        if (!(area.norm() > tolerance::no_area * one.norm() * other.norm())) return -1.0;
        double least = 1.0;
        for (const Vec3* n : normal) least = std::min(least, area.dot(*n) / area.norm());
        return least;
    }
};

/// Whether two triangles that an edge is flipped into still face as the surface does behind them,
/// or as the pair did: of facets as long as the part, flip by flip would lead right through a tube.
bool keep_to_surface(const RemeshMesh& mesh, const surface::Carrier& carrier, Corner e) {
    const RemeshTriangle& here = mesh.triangle[e.triangle];
    const int i = e.corner, j = (i + 1) % 3, k = (i + 2) % 3;
    const TriangleId n = here.neighbour[i];
    const int far = (mesh.edge_in(n, here.vertex[j], here.vertex[i]) + 2) % 3;
    const Vec3 &a = mesh.point(e.triangle, i), &b = mesh.point(e.triangle, j);
    const Vec3 &c = mesh.point(e.triangle, k), &d = mesh.point(n, far);
    const Vec3 na = carrier.carry(here.anchor[i], a).normal;
    const Vec3 nb = carrier.carry(here.anchor[j], b).normal;
    const Vec3 nc = carrier.carry(here.anchor[k], c).normal;
    const Vec3 nd = carrier.carry(mesh.triangle[n].anchor[far], d).normal;
    const double after = std::min(Facing{a - c, d - c, {&na, &nc, &nd}}.least(),
                                  Facing{b - d, c - d, {&nb, &nc, &nd}}.least());
    if (after > least_cosine_to_surface) return true;
    return after > std::min(Facing{b - a, c - a, {&na, &nb, &nc}}.least(),
                            Facing{a - b, d - b, {&na, &nb, &nd}}.least());
}

/// Whether an edge fails the Delaunay test and its flip keeps the surface's shape.
bool wants_flip(const RemeshMesh& mesh, const surface::Carrier& carrier, Corner e) {
    const RemeshTriangle& here = mesh.triangle[e.triangle];
    const int i = e.corner;
    const TriangleId n = here.neighbour[i];
    if (!n.valid() || here.kept[i].kept()) return false;
    const RemeshTriangle& across = mesh.triangle[n];
    const int k = mesh.edge_in(n, here.vertex[(i + 1) % 3], here.vertex[i]);
    const Vec3& a = mesh.point(e.triangle, i);
    const Vec3& b = mesh.point(e.triangle, i + 1);
    const Vec3& c = mesh.point(e.triangle, i + 2);
    const Vec3& d = mesh.point(n, k + 2);
    const Vec3 ca = a - c;
    const Vec3 cb = b - c;
    const Vec3 da = a - d;
    const Vec3 db = b - d;
    const Vec3 nc = ca.cross(cb);
    const Vec3 nd = db.cross(da);
    const double sine_c = nc.norm();
    const double sine_d = nd.norm();
    // sin(c + d) < 0: together the opposite angles are over 180 degrees.
    const double sine = sine_c * da.dot(db) + sine_d * ca.dot(cb);
    if (!(sine < -tolerance::delaunay * (ca.norm() * cb.norm() * da.norm() * db.norm())))
        return false;
    if (!carrier.same(here.anchor[i], across.anchor[(k + 1) % 3]) ||
        !carrier.same(here.anchor[(i + 1) % 3], across.anchor[k]))
        return false;
    const Vec3 pair = (nc + nd).normalized();
    const Vec3 x = (a - c).cross(d - c);
    const Vec3 y = (b - d).cross(c - d);
    if (!(x.dot(pair) > least_cosine * x.norm() && y.dot(pair) > least_cosine * y.norm()))
        return false;
    return keep_to_surface(mesh, carrier, e);
}

bool joined(const RemeshMesh& mesh, VertexId c, VertexId d, std::vector<Corner>& ring) {
    mesh.ring(c, ring);
    for (const Corner& r : ring)
        for (const VertexId v : mesh.triangle[r.triangle].vertex)
            if (v == d) return true;
    return false;
}

}  // namespace

void flip_touched(RemeshMesh& mesh, const surface::Carrier& carrier) {
    std::vector<Corner> ring;
    std::vector<TriangleId> open = std::move(mesh.touched);
    mesh.touched.clear();
    // A flip opens its four neighbours' edges again; slivers on curved places could go on for ever.
    std::size_t flips = 20 * open.size() + 100;
    while (!open.empty() && flips > 0) {
        const TriangleId t = open.back();
        open.pop_back();
        if (!mesh.triangle[t].alive()) continue;
        for (int i = 0; i < 3; ++i) {
            if (!wants_flip(mesh, carrier, {t, i})) continue;
            const RemeshTriangle& here = mesh.triangle[t];
            const TriangleId n = here.neighbour[i];
            const int k = mesh.edge_in(n, here.vertex[(i + 1) % 3], here.vertex[i]);
            if (joined(mesh, here.vertex[(i + 2) % 3], mesh.triangle[n].vertex[(k + 2) % 3], ring))
                continue;
            mesh.flip({t, i});
            --flips;
            open.push_back(n);
            open.push_back(t);
            break;
        }
    }
}

void flip_to_delaunay(RemeshMesh& mesh, const surface::Carrier& carrier) {
    mesh.touched.clear();
    for (const TriangleId t : mesh.triangle.ids()) mesh.touched.push_back(t);
    // The last is looked at first: from the lowest number up, as on every run.
    std::reverse(mesh.touched.begin(), mesh.touched.end());
    flip_touched(mesh, carrier);
}

}  // namespace tearline::remesh

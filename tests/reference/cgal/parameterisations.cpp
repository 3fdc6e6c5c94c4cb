#include "tests/reference/cgal/parameterisations.h"

#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/Surface_mesh_parameterization/ARAP_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/LSCM_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/parameterize.h>

#include <Eigen/Dense>
#include <stdexcept>

namespace tearline::test {

namespace {

namespace smp = CGAL::Surface_mesh_parameterization;
using Kernel = CGAL::Simple_cartesian<double>;
using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;

Mesh to_cgal(const surface::SurfaceMesh& mesh, double scale) {
    Mesh out;
    for (const Vec3& p : mesh.position)
        out.add_vertex(Kernel::Point_3(scale * p.x(), scale * p.y(), scale * p.z()));
    for (const auto& v : mesh.triangle)
        out.add_face(Mesh::Vertex_index(v[0]), Mesh::Vertex_index(v[1]), Mesh::Vertex_index(v[2]));
    return out;
}

template <class Parameterizer>
std::vector<Vec2> flatten(const surface::SurfaceMesh& mesh, double scale, Parameterizer method) {
    Mesh input = to_cgal(mesh, scale);
    auto uv = input.add_property_map<Mesh::Vertex_index, Kernel::Point_2>("h:uv").first;
    const auto border = CGAL::Polygon_mesh_processing::longest_border(input).first;
    if (smp::parameterize(input, method, border, uv) != smp::OK)
        throw std::runtime_error("CGAL found no parameterisation");
    std::vector<Vec2> out;
    for (const auto v : input.vertices()) out.emplace_back(uv[v].x() / scale, uv[v].y() / scale);
    return out;
}

using Map = Eigen::Matrix2d;

/// The map of a triangle from its own plane to the flat shape, and its area.
std::pair<Map, double> map_of(const surface::SurfaceMesh& mesh, const std::vector<Vec2>& flat,
                              std::size_t t) {
    const auto& v = mesh.triangle[t];
    const double a = mesh.edge_length[t][0], b = mesh.edge_length[t][1], c = mesh.edge_length[t][2];
    const double x = (a * a + c * c - b * b) / (2.0 * a);
    Map rest, now;
    rest << a, x, 0.0, std::sqrt(c * c - x * x);
    now.col(0) = flat[v[1]] - flat[v[0]];
    now.col(1) = flat[v[2]] - flat[v[0]];
    return {now * rest.inverse(), 0.5 * rest.determinant()};
}

Vec2 signed_stretches(const Map& map) {
    Vec2 s = Eigen::JacobiSVD<Map>(map).singularValues();
    if (map.determinant() < 0.0) s.y() = -s.y();
    return s;
}

}  // namespace

std::vector<Vec2> cgal_arap(const surface::SurfaceMesh& mesh, unsigned iterations,
                            double tolerance) {
    // At 1e-6 of a millimetre's scale its cubic for the local step takes the rigid branch.
    const double scale = 1e-6;
    using Arap = smp::ARAP_parameterizer_3<Mesh>;
    return flatten(
        mesh, scale,
        Arap(Arap::Border_parameterizer(), Arap::Solver_traits(), 1000.0, iterations, tolerance));
}

std::vector<Vec2> cgal_lscm(const surface::SurfaceMesh& mesh) {
    std::vector<Vec2> flat = flatten(mesh, 1.0, smp::LSCM_parameterizer_3<Mesh>());
    double linear = 0.0, square = 0.0;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
        const auto [map, area] = map_of(mesh, flat, t);
        linear += area * signed_stretches(map).sum();
        square += area * map.squaredNorm();
    }
    for (Vec2& p : flat) p *= linear / square;
    return flat;
}

double energy_by_singular_values(const surface::SurfaceMesh& mesh, const std::vector<Vec2>& flat) {
    double energy = 0.0;
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t) {
        const auto [map, area] = map_of(mesh, flat, t);
        energy += area * (signed_stretches(map) - Vec2(1.0, 1.0)).squaredNorm();
    }
    return energy;
}

surface::SurfaceMesh with_chord_lengths(surface::SurfaceMesh mesh) {
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (std::size_t i = 0; i < 3; ++i)
            mesh.edge_length[t][i] =
                (mesh.position[mesh.triangle[t][(i + 1) % 3]] - mesh.position[mesh.triangle[t][i]])
                    .norm();
    return mesh;
}

}  // namespace tearline::test

#include "core/hull/mend.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/hull/drop_repeated.h"
#include "core/hull/split_pinches.h"
#include "core/hull/stitch.h"
#include "core/hull/tolerances.h"
#include "core/hull/weld.h"

namespace tearline::hull {
namespace {

/// Height over the longest edge [mm]: zero for a triangle without area.
double least_height(const std::vector<Vec3>& v, const std::array<std::int32_t, 3>& t) {
    const Vec3& a = v[static_cast<std::size_t>(t[0])];
    const Vec3& b = v[static_cast<std::size_t>(t[1])];
    const Vec3& c = v[static_cast<std::size_t>(t[2])];
    const double longest =
        std::sqrt(std::max({(b - a).squaredNorm(), (c - b).squaredNorm(), (a - c).squaredNorm()}));
    return longest > 0.0 ? (b - a).cross(c - a).norm() / longest : 0.0;
}

void count_line(std::vector<std::string>& lines, std::size_t count, const std::string& what) {
    if (count > 0) lines.push_back(std::to_string(count) + " " + what);
}

void drop_flat(MendedMesh& mesh, double reach) {
    const std::size_t before = mesh.triangles.size();
    const auto flat = [&](const std::array<std::int32_t, 3>& t) {
        return t[0] == t[1] || t[1] == t[2] || t[2] == t[0] ||
               least_height(mesh.vertices, t) < reach;
    };
    mesh.triangles.erase(std::remove_if(mesh.triangles.begin(), mesh.triangles.end(), flat),
                         mesh.triangles.end());
    count_line(mesh.mended, before - mesh.triangles.size(), "triangles without area dropped");
}

void drop_useless(MendedMesh& mesh, double reach) {
    drop_flat(mesh, reach);
    const RepeatCounts counts = drop_repeated(mesh.triangles, mesh.vertices.size());
    count_line(mesh.mended, counts.repeated, "repeated triangles dropped");
    count_line(mesh.mended, counts.folded, "triangles folded flat on others dropped");
}

void drop_unused_vertices(MendedMesh& mesh) {
    std::vector<std::int32_t> number(mesh.vertices.size(), -1);
    std::vector<Vec3> used;
    used.reserve(mesh.vertices.size());
    for (auto& t : mesh.triangles) {
        for (std::int32_t& v : t) {
            std::int32_t& n = number[static_cast<std::size_t>(v)];
            if (n < 0) {
                n = static_cast<std::int32_t>(used.size());
                used.push_back(mesh.vertices[static_cast<std::size_t>(v)]);
            }
            v = n;
        }
    }
    mesh.vertices = std::move(used);
}

}  // namespace

MendedMesh mend(const std::vector<Vec3>& points, const Triangles& triangles, double reach) {
    MendedMesh mesh;
    Welded welded = weld(points, reach);
    mesh.vertices = std::move(welded.kept);
    mesh.triangles = triangles;
    for (auto& t : mesh.triangles) {
        for (std::int32_t& v : t) v = welded.number[static_cast<std::size_t>(v)];
    }
    drop_useless(mesh, reach);
    const double gap = std::max(reach, tolerance::stitch);
    const StitchCounts stitched = stitch(mesh.vertices, mesh.triangles, gap);
    count_line(mesh.mended, stitched.joined,
               "edge vertices joined across gaps under " + fixed(gap, 1) + " mm");
    count_line(mesh.mended, stitched.split, "edges split where a vertex lay on them");
    if (stitched.joined + stitched.split > 0) drop_useless(mesh, reach);
    count_line(mesh.mended, split_pinches(mesh.vertices, mesh.triangles),
               "vertices parted where the surface touched itself");
    drop_unused_vertices(mesh);
    return mesh;
}

}  // namespace tearline::hull

#pragma once
#include <stdexcept>

#include "core/hull/read_hull.h"
#include "tests/support/mesh_files.h"

namespace tearline::test {

/// A mesh in mm as a hull, with nothing mended, turned or sewn.
inline hull::Hull hull_of(const PlainMesh& mesh) {
    hull::Hull hull;
    hull.vertices = mesh.points;
    hull.triangles = mesh.triangles;
    return hull;
}

/// A mesh in mm as the program reads it from a file: facing as it is made, its edges the hull's own
/// ends.
inline hull::Hull read_mesh(const PlainMesh& mesh) {
    const Folder folder;
    job::HullOptions options;
    options.model = folder.write("made.stl", stl_binary(mesh));
    options.unit = "mm";
    options.outward = "as modelled";
    options.mirror = false;
    auto hull = hull::read_hull(options, job::Side::outside);
    if (!hull) throw std::runtime_error(hull.error().message());
    return std::move(*hull);
}

}  // namespace tearline::test

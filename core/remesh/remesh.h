#pragma once
#include "core/remesh/remesh_mesh.h"

namespace tearline::remesh {

struct RemeshOptions {
    double edge = 10.0;       ///< [mm] > 0, wished edge length where the surface is flat enough
    double least_edge = 1.0;  ///< [mm] never finer than this on purpose
    double turn = 0.2;        ///< [rad] most the surface may turn along an edge
};

/// Gives every vertex its wished edge length from the curvature there, graded smoothly.
void set_sizes(RemeshMesh& mesh, const surface::Carrier& carrier, const RemeshOptions& options);

/// Splits edges until none is longer than 4/3 of its wished length; new vertices on the surface.
void split_long_edges(RemeshMesh& mesh, const surface::Carrier& carrier,
                      const RemeshOptions& options);

/// Collapses edges shorter than `limit` of their wished length where shape and kept edges allow.
///
/// @return how many went
std::size_t collapse_short_edges(RemeshMesh& mesh, const surface::Carrier& carrier, double limit);

/// Flips edges until the mesh is Delaunay where kept edges allow.
void flip_to_delaunay(RemeshMesh& mesh, const surface::Carrier& carrier);

/// The same, from the triangles that splits have touched; forgets them.
void flip_touched(RemeshMesh& mesh, const surface::Carrier& carrier);

/// Moves free vertices towards the middle of their neighbours, on the surface.
void relax(RemeshMesh& mesh, const surface::Carrier& carrier);

/// Near-equilateral triangles of the wished size.
void remesh(RemeshMesh& mesh, const surface::Carrier& carrier, const RemeshOptions& options);

}  // namespace tearline::remesh

#pragma once
#include <vector>

#include "core/surface/carrier.h"
#include "core/surface/surface_mesh.h"

namespace tearline::remesh {

/// What a mesh edge must keep to: a CAD edge, a crease or the hull's own end.
struct KeptEdge {
    std::int32_t edge = -1;  ///< for Carrier::edge_point; -1: an edge that may go
    double from = 0.0;       ///< parameter at its first corner
    double to = 0.0;         ///< parameter at its second corner
    bool hull_end = false;   ///< no triangle lies beyond in the model

    [[nodiscard]] bool kept() const { return edge >= 0; }
};

struct RemeshVertex {
    Vec3 position{0, 0, 0};      ///< [mm] on the model's surface
    double size = 0.0;           ///< [mm] wished edge length
    std::int32_t triangle = -1;  ///< any triangle round it
};

struct RemeshTriangle {
    std::array<std::int32_t, 3> vertex{-1, -1, -1};     ///< vertex[0] == -1: deleted
    std::array<std::int32_t, 3> neighbour{-1, -1, -1};  ///< across edge i -> i+1
    std::array<surface::Anchor, 3> anchor;              ///< per corner
    std::array<KeptEdge, 3> kept;                       ///< per edge i -> i+1

    [[nodiscard]] bool alive() const { return vertex[0] >= 0; }
};

/// A corner of a triangle.
struct Corner {
    std::int32_t triangle = -1;
    int corner = 0;
};

/// A triangle mesh on a model's surface that can be refined and coarsened.
class RemeshMesh {
public:
    std::vector<RemeshVertex> vertex;
    std::vector<RemeshTriangle> triangle;
    std::vector<std::int32_t> touched;  ///< triangles changed by splits, for flip_touched

    /// Fills neighbours and vertex triangles from the vertex indices.
    void connect();

    /// The triangles round a vertex in order, each with the vertex's corner in it.
    ///
    /// @return whether the ring closes; else it starts and ends at the rim
    bool ring(std::int32_t v, std::vector<Corner>& out) const;

    /// Splits an edge at a new vertex with its anchors on both sides.
    void split(Corner edge, std::int32_t m, const surface::Anchor& anchor_here,
               const surface::Anchor& anchor_across, double parameter);

    /// Turns the edge between two triangles into the other diagonal.
    void flip(Corner edge);

    /// Moves the first vertex of an edge onto its second; the caller has made sure it may.
    void collapse(Corner edge, const std::vector<Corner>& ring_of_first);

    [[nodiscard]] int edge_in(std::int32_t t, std::int32_t from, std::int32_t to) const;
    [[nodiscard]] const Vec3& point(std::int32_t t, int corner) const {
        return vertex[triangle[t].vertex[corner % 3]].position;
    }
    [[nodiscard]] double length2(Corner edge) const {
        return (point(edge.triangle, edge.corner) - point(edge.triangle, edge.corner + 1))
            .squaredNorm();
    }
    [[nodiscard]] Vec3 area_vector(std::int32_t t) const;  ///< twice area times unit normal

    /// Removes deleted triangles and unused vertices.
    void compact();

private:
    void relink(std::int32_t t, int edge, std::int32_t n, std::int32_t old);
};

}  // namespace tearline::remesh

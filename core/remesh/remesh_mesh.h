#pragma once
#include <vector>

#include "core/base/per_id.h"
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
    Vec3 position{0, 0, 0};  ///< [mm] on the model's surface
    double size = 0.0;       ///< [mm] wished edge length
    TriangleId triangle;     ///< any triangle round it
};

struct RemeshTriangle {
    std::array<VertexId, 3> vertex;         ///< none: deleted
    std::array<TriangleId, 3> neighbour;    ///< across edge i -> i+1
    std::array<surface::Anchor, 3> anchor;  ///< per corner
    std::array<KeptEdge, 3> kept;           ///< per edge i -> i+1

    [[nodiscard]] bool alive() const { return vertex[0].valid(); }
};

/// A corner of a triangle.
struct Corner {
    TriangleId triangle;
    int corner = 0;
};

/// A triangle mesh on a model's surface that can be refined and coarsened.
class RemeshMesh {
public:
    PerId<VertexId, RemeshVertex> vertex;
    PerId<TriangleId, RemeshTriangle> triangle;
    std::vector<TriangleId> touched;  ///< triangles changed by splits, for flip_touched

    /// Fills neighbours and vertex triangles from the vertex indices.
    void connect();

    /// The triangles round a vertex in order, each with the vertex's corner in it.
    ///
    /// @return whether the ring closes; else it starts and ends at the rim
    bool ring(VertexId v, std::vector<Corner>& out) const;

    /// Splits an edge at a new vertex with its anchors on both sides.
    void split(Corner edge, VertexId m, const surface::Anchor& anchor_here,
               const surface::Anchor& anchor_across, double parameter);

    /// Turns the edge between two triangles into the other diagonal.
    void flip(Corner edge);

    /// Moves the first vertex of an edge onto its second; the caller has made sure it may.
    void collapse(Corner edge, const std::vector<Corner>& ring_of_first);
    /// Moves the second vertex of a rim edge, which has no other side to be seen from, onto its
    /// first.
    void collapse_back(Corner edge, const std::vector<Corner>& ring_of_second);

    [[nodiscard]] int edge_in(TriangleId t, VertexId from, VertexId to) const;
    [[nodiscard]] const Vec3& point(TriangleId t, int corner) const {
        return vertex[triangle[t].vertex[corner % 3]].position;
    }
    [[nodiscard]] double length2(Corner edge) const {
        return (point(edge.triangle, edge.corner) - point(edge.triangle, edge.corner + 1))
            .squaredNorm();
    }
    [[nodiscard]] Vec3 area_vector(TriangleId t) const;  ///< twice area times unit normal

    /// Removes deleted triangles and unused vertices.
    void compact();

private:
    /// Joins what lies beyond two edges of a triangle that vanishes; the first one's kept edge
    /// stays.
    void sew_over(TriangleId gone, int stays, int goes);
    void relink(TriangleId t, int edge, TriangleId n, TriangleId old);
};

}  // namespace tearline::remesh

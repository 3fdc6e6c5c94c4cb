#pragma once
#include <array>
#include <cstdint>
#include <vector>

#include "core/patch/curved_triangle.h"
#include "core/patch/needles.h"
#include "core/remesh/kept_chains.h"
#include "core/remesh/remesh_mesh.h"

namespace tearline::patch {

/// The facets of a mesh as they were read, with the smooth surface through their vertices: normals
/// rebuilt at the corners, on both sides of creases, and a curved triangle over each facet.
/// @source  Max, Weights for computing vertex normals, J. Graphics Tools 4 (1999): exact on spheres
class Facets {
public:
    /// @param mesh  creases and hull ends become its kept edges
    explicit Facets(remesh::RemeshMesh& mesh);

    [[nodiscard]] const std::vector<Vec3>& position() const { return position_; }
    [[nodiscard]] const Needles::Corners& corners() const { return corners_; }
    [[nodiscard]] const remesh::KeptChains& chains() const { return chains_; }

    /// Across edge i -> i+1, -1 at rim and creases.
    [[nodiscard]] const std::array<std::int32_t, 3>& neighbours(std::int32_t t) const {
        return neighbour_[t];
    }
    [[nodiscard]] std::array<Vec3, 3> places(std::int32_t t) const {
        return {position_[corners_[t][0]], position_[corners_[t][1]], position_[corners_[t][2]]};
    }
    /// At the facet's corners, its own side of a crease.
    [[nodiscard]] const std::array<Vec3, 3>& normals(std::int32_t t) const { return normal_[t]; }

    [[nodiscard]] CurvedTriangle curved(std::int32_t t) const;
    /// Normal at a place of a facet; in a needle that of the sound facet nearest to the place.
    [[nodiscard]] Vec3 normal(std::int32_t t, const Vec3& weights) const;
    /// Principal curvatures, least and greatest, at a place of a facet's curved triangle [1/mm].
    [[nodiscard]] Vec2 curvature(std::int32_t t, const Vec3& weights, const Vec3& place) const;

private:
    struct FacetCorner {
        std::int32_t facet;
        int corner;
    };
    void find_needles(const remesh::RemeshMesh& mesh);
    void mark_kept_edges(remesh::RemeshMesh& mesh);
    void follow_kept_edges(const remesh::RemeshMesh& mesh);
    void straighten_slender(const remesh::RemeshMesh& mesh);
    void rebuild_normals();
    void smooth_sector(std::int32_t t, int corner, std::vector<FacetCorner>& out) const;
    void measure_curvature();
    [[nodiscard]] const Vec3& flat_normal(std::int32_t t, const Vec3& place) const;
    void set_control(std::size_t t, int edge, const CurvedTriangle::Edge& points);

    std::vector<Vec3> position_;
    Needles::Corners corners_, neighbour_;
    std::vector<Vec3> flat_;  ///< normals of the facets as they lie
    std::vector<std::array<Vec3, 3>> normal_;
    std::vector<std::array<std::int32_t, 3>> control_;  ///< of edges given, in given_; else -1
    std::vector<CurvedTriangle::Edge> given_;
    std::vector<Vec2> curvature_;  ///< per vertex: least, greatest
    remesh::KeptChains chains_;
    Needles needles_;
};

}  // namespace tearline::patch

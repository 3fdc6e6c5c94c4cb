#pragma once
#include <array>
#include <optional>
#include <vector>

#include "core/base/vec.h"
#include "core/surface/patch_index.h"
#include "core/surface/surface_mesh.h"

namespace tearline::flattening {

/// Lengths on a surface as seen from a plane picture of it: |d|^2 = dx^2 xx + 2 dx dy xy + dy^2 yy.
struct Metric {
    double xx = 1.0, xy = 0.0, yy = 1.0;

    [[nodiscard]] Vec2 times(const Vec2& d) const {
        return {xx * d.x() + xy * d.y(), xy * d.x() + yy * d.y()};
    }
    [[nodiscard]] double product(const Vec2& a, const Vec2& b) const { return a.dot(times(b)); }
    [[nodiscard]] double length(const Vec2& d) const;
};

/// A surface walked on in a plane picture of it, such as its membrane flattening, by its lengths
/// alone: creases, faces and scans are all one to it.
///
/// The metric and its slopes are recovered at the vertices from the triangles round them, linear
/// between; beyond
/// the rim it is that of the nearest rim point, so that cloth can be followed over the edge.
class MetricChart {
public:
    /// @param places  [mm] per vertex, triangles counter-clockwise, no overlaps
    MetricChart(const surface::SurfaceMesh& mesh, std::vector<Vec2> places);

    /// The metric with its change along x and y [1/mm].
    struct Sample {
        Metric here, along_x, along_y;
    };
    [[nodiscard]] Sample sample(const Vec2& at) const;
    [[nodiscard]] Metric metric(const Vec2& at) const;
    /// [1/mm] how fast the metric changes where it does so the fastest.
    [[nodiscard]] double steepest() const;

    /// Length on the surface of the straight stroke of the picture, and its slope at the far end.
    struct Stroke {
        double length = 0.0;
        Vec2 slope{0, 0};  ///< change of length with the far end, the metric's own change left out
    };
    /// Where the metric of a stroke was asked for last: of one that hardly moves it is found
    /// sooner.
    using Trail = std::array<std::int32_t, 2>;
    static constexpr Trail no_trail = {-1, -1};
    [[nodiscard]] Stroke stroke(const Vec2& from, const Vec2& to, Trail& trail) const;
    [[nodiscard]] Stroke stroke(const Vec2& from, const Vec2& to) const {
        Trail trail = no_trail;
        return stroke(from, to, trail);
    }

    /// One step of a geodesic of unit speed (Runge-Kutta, fourth order).
    struct Step {
        Vec2 at;
        Vec2 direction;  ///< unit in the metric
    };
    [[nodiscard]] Step geodesic_step(const Step& from, double length) const;

    /// The triangle of the surface at a place of the picture; nothing beyond the rim.
    [[nodiscard]] std::optional<std::int32_t> triangle_at(const Vec2& place) const;

    [[nodiscard]] const std::vector<Vec2>& places() const { return places_; }
    [[nodiscard]] double cell() const { return grid_.cell; }

private:
    struct Found {
        std::int32_t triangle = -1;
        Vec3 weights{0, 0, 0};
        bool inside = false;
    };
    [[nodiscard]] std::optional<Found> locate(const Vec2& at) const;
    /// The place in a triangle, if it lies in it by `slack` of its size; below 0: beside it too.
    [[nodiscard]] std::optional<Found> within(std::int32_t triangle, const Vec2& at,
                                              double slack) const;
    [[nodiscard]] Metric metric(const Found& found) const;
    [[nodiscard]] Found at_rim(const Vec2& at) const;
    void recover_metric(const surface::SurfaceMesh& mesh);
    void spread_rim(const surface::SurfaceMesh& mesh);
    [[nodiscard]] double rim_distance(std::size_t edge, const Vec2& at) const;

    std::vector<std::array<std::int32_t, 3>> triangle_;
    std::vector<Vec2> places_;
    std::vector<Sample> metric_;  ///< per vertex, recovered
    surface::ChartGrid grid_;

    /// Rim edges (triangle, corner) and the nearest of them from every cell of a wide raster.
    std::vector<std::array<std::int32_t, 2>> rim_;
    std::vector<std::int32_t> nearest_rim_;
    Vec2 raster_low_{0, 0};
    double raster_cell_ = 1.0;
    std::int32_t raster_columns_ = 0, raster_rows_ = 0;
};

}  // namespace tearline::flattening

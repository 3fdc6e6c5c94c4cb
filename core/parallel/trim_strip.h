#pragma once
#include <vector>

#include "core/parallel/crease_sheets.h"
#include "core/parallel/parallel_surface.h"
#include "core/parallel/ridge.h"

namespace tearline::parallel {

struct TrimCorner;

enum class Side { left, right };

/// One place along a trimmed strip.
struct StripNode {
    double along = 0.0;  ///< [mm] way along the crease line; beyond its ends too
    Section section;     ///< through the crease
    Vec2 centre{0, 0};   ///< [mm] chart: on the crease
    RidgePoint ridge;    ///< feet on both sheets; both on the crease at a tip
    bool tip = false;    ///< the strip closes here
};

/// Chart point of the strip's edge at a node.
[[nodiscard]] const Vec2& edge_of(const StripNode& node, Side side);

/// Part of a crease along which both sheets lose a strip of the base surface.
struct TrimStrip {
    std::size_t line = 0;   ///< crease line
    std::size_t first = 0;  ///< crease vertices that lie in the strip or on a tip of it
    std::size_t last = 0;
    std::vector<StripNode> nodes;

    /// Where an end of the strip runs into a corner.
    struct CornerEnd {
        CornerId corner;
        double along = 0.0;  ///< [mm] of the section through the corner
    };
    CornerEnd start, end;

    /// Chart point of the strip's edge at a way along it.
    [[nodiscard]] Vec2 edge_point(Side side, double along) const;
    /// Chart point of the crease there.
    [[nodiscard]] Vec2 centre_point(double along) const;
    /// The plane square to the crease there.
    [[nodiscard]] Section section_at(double along) const;
    /// Ridge point there, solved anew on the surface.
    [[nodiscard]] RidgePoint ridge_point(const SurfaceAtChart& at, const DepthAtChart& depth,
                                         double along) const;
    /// Whether a chart point lies between crease and edge of a side.
    [[nodiscard]] bool covers(Side side, const Vec2& point) const;

    /// Where a chart segment last crosses the edge of a side.
    struct Crossing {
        double share = -1.0;  ///< [-] way along the segment, in [0, 1]; negative: none
        double along = 0.0;   ///< [mm]
    };
    [[nodiscard]] Crossing cross(Side side, const Vec2& from, const Vec2& to) const;
};

/// How a crease vertex is carried to depth.
enum class CreaseWay {
    mitre,    ///< both sheets' offset planes met: the turn is too small to matter
    trimmed,  ///< in a strip
    opened,   ///< as an arc
};

/// How a triangle of the mesh carries chart steps into space.
[[nodiscard]] Eigen::Matrix<double, 3, 2> chart_carry(const surface::SurfaceMesh& mesh,
                                                      const std::vector<Vec2>& chart,
                                                      TriangleId triangle);

/// The way of each vertex of a line.
[[nodiscard]] std::vector<CreaseWay> crease_ways(const CreaseLine& line,
                                                 const std::vector<Vec2>& chart,
                                                 const DepthAtChart& depth);

/// The strips of a line: one for each run of trimmed vertices.
///
/// A run that ends at the mesh's rim goes on beyond it, as long as any of the mesh lies across; one
/// that ends at a corner ends with the corner's feet.
[[nodiscard]] Result<std::vector<TrimStrip>> trim_strips(
    const BaseMesh& base, const CreaseSheets& sheets, std::size_t line,
    const std::vector<CreaseWay>& ways, const DepthAtChart& depth,
    const PerId<CornerId, TrimCorner>& corners);

}  // namespace tearline::parallel

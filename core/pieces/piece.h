#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/base/outline.h"
#include "core/surface/surface_mesh.h"

namespace tearline::pieces {

/// A relief cut of a flat piece: the vertices on its two sides, left and right as seen from the
/// mouth inward. The last pair is the tip, one and the same vertex.
struct PieceCut {
    std::vector<std::array<std::int32_t, 2>> sides;
    /// [mm] widest gap between the sides on the flat piece: a dart, to be closed when it is laid.
    /// Negative where they would overlap: a slit, which opens.
    double opening = 0.0;
};

/// One bit of cloth on its lay surface and flat on the table, vertex by vertex.
struct Piece {
    std::string id;            ///< ply number and letter, for example "1A"
    surface::SurfaceMesh lay;  ///< the ply's mid-plane, inside the net line
    std::vector<Vec3> base;    ///< [mm] per vertex: the base surface point below or above
    std::vector<Vec2> chart;   ///< [mm] per vertex: place in the patch's chart
    std::vector<std::array<Vec2, 3>> corner_chart;  ///< [mm] per corner, of its own sheet: differs
                                                    ///< from `chart` on trimmed creases; may be
                                                    ///< empty where none is trimmed
    std::vector<Vec2> flat;  ///< [mm] per vertex: on the table, in the piece's own frame
    std::vector<std::array<double, 2>>
        stretch;                        ///< principal stretches lay -> flat per triangle (mat)
    std::vector<double> shear_degrees;  ///< per triangle (woven, biaxial)
    double strain_rms = 0.0;            ///< [-] sqrt(E / 2A)
    double strain_max = 0.0;            ///< [-] averaged over discs of 10 mm diameter
    std::optional<double> shear_max;    ///< [deg] averaged likewise (woven, biaxial)
    /// The triangle about which that average is the largest; -1 where nothing was measured.
    std::int32_t worst_triangle = -1;
    /// [deg] from +x to the warp (biaxial: the roll's length) on the flat piece; cloth only.
    std::optional<double> warp_degrees;
    /// [deg] from +x to the direction that fibre axes are counted from, on the flat piece.
    double axis_from_degrees = 0.0;
    std::optional<Vec2> press_first;       ///< [mm] in the chart: where cloth is pressed down first
    std::vector<PieceCut> cuts;            ///< mat only
    std::vector<std::vector<Vec2>> seams;  ///< [mm] chart lines shared with pieces of the same ply
};

/// Where a piece strains or shears the most, on the base surface and on the flat piece [mm];
/// nothing where it does not.
struct WorstPlace {
    Vec3 on_hull{0, 0, 0};
    Vec2 flat{0, 0};
};
[[nodiscard]] std::optional<WorstPlace> worst_place(const Piece& piece);

}  // namespace tearline::pieces

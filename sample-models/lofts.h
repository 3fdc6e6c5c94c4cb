#pragma once
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <gp_Pnt.hxx>
#include <vector>

namespace tearline::samples {

/// Control points of one line of a hull from aft to forward.
using Line = std::vector<gp_Pnt>;

/// The same line on the other side of the centreline plane y = 0.
Line mirrored(const Line& line);

/// A line midway between two others, pushed by `bulge` [mm] times its own half breadth over the
/// widest one: keeps sections full in the middle and the stem on the centreline.
Line between(const Line& a, const Line& b, const gp_Pnt& bulge);

/// B-spline face through lines as control rows: cubic along the hull, degree rows - 1 across it.
///
/// Rows shared by two faces give them exactly the same edge.
TopoDS_Face loft(const std::vector<Line>& rows);

/// Plane face bounded by the aft (or forward) edges of lofts, closed by straight lines.
TopoDS_Face transom(const std::vector<TopoDS_Face>& faces, double x);

/// Faces joined along their common edges.
TopoDS_Shape sewn(const std::vector<TopoDS_Face>& faces);

}  // namespace tearline::samples

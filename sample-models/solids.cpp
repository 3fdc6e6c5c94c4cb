// Surfaces whose repairs have closed-form answers.
#include <BRepBuilderAPI_MakeFace.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_SphericalSurface.hxx>
#include <Precision.hxx>
#include <TopoDS_Face.hxx>
#include <cmath>
#include <gp_Ax3.hxx>
#include <gp_Pln.hxx>
#include <numbers>

#include "sample-models/shapes.h"

namespace tearline::samples {
namespace {

constexpr double pi = std::numbers::pi;

// Axis along x; u = 0 looks to starboard, u = 90 degrees down, u = 180 degrees to port.
const gp_Ax3 lying(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0), gp_Dir(0, 1, 0));

TopoDS_Shape part_of(const Handle(Geom_Surface) & surface, const double (&range)[4]) {
    return BRepBuilderAPI_MakeFace(surface, range[0], range[1], range[2], range[3],
                                   Precision::Confusion())
        .Face();
}

}  // namespace

TopoDS_Shape cylinder() {
    return part_of(new Geom_CylindricalSurface(lying, 500.0), {pi, 2 * pi, 0.0, 2000.0});
}

TopoDS_Shape cone() {
    const double slope = 20.0 * pi / 180.0;
    const gp_Ax3 axis(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0), gp_Dir(0, 0, 1));  // seam on top
    const double slant = (600.0 - 100.0) / std::sin(slope);
    return part_of(new Geom_ConicalSurface(axis, -slope, 600.0), {0.0, 2 * pi, 0.0, slant});
}

TopoDS_Shape frustum() {
    const double slope = 15.0 * pi / 180.0;
    return part_of(new Geom_ConicalSurface(lying, slope, 200.0),
                   {pi, 2 * pi, 0.0, 800.0 / std::cos(slope)});
}

TopoDS_Shape sphere() {
    const double reach = pi / 3;
    return part_of(new Geom_SphericalSurface(lying, 600.0),
                   {1.5 * pi - reach, 1.5 * pi + reach, -reach, reach});
}

TopoDS_Shape panel() {
    const gp_Pln plane(gp_Ax3(gp_Pnt(0, 0, 0), gp_Dir(0, 1, 0), gp_Dir(0, 0, 1)));
    return BRepBuilderAPI_MakeFace(plane, -500.0, 500.0, -750.0, 750.0).Face();
}

}  // namespace tearline::samples

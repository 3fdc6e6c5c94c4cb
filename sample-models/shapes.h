#pragma once
#include <TopoDS_Shape.hxx>

/// The models themselves, in mm, x towards the bow, z up, y to port.
namespace tearline::samples {

/// 6 m workboat, hard chine from transom to stem, open at the sheer.
TopoDS_Shape curlew();

/// Its port half, open along the centreline plane y = 0.
TopoDS_Shape curlew_half();

/// 3.5 m pram dinghy with a rolling-ball bilge of 40 mm radius, open at the sheer.
TopoDS_Shape sandpiper();

/// y = (B/2)(1 - (2x/L)^2)(1 - (z/T)^2) below z = 0; L 4000, B 400, T 250: exact Bezier faces.
TopoDS_Shape wigley();

/// Lower half of a cylinder of radius 500 and length 2000 about the x axis.
TopoDS_Shape cylinder();

/// Cone of half-angle 20 degrees about the x axis, all the way round, radius 600 at x = 0 to 100.
TopoDS_Shape cone();

/// Lower half of a cone of half-angle 15 degrees, radius 200 at x = 0, 800 long.
TopoDS_Shape frustum();

/// Part of a sphere of radius 600 about the origin, 60 degrees each way from its lowest point.
TopoDS_Shape sphere();

/// Flat panel 1500 x 1000 in the plane y = 0, facing +y.
TopoDS_Shape panel();

}  // namespace tearline::samples

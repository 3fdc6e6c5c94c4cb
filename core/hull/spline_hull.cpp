#include "core/hull/spline_hull.h"

#include <BRepBuilderAPI_MakeFace.hxx>
#include <Eigen/LU>
#include <Geom_BSplineSurface.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopoDS_Face.hxx>
#include <stdexcept>

#include "core/base/tolerances.h"
#include "core/hull/cad_faces.h"
#include "core/hull/cad_mesh.h"
#include "core/hull/spline_knots.h"

namespace tearline::hull {
SplineSurface surface_through(const SplineBasis& rows, const SplineBasis& columns,
                              const Eigen::MatrixXd& x, const Eigen::MatrixXd& y,
                              const Eigen::MatrixXd& z) {
    const Eigen::MatrixXd left = rows.collocation().inverse();
    const Eigen::MatrixXd right = columns.collocation().inverse().transpose();
    return {rows, columns, left * x * right, left * y * right, left * z * right};
}

Hull spline_hull(const SplineSurface& surface, double outward) {
    TColgp_Array2OfPnt poles(1, static_cast<int>(surface.x.rows()), 1,
                             static_cast<int>(surface.x.cols()));
    for (Eigen::Index i = 0; i < surface.x.rows(); ++i)
        for (Eigen::Index j = 0; j < surface.x.cols(); ++j)
            poles.SetValue(static_cast<int>(i) + 1, static_cast<int>(j) + 1,
                           {surface.x(i, j), surface.y(i, j), surface.z(i, j)});
    const SplineKnots u(surface.rows.knots()), v(surface.columns.knots());
    const Handle(Geom_BSplineSurface) spline = new Geom_BSplineSurface(
        poles, array_of<TColStd_Array1OfReal>(u.value), array_of<TColStd_Array1OfReal>(v.value),
        array_of<TColStd_Array1OfInteger>(u.times), array_of<TColStd_Array1OfInteger>(v.times),
        surface.rows.degree(), surface.columns.degree());
    TopoDS_Face face = BRepBuilderAPI_MakeFace(spline, tolerance::weld).Face();
    if (outward < 0.0) face.Reverse();
    Hull hull = mesh_cad(face);
    if (hull.triangles.empty()) throw std::logic_error("spline_hull: the face cannot be meshed");
    hull.cad = faces_of(face);
    hull.report.faces = 1;
    hull.report.unit = "mm";
    return hull;
}

}  // namespace tearline::hull

#include "tests/support/cad_models.h"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <GeomAPI_Interpolate.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_SphericalSurface.hxx>
#include <Geom_SurfaceOfRevolution.hxx>
#include <Precision.hxx>
#include <TColgp_HArray1OfPnt.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Wire.hxx>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Ax3.hxx>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>
#include <gp_Pln.hxx>
#include <gp_Trsf.hxx>
#include <gp_Vec.hxx>
#include <map>
#include <numbers>
#include <stdexcept>

#include "sample-models/shapes.h"
#include "sample-models/write_model.h"

namespace tearline::test {

namespace {

using std::numbers::pi;

/// Height of the saddle's meridian at the distance y: the integral of sqrt(1 - sinh^2), Simpson.
double saddle_height(double radius, double y) {
    constexpr int parts = 400;
    const auto rise = [](double u) { return std::sqrt(1.0 - std::pow(std::sinh(u), 2)); };
    const double step = y / radius / parts;
    double sum = 0.0;
    for (int k = 0; k < parts; ++k)
        sum += rise(k * step) + 4.0 * rise((k + 0.5) * step) + rise((k + 1) * step);
    return radius * step / 6.0 * sum;
}

TopoDS_Shape sample(const std::string& name) {
    static const std::map<std::string, TopoDS_Shape (*)()> makers{
        {"curlew", samples::curlew},
        {"sandpiper", samples::sandpiper},
        {"wigley", samples::wigley},
        {"cylinder", samples::cylinder},
        {"cone", samples::cone},
        {"frustum", samples::frustum},
        {"sphere", samples::sphere},
        {"panel", samples::panel},
        {"curlew-half", samples::curlew_half}};
    return makers.at(name)();
}

}  // namespace

void write_sphere(double radius, const std::filesystem::path& stem, double reach) {
    const gp_Ax3 lying(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0), gp_Dir(0, 1, 0));
    const double turn = reach / radius;
    const Handle(Geom_Surface) sphere = new Geom_SphericalSurface(lying, radius);
    samples::write_model(BRepBuilderAPI_MakeFace(sphere, 1.5 * pi - turn, 1.5 * pi + turn, -turn,
                                                 turn, Precision::Confusion())
                             .Face(),
                         stem);
}

void write_saddle(double radius, const std::filesystem::path& stem) {
    constexpr int count = 201;
    const Handle(TColgp_HArray1OfPnt) points = new TColgp_HArray1OfPnt(1, count);
    for (int i = 0; i < count; ++i) {
        const double y = 1000.0 * i / (count - 1) - 500.0;
        points->SetValue(i + 1,
                         gp_Pnt(saddle_height(radius, y), 0.0, -radius * std::cosh(y / radius)));
    }
    GeomAPI_Interpolate through(points, Standard_False, Precision::Confusion());
    through.Perform();
    if (!through.IsDone()) throw std::runtime_error("the saddle's meridian has no curve");
    const Handle(Geom_Surface) saddle =
        new Geom_SurfaceOfRevolution(through.Curve(), gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0)));
    const double first = through.Curve()->FirstParameter();
    const double last = through.Curve()->LastParameter();
    samples::write_model(
        BRepBuilderAPI_MakeFace(saddle, -0.5, 0.5, first, last, Precision::Confusion()).Face(),
        stem);
}

void write_keel(double turn, const std::filesystem::path& stem) {
    BRepBuilderAPI_Sewing sewing;
    const double y = 600.0 * std::cos(0.5 * turn), z = 600.0 * std::sin(0.5 * turn);
    for (const double side : {1.0, -1.0}) {
        BRepBuilderAPI_MakePolygon edge;
        const gp_Pnt corners[4] = {
            {-800, 0, 0}, {-800, side * y, z}, {800, side * y, z}, {800, 0, 0}};
        for (int i = 0; i < 4; ++i) edge.Add(corners[side > 0.0 ? i : 3 - i]);
        edge.Close();
        sewing.Add(BRepBuilderAPI_MakeFace(edge.Wire(), Standard_True).Face());
    }
    sewing.Perform();
    samples::write_model(sewing.SewedShape(), stem);
}

void write_plate(double half, const std::vector<Vec3>& holes, const std::filesystem::path& stem) {
    BRepBuilderAPI_MakeFace face(gp_Pln(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), -half, half, -half,
                                 half);
    for (const Vec3& hole : holes) {
        // Round a hole the other way.
        const gp_Circ circle(gp_Ax2(gp_Pnt(hole.x(), hole.y(), 0), gp_Dir(0, 0, -1)), hole.z());
        face.Add(BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire());
    }
    samples::write_model(face.Face(), stem);
}

void write_bowl(double radius, const std::filesystem::path& stem) {
    const Handle(Geom_Surface) sphere =
        new Geom_SphericalSurface(gp_Ax3(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), radius);
    samples::write_model(
        BRepBuilderAPI_MakeFace(sphere, 0.0, 2.0 * pi, -0.5 * pi, 0.0, Precision::Confusion())
            .Face(),
        stem);
}

void write_tube(double radius, double length, const std::filesystem::path& stem) {
    const Handle(Geom_Surface) tube = new Geom_CylindricalSurface(
        gp_Ax3(gp_Pnt(-0.5 * length, 0, 0), gp_Dir(1, 0, 0), gp_Dir(0, 0, 1)), radius);
    samples::write_model(
        BRepBuilderAPI_MakeFace(tube, 0.0, 2.0 * pi, 0.0, length, Precision::Confusion()).Face(),
        stem);
}

void write_drawn_tube(double radius, double length, const std::filesystem::path& stem) {
    const gp_Circ circle(gp_Ax2(gp_Pnt(-0.5 * length, 0, 0), gp_Dir(1, 0, 0)), radius);
    samples::write_model(
        BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeEdge(circle).Edge(), gp_Vec(length, 0, 0)).Shape(),
        stem);
}

void write_foot(double a, double b, const std::filesystem::path& stem) {
    const auto oval = [&](double way) {
        const gp_Elips ellipse(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, way), gp_Dir(1, 0, 0)), a, b);
        return BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(ellipse).Edge()).Wire();
    };
    BRepBuilderAPI_MakeFace deck(gp_Pln(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), -500, 500, -500, 500);
    deck.Add(oval(-1.0));
    BRepBuilderAPI_Sewing sewing(0.01);
    sewing.Add(deck.Face());
    sewing.Add(BRepPrimAPI_MakePrism(oval(1.0), gp_Vec(0, 0, 300)).Shape());
    sewing.Perform();
    samples::write_model(sewing.SewedShape(), stem);
}

void write_moved(const std::string& name, const Eigen::Isometry3d& motion, double scale,
                 const std::filesystem::path& stem) {
    gp_Trsf bigger, moved;
    bigger.SetScale(gp_Pnt(0, 0, 0), scale);
    const auto& m = motion.matrix();
    moved.SetValues(m(0, 0), m(0, 1), m(0, 2), m(0, 3), m(1, 0), m(1, 1), m(1, 2), m(1, 3), m(2, 0),
                    m(2, 1), m(2, 2), m(2, 3));
    BRepBuilderAPI_Transform apply(sample(name), moved * bigger, Standard_True);
    samples::write_model(apply.Shape(), stem);
}

}  // namespace tearline::test

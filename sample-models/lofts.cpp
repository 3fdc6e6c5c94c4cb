#include "sample-models/lofts.h"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRep_Tool.hxx>
#include <Geom_BSplineSurface.hxx>
#include <Precision.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Pln.hxx>
#include <stdexcept>

namespace tearline::samples {
namespace {

constexpr int degree_along = 3;
constexpr double same_place = 1e-3;  // [mm]

bool lies_at(const TopoDS_Edge& edge, double x) {
    const gp_Pnt a = BRep_Tool::Pnt(TopExp::FirstVertex(edge));
    const gp_Pnt b = BRep_Tool::Pnt(TopExp::LastVertex(edge));
    return std::abs(a.X() - x) < same_place && std::abs(b.X() - x) < same_place;
}

}  // namespace

Line mirrored(const Line& line) {
    Line result;
    for (const gp_Pnt& p : line) result.emplace_back(p.X(), -p.Y(), p.Z());
    return result;
}

Line between(const Line& a, const Line& b, const gp_Pnt& bulge) {
    double widest = 0.0;
    for (const gp_Pnt& p : b) widest = std::max(widest, std::abs(p.Y()));
    Line result;
    for (std::size_t i = 0; i < a.size(); ++i) {
        const double share = std::abs(b[i].Y()) / widest;
        const gp_XYZ middle = 0.5 * (a[i].XYZ() + b[i].XYZ());
        result.emplace_back(middle + gp_XYZ(0.0, share * bulge.Y(), share * bulge.Z()));
    }
    return result;
}

TopoDS_Face loft(const std::vector<Line>& rows) {
    const int along = static_cast<int>(rows.front().size());
    const int across = static_cast<int>(rows.size());
    TColgp_Array2OfPnt poles(1, along, 1, across);
    for (int i = 1; i <= along; ++i) {
        for (int j = 1; j <= across; ++j) poles(i, j) = rows[j - 1][i - 1];
    }
    const int knots = along - degree_along + 1;
    TColStd_Array1OfReal u(1, knots), v(1, 2);
    TColStd_Array1OfInteger u_times(1, knots), v_times(1, 2);
    for (int i = 1; i <= knots; ++i) {
        u(i) = static_cast<double>(i - 1) / (knots - 1);
        u_times(i) = i == 1 || i == knots ? degree_along + 1 : 1;
    }
    v(1) = 0.0;
    v(2) = 1.0;
    v_times.Init(across);
    const Handle(Geom_BSplineSurface) surface =
        new Geom_BSplineSurface(poles, u, v, u_times, v_times, degree_along, across - 1);
    return BRepBuilderAPI_MakeFace(surface, Precision::Confusion()).Face();
}

TopoDS_Face transom(const std::vector<TopoDS_Face>& faces, double x) {
    TopTools_ListOfShape edges;
    double top = -Precision::Infinite();
    std::vector<gp_Pnt> ends;
    for (const TopoDS_Face& face : faces) {
        for (TopExp_Explorer e(face, TopAbs_EDGE); e.More(); e.Next()) {
            const TopoDS_Edge edge = TopoDS::Edge(e.Current());
            if (!lies_at(edge, x)) continue;
            edges.Append(edge);
            for (const TopoDS_Vertex& v : {TopExp::FirstVertex(edge), TopExp::LastVertex(edge)}) {
                ends.push_back(BRep_Tool::Pnt(v));
                top = std::max(top, ends.back().Z());
            }
        }
    }
    // Whatever end is met by one edge only is an end of the open wire: join the two.
    std::vector<gp_Pnt> open;
    for (const gp_Pnt& p : ends) {
        const auto meets = std::count_if(
            ends.begin(), ends.end(), [&](const gp_Pnt& q) { return p.Distance(q) < same_place; });
        if (meets == 1) open.push_back(p);
    }
    if (open.size() == 2) {
        const gp_Pnt corner(x, 0.0, top);  // of a half transom, on the centreline
        const bool half = std::abs(open[0].Z() - open[1].Z()) > same_place;
        if (half) {
            edges.Append(BRepBuilderAPI_MakeEdge(open[0], corner).Edge());
            edges.Append(BRepBuilderAPI_MakeEdge(corner, open[1]).Edge());
        } else {
            edges.Append(BRepBuilderAPI_MakeEdge(open[0], open[1]).Edge());
        }
    }
    BRepBuilderAPI_MakeWire wire;
    wire.Add(edges);
    if (!wire.IsDone()) throw std::runtime_error("the transom's edges do not join");
    const gp_Pln plane(gp_Pnt(x, 0.0, 0.0), gp_Dir(1.0, 0.0, 0.0));
    return BRepBuilderAPI_MakeFace(plane, wire.Wire(), Standard_True).Face();
}

TopoDS_Shape sewn(const std::vector<TopoDS_Face>& faces) {
    BRepBuilderAPI_Sewing sewing(same_place);
    for (const TopoDS_Face& face : faces) sewing.Add(face);
    sewing.Perform();
    return sewing.SewedShape();
}

}  // namespace tearline::samples

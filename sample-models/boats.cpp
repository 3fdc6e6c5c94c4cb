#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <Geom_BezierSurface.hxx>
#include <Precision.hxx>
#include <TColgp_Array2OfPnt.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Solid.hxx>
#include <cmath>
#include <stdexcept>

#include "sample-models/lofts.h"
#include "sample-models/shapes.h"

namespace tearline::samples {
namespace {

// The lines of the 6 m workboat, port side, as control points.
const Line curlew_keel{{0, 0, 0},     {1000, 0, 0},   {2200, 0, 0},  {3400, 0, 0},
                       {4500, 0, 20}, {5300, 0, 160}, {5650, 0, 420}};
const Line curlew_chine{{0, 900, 260},    {1000, 960, 250}, {2200, 1000, 250}, {3400, 960, 270},
                        {4600, 760, 350}, {5450, 330, 520}, {5800, 0, 700}};
const Line curlew_sheer{{0, 980, 850},    {1000, 1060, 830}, {2250, 1120, 820}, {3500, 1090, 850},
                        {4750, 900, 920}, {5650, 420, 1040}, {6000, 0, 1130}};
const gp_Pnt bottom_bulge(0, 0, -25), topside_bulge(0, 25, 0);

std::vector<TopoDS_Face> curlew_port() {
    return {loft({curlew_chine, between(curlew_keel, curlew_chine, bottom_bulge), curlew_keel}),
            loft({curlew_sheer, between(curlew_chine, curlew_sheer, topside_bulge), curlew_chine})};
}

std::vector<TopoDS_Face> curlew_starboard() {
    const Line chine = mirrored(curlew_chine), sheer = mirrored(curlew_sheer);
    const Line low = mirrored(between(curlew_keel, curlew_chine, bottom_bulge));
    const Line high = mirrored(between(curlew_chine, curlew_sheer, topside_bulge));
    return {loft({curlew_keel, low, chine}), loft({chine, high, sheer})};
}

// The lines of the pram dinghy: both chines, the middle of the bottom, the sheer.
constexpr double pram_length = 3500.0, bilge_radius = 40.0;
const Line pram_chine{{0, 480, 130},    {700, 560, 90},   {1500, 600, 80},
                      {2300, 560, 100}, {3000, 430, 200}, {pram_length, 300, 380}};
const Line pram_middle{{0, 0, 20},     {700, 0, -40}, {1500, 0, -60},
                       {2300, 0, -40}, {3000, 0, 70}, {pram_length, 0, 290}};
const Line pram_sheer{{0, 600, 480},    {700, 690, 450},  {1500, 740, 440},
                      {2300, 700, 460}, {3000, 570, 520}, {pram_length, 430, 600}};

TopoDS_Shape pram_solid(const std::vector<TopoDS_Face>& sides) {
    std::vector<TopoDS_Face> faces = sides;
    faces.push_back(loft({pram_sheer, mirrored(pram_sheer)}));  // a deck, taken off again
    const std::vector<TopoDS_Face> around = faces;
    faces.push_back(transom(around, 0.0));
    faces.push_back(transom(around, pram_length));
    TopExp_Explorer shell(sewn(faces), TopAbs_SHELL);
    if (!shell.More()) throw std::runtime_error("the dinghy's faces do not close");
    return BRepBuilderAPI_MakeSolid(TopoDS::Shell(shell.Current())).Solid();
}

bool is_chine(const TopoDS_Edge& edge) {
    const gp_Pnt a = BRep_Tool::Pnt(TopExp::FirstVertex(edge));
    const gp_Pnt b = BRep_Tool::Pnt(TopExp::LastVertex(edge));
    const gp_Pnt& aft = a.X() < b.X() ? a : b;
    return std::abs(a.X() - b.X()) > pram_length / 2 &&
           std::abs(aft.Z() - pram_chine.front().Z()) < 1.0;
}

bool is_deck(const TopoDS_Face& face) {
    GProp_GProps mass;
    BRepGProp::SurfaceProperties(face, mass);
    return std::abs(mass.CentreOfMass().Y()) < 1.0 && mass.CentreOfMass().Z() > 400.0 &&
           mass.Mass() > 1.0e6;
}

TopoDS_Face wigley_side(double side) {
    constexpr double length = 4000.0, beam = 400.0, draught = 250.0;
    // Bernstein coefficients: 1 - s^2 on [-1, 1] is (0, 2, 0); 1 - t^2 on [-1, 0] is (0, 1, 1).
    constexpr double along[3] = {0.0, 2.0, 0.0}, up[3] = {0.0, 1.0, 1.0};
    TColgp_Array2OfPnt poles(1, 3, 1, 3);
    for (int i = 0; i < 3; ++i) {
        for (int j = 0; j < 3; ++j) {
            // Port runs down, starboard up: both then face outward.
            const int row = side > 0.0 ? 2 - j : j;
            poles(i + 1, j + 1) =
                gp_Pnt(length * 0.5 * (i - 1), side * beam / 2 * along[i] * up[row],
                       draught * 0.5 * (row - 2));
        }
    }
    const Handle(Geom_BezierSurface) surface = new Geom_BezierSurface(poles);
    return BRepBuilderAPI_MakeFace(surface, Precision::Confusion()).Face();
}

}  // namespace

TopoDS_Shape curlew() {
    std::vector<TopoDS_Face> faces = curlew_port();
    for (const TopoDS_Face& face : curlew_starboard()) faces.push_back(face);
    faces.push_back(transom(faces, 0.0));
    return sewn(faces);
}

TopoDS_Shape curlew_half() {
    std::vector<TopoDS_Face> faces = curlew_port();
    faces.push_back(transom(faces, 0.0));
    return sewn(faces);
}

TopoDS_Shape sandpiper() {
    const Line high = between(pram_chine, pram_sheer, gp_Pnt(0, 15, 0));
    const std::vector<TopoDS_Face> sides{
        loft({pram_chine, pram_middle, mirrored(pram_chine)}), loft({pram_sheer, high, pram_chine}),
        loft({mirrored(pram_chine), mirrored(high), mirrored(pram_sheer)})};
    const TopoDS_Shape solid = pram_solid(sides);
    BRepFilletAPI_MakeFillet fillet(solid);
    TopTools_IndexedMapOfShape edges;
    TopExp::MapShapes(solid, TopAbs_EDGE, edges);
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge edge = TopoDS::Edge(edges(i));
        if (is_chine(edge)) fillet.Add(bilge_radius, edge);
    }
    fillet.Build();
    if (!fillet.IsDone()) throw std::runtime_error("the bilge cannot be rounded");
    std::vector<TopoDS_Face> open;
    for (TopExp_Explorer f(fillet.Shape(), TopAbs_FACE); f.More(); f.Next()) {
        const TopoDS_Face face = TopoDS::Face(f.Current());
        if (!is_deck(face)) open.push_back(face);
    }
    return sewn(open);
}

TopoDS_Shape wigley() {
    return sewn({wigley_side(1.0), wigley_side(-1.0)});
}

}  // namespace tearline::samples

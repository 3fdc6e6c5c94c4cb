#include "core/hull/shape_bytes.h"

#include <gtest/gtest.h>

#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <Standard_Failure.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Shape.hxx>
#include <gp_Trsf.hxx>
#include <sstream>

#include "core/hull/cad_faces.h"
#include "core/hull/cad_mesh.h"

namespace tearline::hull {
namespace {

TopoDS_Shape carried(const TopoDS_Shape& shape) {
    std::istringstream bytes(bytes_of(shape));
    return read_shape(bytes);
}

/// Expected: what was meshed here; a shape that went through bytes is not meshed anew.
void expect_same(const TopoDS_Shape& shape, double tolerance) {
    ASSERT_TRUE(mesh_faces(shape));
    const Hull here = hull_of_meshed(shape);
    const TopoDS_Shape other = carried(shape);
    const Hull there = hull_of_meshed(other);
    ASSERT_GT(here.triangles.size(), 10u);
    EXPECT_EQ(there.triangles, here.triangles);
    ASSERT_EQ(there.vertices.size(), here.vertices.size());
    for (std::size_t i = 0; i < here.vertices.size(); ++i)
        EXPECT_LE((there.vertices[i] - here.vertices[i]).norm(), tolerance);
    EXPECT_EQ(there.corner_uv, here.corner_uv);
    ASSERT_EQ(there.cad_edges.size(), here.cad_edges.size());
    const auto faces_here = faces_of(shape), faces_there = faces_of(other);
    for (std::size_t t = 0; t < here.triangles.size(); ++t) {
        ASSERT_EQ(there.face[t], here.face[t]);
        const Vec2 uv = (here.corner_uv[t][0] + here.corner_uv[t][1] + here.corner_uv[t][2]) / 3.0;
        const FacePoint a = faces_here->evaluate(here.face[t], uv);
        const FacePoint b = faces_there->evaluate(here.face[t], uv);
        EXPECT_LE((a.position - b.position).norm(), tolerance);
        EXPECT_LE((a.duu - b.duu).norm(), tolerance);
    }
    for (std::size_t e = 0; e < here.cad_edges.size(); ++e) {
        const EdgeOnCad &a = here.cad_edges[e], &b = there.cad_edges[e];
        ASSERT_EQ(b.edge, a.edge);
        EXPECT_EQ(b.parameter_from, a.parameter_from);
        EXPECT_LE((faces_there->edge_point(b.edge, b.parameter_from) -
                   faces_here->edge_point(a.edge, a.parameter_from))
                      .norm(),
                  tolerance);
    }
}

TEST(ShapeBytes, CarryAShapeToTheLastBit) {
    expect_same(BRepPrimAPI_MakeTorus(2000.0, 700.0 / 3.0).Shape(), 0.0);
}

TEST(ShapeBytes, CarryAShapeThatIsPlacedByATurn) {
    gp_Trsf turn;
    turn.SetRotation(gp_Ax1({10.0, 20.0, 30.0}, gp_Dir(1.0, 2.0, 3.0)), 0.7);
    TopoDS_Shape box = BRepPrimAPI_MakeBox(1000.0 / 7.0, 300.0, 50.0).Shape();
    box.Move(TopLoc_Location(turn));
    expect_same(box, 1e-9);  // [mm] the library takes the turn apart and puts it together again
}

TEST(ShapeBytes, TellBytesThatAreNone) {
    for (const char* text : {"", "noise", "\nOpen CASCADE Topology V4 (c)\nLocations 1\n"}) {
        std::istringstream bytes(text);
        TopoDS_Shape shape;
        try {
            shape = read_shape(bytes);
        } catch (const Standard_Failure&) {
        }
        EXPECT_TRUE(shape.IsNull()) << text;
    }
}

}  // namespace
}  // namespace tearline::hull

#include <gtest/gtest.h>

#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <Eigen/Geometry>
#include <IGESControl_Writer.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <STEPControl_Writer.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Face.hxx>
#include <fstream>
#include <gp_Pln.hxx>
#include <iterator>
#include <numbers>

#include "core/hull/read_hull.h"
#include "tests/support/mesh_files.h"

namespace tearline::hull::cad_formats_test {
namespace {

using tearline::test::Folder;
using std::numbers::pi;

std::filesystem::path write(const Folder& folder, const std::string& ending,
                            const TopoDS_Shape& shape, const std::string& unit = "MM") {
    Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
    const auto path = folder.write("model" + ending, "");
    if (ending == ".step") {
        STEPControl_Writer writer;
        writer.Transfer(shape, STEPControl_AsIs);
        writer.Write(path.c_str());
    } else if (ending == ".igs") {
        IGESControl_Writer writer(unit.c_str(), 0);
        writer.AddShape(shape);
        writer.Write(path.c_str());
    } else {
        BRepTools::Write(shape, path.c_str());
    }
    return path;
}

Result<Hull> read(const std::filesystem::path& path, const job::HullOptions& asked = {}) {
    job::HullOptions options = asked;
    options.model = path;
    return read_hull(options, job::Side::outside);
}

TopoDS_Shape compound(const std::vector<TopoDS_Shape>& shapes) {
    BRep_Builder builder;
    TopoDS_Compound result;
    builder.MakeCompound(result);
    for (const auto& shape : shapes) builder.Add(result, shape);
    return result;
}

TopoDS_Face panel(double x0, double x1) {
    return BRepBuilderAPI_MakeFace(gp_Pln(), x0, x1, 0.0, 1000.0).Face();
}

/// The length unit of a STEP file in mm put in place of another: what 1 in the file then means.
std::filesystem::path step_in_inches(const Folder& folder, const TopoDS_Shape& shape) {
    const auto path = write(folder, ".step", shape);
    std::ifstream in(path);
    std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    const std::string mm = "( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.) )";
    int id = 90000;
    for (std::size_t at = text.find(mm); at != std::string::npos; at = text.find(mm, at)) {
        const auto name = [&](int k) { return "#" + std::to_string(id + k); };
        const std::string inch =
            "( CONVERSION_BASED_UNIT('INCH'," + name(1) + ") LENGTH_UNIT() NAMED_UNIT(" + name(2) +
            ") );\n" + name(1) + " = LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4)," + name(3) +
            ");\n" + name(2) + " = DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.);\n" + name(3) +
            " = ";
        text.replace(at, mm.size(), inch + mm);
        at += inch.size() + mm.size();
        id += 10;
    }
    return folder.write("model.step", text);
}

std::filesystem::path step_in_metres(const Folder& folder, const TopoDS_Shape& shape) {
    const auto path = write(folder, ".step", shape);
    std::ifstream in(path);
    std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    const std::string mm = "SI_UNIT(.MILLI.,.METRE.)";
    text.replace(text.find(mm), mm.size(), "SI_UNIT($,.METRE.)");
    return folder.write("model.step", text);
}

void expect_cylinder(const std::filesystem::path& path, double unit) {
    const double area = (2 * pi * 3 * 20 + 2 * pi * 3 * 3) * 100 * 100 * unit * unit;
    const auto hull = read(path);
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_TRUE(hull->report.closed) << path;
    EXPECT_NEAR(hull->report.area_mm2, area, 0.01 * area) << path;
    const double height = hull->report.extent_max.z() - hull->report.extent_min.z();
    EXPECT_NEAR(height, 2000.0 * unit, 1e-6 * unit) << path;
}

TEST(CadFormats, AClosedCylinderHasItsAreaInEveryFormatAndUnit) {
    const TopoDS_Shape shape = BRepPrimAPI_MakeCylinder(300.0, 2000.0).Shape();
    const Folder folder;
    expect_cylinder(write(folder, ".step", shape), 1.0);
    expect_cylinder(step_in_inches(folder, shape), 25.4);
    expect_cylinder(step_in_metres(folder, BRepPrimAPI_MakeCylinder(0.3, 2.0).Shape()), 1.0);
    expect_cylinder(write(folder, ".step", shape), 1.0);  // no unit sticks to the next file
    expect_cylinder(write(folder, ".igs", shape, "MM"), 1.0);
    expect_cylinder(write(folder, ".igs", shape, "IN"), 1.0);  // this writer converts
    expect_cylinder(write(folder, ".brep", shape), 1.0);
}

TEST(CadFormats, ADifferingUnitIsWarnedOfAndTheFilesOwnIsUsed) {
    const Folder folder;
    job::HullOptions options;
    options.unit = "mm";
    const auto inches = step_in_inches(folder, BRepPrimAPI_MakeCylinder(300.0, 2000.0).Shape());
    const auto hull = read(inches, options);
    ASSERT_TRUE(hull);
    ASSERT_EQ(hull->warnings.size(), 1u);
    EXPECT_EQ(hull->warnings[0].code(), "unit-differs");
    EXPECT_EQ(hull->report.unit, "in");
    options.unit = "in";
    EXPECT_TRUE(read(inches, options)->warnings.empty());
}

TEST(CadFormats, FacesWithinTheTolerancesAreSewnAndFartherOnesAreNot) {
    const Folder folder;
    job::HullOptions options;
    options.outward = "as modelled";
    const auto near =
        read(write(folder, ".brep", compound({panel(0, 700), panel(700.05, 1500)})), options);
    ASSERT_TRUE(near) << near.error().message();
    EXPECT_EQ(near->report.opening_lengths.size(), 1u);
    EXPECT_EQ(near->report.mended.size(), 1u);
    const auto far =
        read(write(folder, ".brep", compound({panel(0, 700), panel(701, 1500)})), options);
    ASSERT_TRUE(far) << far.error().message();
    EXPECT_EQ(far->report.opening_lengths.size(), 2u);
}

TEST(CadFormats, FacesTurnedAgainstEachOtherAreMadeToAgree) {
    std::vector<TopoDS_Shape> faces;
    for (TopExp_Explorer f(BRepPrimAPI_MakeBox(3000.0, 1000.0, 800.0).Shape(), TopAbs_FACE);
         f.More(); f.Next()) {
        faces.push_back(faces.size() % 2 == 0 ? f.Current() : f.Current().Reversed());
    }
    const Folder folder;
    const auto hull = read(write(folder, ".brep", compound(faces)));
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_TRUE(hull->report.closed);
    const Vec3 middle(1500, 500, 400);
    for (std::size_t t = 0; t < hull->triangles.size(); ++t) {
        const auto& uv = hull->corner_uv[t];
        const FacePoint p = hull->cad->evaluate(hull->face[t], (uv[0] + uv[1] + uv[2]) / 3.0);
        const Vec3 n = hull->cad->outward_sign(hull->face[t]) * p.du.cross(p.dv);
        EXPECT_GT(n.dot(p.position - middle), 0.0);
    }
}

TEST(CadFormats, MovedAndReflectedFacesAreEvaluatedWhereTheyLie) {
    gp_Trsf turn, flip;
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(1, 2, 3)), 1.0);
    turn.SetTranslationPart(gp_Vec(4000, -300, 70));
    flip.SetMirror(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 1, 0)));
    const TopoDS_Shape torus = BRepPrimAPI_MakeTorus(1000.0, 300.0).Shape();
    const Folder folder;
    for (const TopoDS_Shape& shape :
         {torus.Moved(TopLoc_Location(turn)), BRepBuilderAPI_Transform(torus, flip).Shape(),
          BRepBuilderAPI_Transform(torus, flip).Shape().Moved(TopLoc_Location(turn))}) {
        const auto hull = read(write(folder, ".brep", shape));
        ASSERT_TRUE(hull) << hull.error().message();
        EXPECT_NEAR(hull->report.area_mm2, 4 * pi * pi * 1000 * 300, 1.5e5);
        for (std::size_t t = 0; t < hull->triangles.size(); ++t) {
            const auto& uv = hull->corner_uv[t];
            std::array<Vec3, 3> v;
            for (std::size_t k = 0; k < 3; ++k) {
                v[k] = hull->vertices[static_cast<std::size_t>(hull->triangles[t][k])];
                ASSERT_LT((hull->cad->evaluate(hull->face[t], uv[k]).position - v[k]).norm(), 1e-6);
            }
            const FacePoint p = hull->cad->evaluate(hull->face[t], (uv[0] + uv[1] + uv[2]) / 3.0);
            const Vec3 n = hull->cad->outward_sign(hull->face[t]) * p.du.cross(p.dv).normalized();
            ASSERT_GT(n.dot((v[1] - v[0]).cross(v[2] - v[0]).normalized()), 0.9);
        }
    }
}

TEST(CadFormats, SeamPointsAreFoundOnBothSidesOfTheSeam) {
    const Folder folder;
    const auto hull = read(write(folder, ".step", BRepPrimAPI_MakeCylinder(300.0, 2000.0).Shape()));
    ASSERT_TRUE(hull);
    int seams = 0;
    for (const EdgeOnCad& e : hull->cad_edges) {
        for (std::int32_t f = 0; f < hull->report.faces; ++f) {
            Vec2 low, high;
            try {
                low = hull->cad->edge_uv(e.edge, FaceId(f), e.parameter_from, Vec2(0, 0));
                high = hull->cad->edge_uv(e.edge, FaceId(f), e.parameter_from, Vec2(2 * pi, 0));
            } catch (const std::logic_error&) {
                continue;  // not an edge of this face
            }
            const Vec3 p = hull->cad->edge_point(e.edge, e.parameter_from);
            EXPECT_LT((hull->cad->evaluate(FaceId(f), low).position - p).norm(), 1e-6);
            EXPECT_LT((hull->cad->evaluate(FaceId(f), high).position - p).norm(), 1e-6);
            if (high.x() - low.x() > 6.0) ++seams;
        }
    }
    EXPECT_GT(seams, 0);
}

}  // namespace
}  // namespace tearline::hull::cad_formats_test

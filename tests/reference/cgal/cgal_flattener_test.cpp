#include <gtest/gtest.h>

#include "core/flattening/flatten_membrane.h"
#include "tests/reference/cgal/parameterisations.h"
#include "tests/support/analytic_meshes.h"
#include "tests/support/hull_like_shapes.h"

namespace tearline {
namespace {

struct Shape {
    const char* name;
    surface::SurfaceMesh mesh;
};

std::vector<Shape> shapes() {
    const auto figure = test::disc(300.0, 20);
    std::vector<Shape> out;
    out.push_back({"sphere cap", test::with_chord_lengths(test::on_sphere(figure, 600.0))});
    out.push_back({"saddle", test::on_graph(figure, test::saddle_shape)});
    out.push_back({"bilge of 40 mm radius", test::on_graph(figure, test::bilge_shape)});
    out.push_back({"bumps", test::on_graph(figure, test::bumpy_shape)});
    out.push_back({"bilge with a hole",
                   test::on_graph(test::with_hole(figure, {80.0, 30.0}, 60.0), test::bilge_shape)});
    return out;
}

TEST(CgalFlatteners, NeverReachLessEnergyThanOurs) {
    // CGAL's parameterisations of the same mesh with the same (straight) edges, each measured by
    // singular values; ours too, so that one yardstick serves all.
    for (const Shape& shape : shapes()) {
        const auto ours = flattening::flatten_membrane(shape.mesh);
        ASSERT_TRUE(ours) << shape.name << ": " << ours.error().message();
        const double energy = test::energy_by_singular_values(shape.mesh, ours->flat);
        EXPECT_NEAR(energy, ours->energy, 1e-9 * energy) << shape.name;
        const double arap =
            test::energy_by_singular_values(shape.mesh, test::cgal_arap(shape.mesh));
        const double conformal =
            test::energy_by_singular_values(shape.mesh, test::cgal_lscm(shape.mesh));
        EXPECT_LE(energy, arap * (1.0 + 1e-9)) << shape.name;
        EXPECT_LE(energy, conformal * (1.0 + 1e-9)) << shape.name;
        RecordProperty(std::string("arap_excess_percent_") + shape.name,
                       std::to_string(100.0 * (arap / energy - 1.0)));
        RecordProperty(std::string("conformal_excess_percent_") + shape.name,
                       std::to_string(100.0 * (conformal / energy - 1.0)));
    }
}

TEST(CgalFlatteners, ApproachOursWhenLetRun) {
    // Many more steps bring CGAL's as-rigid-as-possible map to the same least energy: two programs
    // that share nothing agree on the shape's energy to 0.1 %.
    const auto mesh = test::on_graph(test::disc(300.0, 10), test::bumpy_shape);
    const auto ours = flattening::flatten_membrane(mesh);
    ASSERT_TRUE(ours) << ours.error().message();
    const double arap = test::energy_by_singular_values(mesh, test::cgal_arap(mesh, 2000, 0.0));
    EXPECT_NEAR(arap / ours->energy, 1.0, 1e-3);
}

}  // namespace
}  // namespace tearline

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "core/hull/read_hull.h"
#include "tests/support/loops.h"
#include "tests/support/mesh_files.h"
#include "tests/support/planned.h"

/// Whole plans on hulls: what must hold of every one of them, and the Wigley hull's closed form.
namespace tearline::real_hulls_test {
namespace {

using std::numbers::pi;

/// Net lines lie no nearer to the damage through space than they do over the surface, and a line
/// over a surface of no radius under `least_radius` is not much longer than the straight one:
/// chord >= 2 R sin(e / 2 R) (Schur). Both hold of any right geodesic offset.
/// @param end  [mm] height of the hull's own end, where a net line may be cut nearer
void expect_offsets_by_chords(const Plan& plan, double least_radius, double end = 1e9) {
    for (const templates::LaidPly& ply : plan.plies)
        for (const Region3& region : ply.outlines_3d) {
            const double e = ply.edge_offset_mm;
            const double least = 2.0 * least_radius * std::sin(0.5 * e / least_radius);
            for (const Vec3& p : region.outer) {
                if (p.z() > end - 0.01) continue;
                const double chord = test::distance_to(plan.place.damage.outer, p);
                EXPECT_LE(chord, e + 0.1) << "ply " << ply.number;
                EXPECT_GE(chord, least - 0.1) << "ply " << ply.number;
            }
        }
}

/// Every ply holds the one before it, in the order of their edges.
void expect_nested_areas(const Plan& plan) {
    for (std::size_t k = 1; k < plan.plies.size(); ++k)
        EXPECT_GT(plan.plies[k].surface_area_mm2, plan.plies[k - 1].surface_area_mm2);
}

TEST(WigleyReference, HasItsWettedArea) {
    // S / [L (2T + B)] = 0.66129169 for B/L 0.1, T/L 0.0625 (SOURCES.md section 6); L 4000.
    job::HullOptions options;
    options.model = test::samples() + "/wigley.step";
    const auto hull = hull::read_hull(options, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message();
    EXPECT_NEAR(hull->report.area_mm2 / (4000.0 * (2 * 250.0 + 400.0)), 0.66129169, 5e-4 * 0.66);
}

TEST(WigleyReference, IsPlannedFromStepAndStlAlike) {
    const std::string text = test::sample_text("wigley");
    const Plan exact = test::planned(text);
    const Plan facets = test::planned(test::on_triangles(text, "wigley"));
    expect_offsets_by_chords(exact, 150.0, 0.0);
    expect_nested_areas(exact);
    ASSERT_EQ(exact.plies.size(), facets.plies.size());
    for (std::size_t k = 0; k < exact.plies.size(); ++k) {
        EXPECT_LE(test::apart(exact.plies[k].pieces.at(0).outline.net.outer,
                              facets.plies[k].pieces.at(0).outline.net.outer),
                  0.5);  // bar for 1 mm facets
        EXPECT_NEAR(facets.plies[k].surface_area_mm2 / exact.plies[k].surface_area_mm2, 1.0, 2e-3);
    }
}

TEST(CurlewReference, IsPlannedFromStlAsFromStep) {
    const Plan exact = test::planned(test::sample_text("curlew"));
    const Plan facets = test::planned(test::sample_text("curlew-scan"));
    ASSERT_EQ(exact.plies.size(), facets.plies.size());
    for (std::size_t k = 0; k < exact.plies.size(); ++k)
        EXPECT_LE(test::apart(exact.plies[k].pieces.at(0).outline.net.outer,
                              facets.plies[k].pieces.at(0).outline.net.outer),
                  1.0);  // across the chine both sides' 0.5 mm add
}

// Half a model.

/// A disc of 90 mm `off` the centreline; its scarf crosses it.
std::string keel_job(const std::string& model, const std::string& mirror, double off = 120.0) {
    return "[hull]\nmodel = \"" + model + "\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n" + mirror +
           "[damage]\ncentre = [2200, " + std::to_string(off) + ", " + std::to_string(0.2 * off) +
           "]\nradius = 90\ndepth = \"4.2 mm\"\n"
           "[layup]\nfill = \"mat 450\"\n";
}

TEST(HalfHullReference, MirroredIsTheWholeHull) {
    const Plan whole = test::planned(keel_job("curlew.step", "", 60));
    const Plan half = test::planned(keel_job("curlew-half.step", "mirror = true\n", 60));
    ASSERT_EQ(whole.plies.size(), half.plies.size());
    for (std::size_t k = 0; k < whole.plies.size(); ++k) {
        const templates::LaidPly &a = whole.plies[k], &b = half.plies[k];
        EXPECT_LE(test::apart(a.pieces.at(0).outline.net.outer, b.pieces.at(0).outline.net.outer),
                  0.1);
        EXPECT_NEAR(a.surface_area_mm2 / b.surface_area_mm2, 1.0, 5e-4);
        // Across the keel: the ply really reaches to starboard.
        double starboard = 0.0;
        for (const Vec3& p : b.outlines_3d.at(0).outer) starboard = std::min(starboard, p.y());
        EXPECT_LT(starboard, -20.0);
    }
}

TEST(HalfHullReference, ThatReallyEndsAtItsCentrelineIsCutThere) {
    const Plan plan = test::planned(keel_job("curlew-half.step", "mirror = false\n"));
    bool told = false;
    for (const Warning& warning : plan.warnings) told = told || warning.code() == "cut-at-hull-end";
    EXPECT_TRUE(told);
    for (const templates::LaidPly& ply : plan.plies)
        for (const Vec3& p : ply.outlines_3d.at(0).outer) EXPECT_GE(p.y(), -0.01);
}

TEST(HalfHullReference, WithoutAWordIsRefusedAndAskedFor) {
    // The scarf across the centreline; the damage itself across it; the damage on the other half.
    for (const double off : {120.0, 60.0, -200.0}) {
        const auto plan = plan_repair(test::job_of(keel_job("curlew-half.step", "", off)));
        ASSERT_FALSE(plan) << off;
        EXPECT_EQ(plan.error().kind, ErrorKind::no_safe_answer) << off;
        EXPECT_NE(plan.error().message().find("hull.mirror"), std::string::npos)
            << plan.error().message();
    }
}

// Hull meshes of the package openfoam-examples, in metres, where it is installed (tests/run).

const std::string packaged = "/usr/share/doc/openfoam-examples/examples/resources/geometry/";

class PackagedHullPlans : public testing::Test {
protected:
    void SetUp() override {
        if (!std::filesystem::exists(packaged + "wigley.stl.gz"))
            // tests/run installs it; a build by hand may lack it.
            GTEST_SKIP() << "openfoam-examples is not installed";
    }

    /// Unpacks a model beside the test's job.
    void unpack(const std::string& name) const {
        std::string bytes;
        std::FILE* pipe = popen(("gzip -dc " + packaged + name + ".stl.gz").c_str(), "r");
        std::array<char, 65536> buffer{};
        for (std::size_t n; (n = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;)
            bytes.append(buffer.data(), n);
        pclose(pipe);
        folder_.write("hull.stl", bytes);
    }

    [[nodiscard]] Plan disc_plan(const Vec3& centre, double radius) const {
        const auto number = [](double x) { return std::to_string(x); };
        return test::planned(
            "[hull]\nmodel = \"hull.stl\"\nunit = \"m\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"
            "[damage]\ncentre = [" +
                number(centre.x()) + ", " + number(centre.y()) + ", " + number(centre.z()) +
                "]\nradius = " + number(radius) +
                "\ndepth = \"1.05 mm\"\n[layup]\nfill = \"mat 225\"\ncover = []\n",
            folder_.write("hull.stl.txt", "").parent_path());
    }
    test::Folder folder_;
};

/// Discs where one curvature is next to none are nearly flat discs, but for what depth takes from
/// the other: area pi r^2 (1 - depth / radius).
void expect_discs(const Plan& plan, double least_radius) {
    for (const templates::LaidPly& ply : plan.plies) {
        const double flat = pi * std::pow(test::disc_radius(plan, ply), 2);
        const double least = 1.0 - ply.lay_depth_mm / least_radius - 2e-3;
        for (const double area :
             {ply.surface_area_mm2, signed_area(ply.pieces.at(0).outline.net.outer)}) {
            EXPECT_GE(area / flat, least);
            EXPECT_LE(area / flat, 1.002);
        }
    }
}

TEST_F(PackagedHullPlans, WigleyIsPlannedEndToEnd) {
    // 1 m long, 0.1 m wide, 62.5 mm deep: y = 50 (1 - (2x/L)^2)(1 - (z/T)^2) mm.
    unpack("wigley");
    job::HullOptions options;
    options.model = folder_.write("x", "").parent_path() / "hull.stl";
    options.unit = "m";
    const auto hull = hull::read_hull(options, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message();
    const double middle = 0.5 * (hull->report.extent_min.x() + hull->report.extent_max.x());
    const Plan plan = disc_plan({middle, 50.0 * (1.0 - 0.16), -25.0}, 8.0);
    expect_offsets_by_chords(plan, 40.0);  // its least radius, at the keel: T^2 / B
    expect_discs(plan, 40.0);
}

TEST_F(PackagedHullPlans, AShipOf116ThousandFacetsIsPlannedEndToEnd) {
    unpack("DTC-scaled");
    job::HullOptions options;
    options.model = folder_.write("x", "").parent_path() / "hull.stl";
    options.unit = "m";
    const auto hull = hull::read_hull(options, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message();
    // On the port side amidships, half way down: the widest vertex there.
    const Vec3 low = hull->report.extent_min, high = hull->report.extent_max;
    Vec3 place = Vec3::Zero();
    for (const Vec3& v : hull->vertices)
        if (std::abs(v.x() - 0.5 * (low.x() + high.x())) < 0.01 * (high.x() - low.x()) &&
            std::abs(v.z() - 0.5 * (low.z() + high.z())) < 0.05 * (high.z() - low.z()) &&
            v.y() > place.y())
            place = v;
    ASSERT_GT(place.y(), 0.0);
    const Plan plan = disc_plan(place, 60.0);
    expect_offsets_by_chords(plan, 300.0);
    expect_discs(plan, 300.0);
}

}  // namespace
}  // namespace tearline::real_hulls_test

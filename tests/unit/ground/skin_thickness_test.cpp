#include "core/ground/skin_thickness.h"

#include <gtest/gtest.h>

#include "tests/support/mesh_hulls.h"

namespace tearline::ground {
namespace {

using namespace tearline::test;

/// Half cylinders along x, of radius 500 and, for two faces, 490 mm: 10 mm apart by construction,
/// but for what the chords of 64 facets leave off, 500 (1 - cos(pi / 128)) = 0.15 mm.
hull::Hull half_pipe(bool both_faces) {
    PlainMesh mesh = trough(500.0, 2000.0, 64, 40);
    if (both_faces) append(mesh, turned_over(trough(490.0, 2000.0, 64, 40)));
    return read_mesh(mesh);
}

const Vec3 keel(1013.0, 20.0, -499.6);

TEST(MeasuredSkin, BracketsTheThicknessByTheChordsOfItsFacets) {
    const auto apart = measured_skin(half_pipe(true), keel);
    ASSERT_TRUE(apart);
    EXPECT_LE(apart->least, 10.0);
    EXPECT_GE(apart->most, 10.0 - 1e-3);  // 32-bit floats of the file
    EXPECT_NEAR(apart->least, 10.0, 0.16);
    EXPECT_NEAR(apart->most, 10.0, 0.16);
}

TEST(MeasuredSkin, ASkinThatTheModelDoesNotHaveIsWarnedOf) {
    job::Job job;
    job.hull.skin = 9.0;
    const Warnings warnings = check_skin(job, half_pipe(true), keel);
    ASSERT_EQ(warnings.size(), 1u);
    EXPECT_EQ(warnings[0].code(), "skin-differs");
    for (const char* words : {"hull.skin says 9 mm", "lie 10.0 mm apart near the damage"})
        EXPECT_NE(warnings[0].words().told.find(words), std::string::npos)
            << warnings[0].words().told;
    job.hull.skin = 12.0;
    EXPECT_EQ(check_skin(job, half_pipe(true), keel).size(), 1u);
}

TEST(MeasuredSkin, ASkinThatAgreesAndAModelOfOneFaceSayNothing) {
    job::Job job;
    job.hull.skin = 10.0;
    EXPECT_TRUE(check_skin(job, half_pipe(true), keel).empty());
    job.hull.skin = 9.0;
    EXPECT_TRUE(check_skin(job, half_pipe(false), keel).empty());
    job.hull.skin.reset();
    EXPECT_TRUE(check_skin(job, half_pipe(true), keel).empty());
}

}  // namespace
}  // namespace tearline::ground

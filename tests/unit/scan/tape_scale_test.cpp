#include "core/scan/tape_scale.h"

#include <gtest/gtest.h>

#include <string>

#include "tests/support/scanned_shapes.h"

namespace tearline::scan {
namespace {

const auto hull = scanned::arcs(0, 1 / 500.0);  // unrolled it is flat: girths are plane distances

/// A scan of that hull, all of it times `size`, with what a person says of it.
struct Taped {
    Scan scan;
    job::HullScan options;
    ScanPlace place;
};

Taped taped(double size, job::ScanKind kind) {
    Taped all;
    all.scan.points = scanned::scan_of(hull, {.spread = 0.3, .correlation = 4.0, .dent = 20.0});
    all.scan.scale(size);
    all.options.kind = kind;
    for (const Vec3& p : scanned::ring(hull, 150.0)) all.place.outline.push_back(size * p);
    all.place.middle = size * hull({0, 0}, 0.0);
    all.place.reach = 150.0;
    return all;
}

job::ScanTape tape(double size, const Vec2& from, const Vec2& to, double misread = 0.0) {
    job::ScanTape all;
    all.from = size * hull(from, 0.0);
    all.to = size * hull(to, 0.0);
    all.length = (to - from).norm() + misread;
    return all;
}

TEST(TapeScale, FindsTheSizeByGirthsOverADent) {
    // The scan was made so much too small; the tape lies on the hull, over the dent as it was.
    Taped of = taped(0.97, job::ScanKind::light);
    of.options.tapes = {tape(0.97, {0, -260}, {0, 260}), tape(0.97, {-250, -200}, {-250, 200})};
    const auto scale = tape_scale(of.scan, of.options, of.place);
    ASSERT_TRUE(scale) << scale.error().message();
    EXPECT_NEAR(scale->factor, 1.0 / 0.97, 2e-4);
    // hypot(1, sqrt(2) 2) / hypot(520, 400): a reading and two picks for each tape.
    EXPECT_NEAR(scale->error, 3.0 / 656.0, 2e-4);
}

TEST(TapeScale, ChordsAreShorterThanGirths) {
    // Laid straight the same length is a chord: 2 R sin(s / 2 R).
    Taped of = taped(1.0, job::ScanKind::light);
    of.options.tapes = {tape(1.0, {0, -250}, {0, 250})};
    of.options.tapes.front().laid = job::ScanTape::Laid::straight;
    of.options.tapes.front().length = 2.0 * 500.0 * std::sin(0.5);
    const auto scale = tape_scale(of.scan, of.options, of.place);
    ASSERT_TRUE(scale);
    EXPECT_NEAR(scale->factor, 1.0, 1e-9);
}

TEST(TapeScale, PhotographsTakeAnyFactorButNotNone) {
    Taped of = taped(0.02, job::ScanKind::photo);
    EXPECT_EQ(tape_scale(of.scan, of.options, of.place).error().key, "hull.scan.tape");
    of.options.tapes = {tape(0.02, {-260, -220}, {260, -220})};
    const auto scale = tape_scale(of.scan, of.options, of.place);
    ASSERT_TRUE(scale) << scale.error().message();
    EXPECT_NEAR(scale->factor, 50.0, 0.02);
}

TEST(TapeScale, OtherScannersAreNotFivePercentOff) {
    Taped of = taped(0.93, job::ScanKind::light);
    of.options.tapes = {tape(0.93, {0, -260}, {0, 260})};
    EXPECT_EQ(tape_scale(of.scan, of.options, of.place).error().key, "hull.scan.tape[1].length");
}

TEST(TapeScale, TapesThatDisagreeAreNamed) {
    Taped of = taped(0.5, job::ScanKind::photo);
    of.options.tapes = {tape(0.5, {0, -260}, {0, 260}), tape(0.5, {-250, -200}, {-250, 200}, 9.0)};
    const auto scale = tape_scale(of.scan, of.options, of.place);
    ASSERT_FALSE(scale);
    EXPECT_EQ(scale.error().key, "hull.scan.tape[2].length");
}

TEST(TapeScale, APlaceOffTheScanIsRefusedHoweverItIsLaid) {
    // By its foot such a place gave a size, 15 % off and without a word.
    for (const auto laid : {job::ScanTape::Laid::on_the_hull, job::ScanTape::Laid::straight}) {
        Taped of = taped(0.5, job::ScanKind::photo);
        of.options.tapes = {tape(0.5, {0, -260}, {0, 260})};
        of.options.tapes.front().laid = laid;
        ASSERT_TRUE(tape_scale(of.scan, of.options, of.place));
        of.options.tapes.front().to *= 0.8;  // 100 mm inside the hull
        const auto scale = tape_scale(of.scan, of.options, of.place);
        ASSERT_FALSE(scale);
        EXPECT_EQ(scale.error().key, "hull.scan.tape[1].to");
    }
}

TEST(TapeScale, APlaceInTheFilesOwnUnitIsToldTimesIt) {
    Taped of = taped(1.0, job::ScanKind::light);
    of.options.tapes = {tape(1.0, {-260, -220}, {260, -220})};
    of.options.tapes.front().from *= 0.001;  // in metres, as the file has it
    for (const bool metres : {true, false}) {
        of.scan.unit = metres ? "m" : "mm";
        const auto scale = tape_scale(of.scan, of.options, of.place);
        ASSERT_FALSE(scale);
        EXPECT_EQ(scale.error().key, "hull.scan.tape[1].from");
        EXPECT_EQ(scale.error().what.find("times hull.unit it is [") != std::string::npos, metres)
            << scale.error().what;
    }
}

TEST(TapeScale, AmongFewPointsAPlaceMayLieBetweenThem) {
    // Points 40 mm apart: a place in the middle of four is 28 mm from each.
    Taped of = taped(1.0, job::ScanKind::light);
    of.scan.points.clear();
    for (double u = -400; u <= 400; u += 40)
        for (double v = -400; v <= 400; v += 40) of.scan.points.push_back(hull({u, v}, 0.0));
    of.options.tapes = {tape(1.0, {-260, -220}, {260, -220})};
    EXPECT_TRUE(tape_scale(of.scan, of.options, of.place));
    of.options.tapes = {tape(1.0, {-260, -220}, {520, -220})};
    EXPECT_FALSE(tape_scale(of.scan, of.options, of.place));
}

/// A job on a scan in which x is aft to bow and z up, before anything is picked.
job::Job job_on_scan() {
    job::Job job;
    job.hull.scan = job::HullScan{};
    job.hull.bow = {0, 1, 0};
    job.hull.up = {0, 0, 1};
    return job;
}

TEST(InTrueMm, PickedPointsSayWhereBowAndUpAre) {
    // By construction; two points replace the direction that the table gives.
    job::Job job = job_on_scan();
    job.hull.scan->bow_points = {Vec3(10, 20, 30), Vec3(40, 20, 30)};
    job.hull.scan->up_points = {Vec3(0, 5, 0), Vec3(0, 9, 0)};
    const auto known = in_true_mm(job, 1.0);
    ASSERT_TRUE(known) << known.error().message();
    EXPECT_LT((known->hull.bow - Vec3(1, 0, 0)).norm(), 1e-12);
    EXPECT_LT((known->hull.up - Vec3(0, 1, 0)).norm(), 1e-12);
}

TEST(InTrueMm, PointsAtOneHeightSayWhatIsLevelAndUpOnWhichSide) {
    // Closed form: the upright of the plane 3 y + 4 z = 0; five points, a millimetre off it in
    // turn.
    const Vec3 upright(0, 0.6, 0.8), aside(1, 0, 0), along(0, 0.8, -0.6);
    for (const double sign : {1.0, -1.0}) {
        job::Job job = job_on_scan();
        job.hull.up = Vec3(0, 0, sign);
        job.hull.bow = {1, 0, 0};
        int i = 0;
        for (const Vec2& at :
             {Vec2(0, 0), Vec2(900, 0), Vec2(900, 700), Vec2(0, 700), Vec2(450, 350)})
            job.hull.scan->level_points.push_back(at.x() * aside + at.y() * along +
                                                  (i++ % 2 ? 1.0 : -1.0) * upright);
        const auto known = in_true_mm(job, 1.0);
        ASSERT_TRUE(known) << known.error().message();
        EXPECT_GT(known->hull.up.dot(sign * upright), 0.99999);
    }
}

TEST(InTrueMm, EveryPlaceIsTakenTimesTheScaleAndNoLength) {
    job::Job job = job_on_scan();
    job.damage.outline = {Vec3(100, 0, 0)};
    job.damage.centre = Vec3(0, 200, 0);
    job.damage.depth = 5.0;
    job.layup.press_first = Vec3(0, 0, 300);
    job::ScanCrease crease;
    crease.points = {Vec3(400, 0, 0)};
    crease.radius = 40.0;
    job.hull.scan->creases = {crease};
    job.hull.scan->seen_from = Vec3(0, 500, 0);
    job.hull.bow = {1, 0, 0};
    const auto known = in_true_mm(job, 1.01);
    ASSERT_TRUE(known) << known.error().message();
    EXPECT_EQ(known->damage.outline[0], Vec3(1.01 * Vec3(100, 0, 0)));
    EXPECT_EQ(*known->damage.centre, Vec3(1.01 * Vec3(0, 200, 0)));
    EXPECT_EQ(*known->layup.press_first, Vec3(1.01 * Vec3(0, 0, 300)));
    EXPECT_EQ(known->hull.scan->creases[0].points[0], Vec3(1.01 * Vec3(400, 0, 0)));
    EXPECT_EQ(*known->hull.scan->seen_from, Vec3(1.01 * Vec3(0, 500, 0)));
    EXPECT_EQ(*known->hull.scan->creases[0].radius, 40.0);
    EXPECT_EQ(known->damage.depth, 5.0);
}

TEST(InTrueMm, BowAndUpThatGoOneWayAreRefused) {
    job::Job job = job_on_scan();
    job.hull.scan->up_points = {Vec3(0, 0, 0), Vec3(0, 700, 0)};
    const auto known = in_true_mm(job, 1.0);
    ASSERT_FALSE(known);
    EXPECT_EQ(known.error().key, "hull.scan");
}

TEST(TapeScale, AWrongUnitIsToldByTheOneThatFits) {
    // Its places are mm, and the scan is one in metres that was said to be in mm.
    Taped all = taped(1.0, job::ScanKind::photo);
    all.options.tapes = {tape(1.0, {-250, -200}, {250, -200})};
    all.scan.scale(0.001);
    all.scan.unit = "mm";
    const auto scale = tape_scale(all.scan, all.options, all.place);
    ASSERT_FALSE(scale);
    EXPECT_NE(scale.error().message().find("hull.unit = \"m\" in place of \"mm\""),
              std::string::npos)
        << scale.error().message();
}

}  // namespace
}  // namespace tearline::scan

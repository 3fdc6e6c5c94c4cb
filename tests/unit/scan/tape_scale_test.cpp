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

}  // namespace
}  // namespace tearline::scan

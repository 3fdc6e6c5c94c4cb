#include "core/plan/scan_errors.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/ground/ground.h"
#include "tests/support/flat_dish.h"

namespace tearline::plan {
namespace {

/// A sphere of radius R about the origin's foot, known so well there and worse farther out.
class Sphere final : public hull::ScannedSurface {
public:
    Sphere(double radius, double error, double worse) : r_(radius), error_(error), worse_(worse) {}
    [[nodiscard]] Vec3 foot(const Vec3& point) const override { return point; }
    [[nodiscard]] Vec3 normal(const Vec3& place) const override {
        return std::isinf(r_) ? Vec3(0, 0, 1) : Vec3((place + Vec3(0, 0, r_)).normalized());
    }
    [[nodiscard]] double height_error(const Vec3& place) const override {
        return error_ + worse_ * place.head<2>().norm();
    }

private:
    double r_, error_, worse_;
};

constexpr double flat = std::numeric_limits<double>::infinity();

Region3 ring(double radius) {
    Region3 region;
    for (int i = 0; i < 64; ++i) {
        const double a = 2 * std::numbers::pi * i / 64;
        region.outer.emplace_back(radius * std::cos(a), radius * std::sin(a), 0.0);
    }
    return region;
}

/// A disc's ply on a scan, and what is told of it.
struct Scan {
    ground::Ground ground;
    hull::Hull hull;
    job::Job job;
    std::vector<templates::LaidPly> plies{1};

    explicit Scan(double radius = flat, double error = 0.0, double worse = 0.0) {
        plies::NetRegion footprint;
        footprint.offset = ground.footprint_offset = 40.0;
        footprint.on_base = {ring(140.0)};
        ground.regions = {footprint};
        hull.scanned = hull::Scanned{};
        hull.scanned->surface = std::make_shared<Sphere>(radius, error, worse);
        job.hull.scan = job::HullScan{};
        job.scarf.ratio = 12.0;
        ground.dish = std::make_unique<test::FlatDish>();
        plies[0].number = 4;
        plies[0].fabric = "mat 450";
        plies[0].thickness_mm = 1.0;
        plies[0].outlines_3d = {ring(100.0)};
    }
    [[nodiscard]] Result<ScanErrors> told() const { return scan_errors(ground, hull, job, plies); }
    [[nodiscard]] double edge() const {
        const auto known = told();
        return known ? known->edge_mm.at(0) : -1.0;
    }
    [[nodiscard]] std::string codes() const {
        std::string codes;
        if (const auto known = told())
            for (const Warning& warning : known->warnings)
                codes += std::string(warning.code()) + " ";
        return codes;
    }
};

TEST(ScanErrors, AreNoneOfAModel) {
    Scan scan;
    scan.hull.scanned.reset();
    const auto told = scan.told();
    ASSERT_TRUE(told);
    EXPECT_FALSE(told->hull);
    EXPECT_TRUE(told->edge_mm.empty());
    EXPECT_TRUE(told->warnings.empty());
}

TEST(ScanErrors, OfTheScaleGoWithTheWayToTheEdge) {
    // By hand: 1 % of 100 mm, told with k = 2.
    Scan scan;
    scan.hull.scanned->scale_error = 0.01;
    EXPECT_NEAR(scan.edge(), 2.0, 1e-9);
    scan.plies[0].outlines_3d = {ring(150.0)};
    EXPECT_NEAR(scan.edge(), 3.0, 1e-9);
}

TEST(ScanErrors, OfTheSurfaceTurnIntoTheTemplateByWhatItTurns) {
    // Closed form: on a sphere of radius 400 the normal at (100, 0, 0) leans by atan(100 / 400);
    // twice that across the piece, of 0.8 mm, told with k = 2. On a flat it moves no edge.
    EXPECT_NEAR(Scan(400.0, 0.8).edge(), 2.0 * 2.0 * std::atan(0.25) * 0.8, 1e-9);
    EXPECT_NEAR(Scan(flat, 0.8).edge(), 0.0, 1e-12);
}

TEST(ScanErrors, OfPickingAreHalfASpacingEvenlyButNeverMoreThanByEye) {
    // Closed form: an even error over a width w has the spread w / sqrt(12); 2 mm by eye.
    Scan scan;
    scan.hull.scanned->spacing = 3.0;
    EXPECT_NEAR(scan.edge(), 2.0 * 3.0 / std::sqrt(12.0), 1e-9);
    scan.hull.scanned->spacing = 50.0;
    EXPECT_NEAR(scan.edge(), 4.0, 1e-9);
}

TEST(ScanErrors, OfThreeKindsAddUpBySquares) {
    Scan scan(400.0, 0.8);
    scan.hull.scanned->scale_error = 0.01;
    scan.hull.scanned->spacing = 3.0;
    EXPECT_NEAR(scan.edge(), 2.0 * std::sqrt(1.0 + std::pow(1.6 * std::atan(0.25), 2) + 9.0 / 12.0),
                1e-9);
}

TEST(ScanErrors, TellTheMiddleAndTheWorstOfTheFootprint) {
    // By hand: 0.1 mm at the middle, 0.002 mm worse a mm: 0.38 at 140 mm; both with k = 2.
    const auto told = Scan(flat, 0.1, 0.002).told()->hull;
    ASSERT_TRUE(told);
    EXPECT_NEAR(told->middle_mm, 0.2, 1e-9);
    EXPECT_NEAR(told->most_mm, 0.76, 1e-9);
    EXPECT_NEAR(told->most_at.norm(), 140.0, 1e-9);
    // Where it is known worst at the middle, that is the worst.
    const auto inner = Scan(flat, 0.5, -0.001).told()->hull;
    ASSERT_TRUE(inner);
    EXPECT_NEAR(inner->most_mm, 1.0, 1e-9);
    EXPECT_NEAR(inner->most_at.norm(), 0.0, 1e-12);
}

TEST(ScanErrors, AreRefusedBeyondAPlysStepAndWarnedOfFromAThirdOfIt) {
    // By hand: a step of 12 mm; edges off by 3.9, 4.1, 11.9 and 12.1 mm.
    Scan scan;
    const auto off = [&](double mm) {
        scan.hull.scanned->scale_error = 0.5 * mm / 100.0;
        return scan.told();
    };
    const auto unsure = [&](double mm) {
        (void)off(mm);
        return scan.codes().find("scan-edge-unsure") != std::string::npos;
    };
    EXPECT_FALSE(unsure(3.9));
    EXPECT_TRUE(unsure(4.1));
    EXPECT_TRUE(off(11.9));
    const auto refused = off(12.1);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::no_safe_answer);
    EXPECT_EQ(refused.error().key, "hull.scan");
    EXPECT_EQ(refused.error().ply, 4);
    EXPECT_NE(refused.error().what.find("12.1 mm off, more than the 12.0 mm"), std::string::npos);
    // A cover's step is the job's own.
    scan.plies[0].cover = true;
    scan.job.layup.cover_step = 25.0;
    EXPECT_TRUE(off(24.9));
    EXPECT_FALSE(off(25.1));
}

TEST(ScanErrors, SayWhatMakesTheMostOfAnEdge) {
    using Most = warn::ScanEdgeUnsure::Most;
    const auto most = [](const Scan& scan) {
        const ScanErrors told = *scan.told();
        for (const Warning& warning : told.warnings)
            if (const auto* unsure = std::get_if<warn::ScanEdgeUnsure>(&warning.cause)) {
                EXPECT_EQ(warning.ply, 4);
                EXPECT_NEAR(unsure->step, 12.0, 1e-12);
                return unsure->most;
            }
        ADD_FAILURE() << "not told";
        return Most::scale;
    };
    Scan scale(400.0, 2.0), surface(400.0, 8.0), picking(400.0, 0.5);
    scale.hull.scanned->scale_error = 0.05;
    surface.hull.scanned->scale_error = 0.01;
    surface.hull.scanned->spacing = 3.0;
    picking.hull.scanned->spacing = 50.0;
    picking.hull.scanned->scale_error = 0.015;
    EXPECT_EQ(most(scale), Most::scale);
    EXPECT_EQ(most(surface), Most::surface);
    EXPECT_EQ(most(picking), Most::picking);
}

TEST(ScanErrors, TellWhatIsWrongWithTheScan) {
    Scan scan;
    EXPECT_EQ(scan.codes(), "scan-fitted ");
    hull::Scanned& scanned = *scan.hull.scanned;
    scanned.strays = 3;
    scanned.holes = {{Vec3(1, 2, 3), std::numbers::pi * 400.0}, {Vec3(0, 0, 0), 10.0}};
    scanned.cover_degrees = 269.0;
    EXPECT_EQ(scan.codes(), "scan-fitted scan-strays scan-holes scan-one-sided ");
    const ScanErrors told = *scan.told();
    for (const Warning& warning : told.warnings)
        if (const auto* holes = std::get_if<warn::ScanHoles>(&warning.cause)) {
            // Closed form: a disc of 400 pi mm2 is 40 mm wide.
            EXPECT_NEAR(holes->width, 40.0, 1e-9);
            EXPECT_EQ(holes->count, 2u);
        }
    scanned.cover_degrees = 270.0;
    EXPECT_EQ(scan.codes(), "scan-fitted scan-strays scan-holes ");
}

TEST(ScanErrors, NamePlacesAsTheyWerePickedOnTheScan) {
    // A scan taken at twice its own size: a person picks in its own coordinates.
    Scan scan;
    hull::Scanned& scanned = *scan.hull.scanned;
    scanned.scale = 2.0;
    hull::Scanned::Chine chine;
    chine.points = {Vec3(0, 0, 0), Vec3(10, 0, 0), Vec3(20, 0, 0)};
    chine.turn_degrees = 30.0;
    scanned.chines = {chine};
    scanned.doubtful = {chine};
    scanned.strays = 1;
    scanned.farthest_stray = Vec3(2, 4, 6);
    scanned.stray_off = 9.0;
    scanned.holes = {{Vec3(10, 10, 10), 100.0}};
    scanned.bend = hull::Scanned::Bend{55.0, Vec3(4, 5, 6), {Vec3(2, 4, 6)}};
    scanned.unfollowed = hull::Scanned::Unfollowed{Vec3(8, 2, 4), 3.0};
    int seen = 0;
    const ScanErrors told = *scan.told();
    for (const Warning& warning : told.warnings) {
        if (const auto* left = std::get_if<warn::ScanUnfollowed>(&warning.cause)) {
            EXPECT_EQ(left->at, Vec3(4, 1, 2));
            EXPECT_EQ(left->off, 3.0) << "lengths are true ones";
            ++seen;
        } else if (const auto* kept = std::get_if<warn::ScanChine>(&warning.cause)) {
            EXPECT_EQ(kept->points[2], Vec3(10, 0, 0));
            EXPECT_EQ(kept->at, Vec3(5, 0, 0));
            EXPECT_EQ(kept->turn, 30.0);
            ++seen;
        } else if (const auto* doubtful = std::get_if<warn::ScanChineUnsure>(&warning.cause)) {
            EXPECT_EQ(doubtful->points[1], Vec3(5, 0, 0));
            EXPECT_EQ(doubtful->at, Vec3(5, 0, 0));
            ++seen;
        } else if (const auto* bend = std::get_if<warn::ScanBend>(&warning.cause)) {
            EXPECT_EQ(bend->middle.at(0), Vec3(1, 2, 3));
            EXPECT_EQ(bend->at, Vec3(2, 2.5, 3));
            ++seen;
        } else if (const auto* strays = std::get_if<warn::ScanStrays>(&warning.cause)) {
            EXPECT_EQ(strays->at, Vec3(1, 2, 3));
            EXPECT_EQ(strays->off, 9.0) << "lengths are true ones";
            ++seen;
        } else if (const auto* holes = std::get_if<warn::ScanHoles>(&warning.cause)) {
            EXPECT_EQ(holes->at, Vec3(5, 5, 5));
            ++seen;
        }
    }
    EXPECT_EQ(seen, 6);
}

TEST(ScanErrors, TellTheWorstTapeAndThatOneAloneShowsNoSlip) {
    Scan scan;
    hull::Scanned& scanned = *scan.hull.scanned;
    scanned.scale = 1.25;
    scanned.tape_misfits = {0.5, -2.0, 1.0};
    const ScanErrors told = *scan.told();
    const auto* tapes = std::get_if<warn::ScanTapes>(&told.warnings.back().cause);
    ASSERT_TRUE(tapes);
    EXPECT_EQ(tapes->misfit, 2.0);
    EXPECT_EQ(tapes->tapes, 3u);
    EXPECT_NEAR(tapes->percent, 125.0, 1e-12);
    scanned.tape_misfits = {0.0};
    scan.job.hull.scan->tapes.resize(1);
    scan.job.hull.scan->kind = job::ScanKind::light;
    EXPECT_EQ(scan.codes(), "scan-fitted scan-tapes ");
    scan.job.hull.scan->kind = job::ScanKind::photo;
    EXPECT_EQ(scan.codes(), "scan-fitted scan-tapes scan-one-tape ");
}

}  // namespace
}  // namespace tearline::plan

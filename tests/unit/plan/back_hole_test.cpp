#include "core/plan/back_hole.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/support/flat_plate.h"

/// Backings on the far face of a plate and of round skins, against closed forms.
namespace tearline::plan {
namespace {

using std::numbers::pi;

/// A hole of 80 mm right through a skin of 6 mm.
job::Job hole(job::BackingKind kind) {
    job::Job job = test::disc_on_plate(80.0);
    job.damage.through = true;
    job.damage.depth = 6.0;
    job.hull.skin = 6.0;
    job.scarf.from = job::ScarfFrom::outside;
    job.backing = job::Backing{};
    job.backing->kind = kind;
    job.backing->lap = 40.0;
    job.backing->stays = false;
    return job;
}

Result<std::optional<BackingPlan>> tried(const job::Job& job, const hull::Hull& hull) {
    Plan plan;
    plan.job = job;
    return back_hole(plan, job, hull);
}

BackingPlan backed(const job::Job& job, const hull::Hull& hull = test::flat_plate()) {
    auto made = tried(job, hull);
    if (!made) throw std::runtime_error(made.error().message());
    return std::move(made->value());
}

/// Part of a surface that faces up, by its height over (x, y).
hull::Hull curved(const std::function<double(double, double)>& height) {
    return test::read_mesh(test::grid(28, 28, [&](double u, double v) {
        const double x = 560.0 * u - 280.0, y = 560.0 * v - 280.0;
        return Vec3(x, y, height(x, y));
    }));
}

/// A sphere or a cylinder along y of a radius, its top at the origin.
hull::Hull sphere(double radius) {
    return curved(
        [=](double x, double y) { return std::sqrt(radius * radius - x * x - y * y) - radius; });
}
hull::Hull cylinder(double radius) {
    return curved([=](double x, double) { return std::sqrt(radius * radius - x * x) - radius; });
}

/// Words of every label on its one piece.
std::string words_on(const BackingPlan& backing) {
    std::string words = "|";
    for (const templates::Mark& mark : backing.pieces.at(0).pieces.at(0).outline.marks)
        if (const auto* label = std::get_if<templates::Label>(&mark)) words += label->text + "|";
    return words;
}

TEST(BackHole, IsNothingWhereNoneIsAskedFor) {
    job::Job job = hole(job::BackingKind::none);
    ASSERT_TRUE(tried(job, test::flat_plate()));
    EXPECT_FALSE(*tried(job, test::flat_plate()));
    job.backing.reset();
    EXPECT_FALSE(*tried(job, test::flat_plate()));
}

TEST(BackHole, OfAFlatPlateIsADiscWithItsLap) {
    // By hand: 80 + 40 mm, without strain, bend or station; cut and not torn.
    const BackingPlan backing = backed(hole(job::BackingKind::choose));
    EXPECT_EQ(backing.kind, job::BackingKind::sheet);
    EXPECT_NEAR(backing.area_mm2 / (pi * 120.0 * 120.0), 1.0, 1e-3);
    EXPECT_LT(backing.strain, 1e-4);
    EXPECT_FALSE(backing.preformed || backing.least_radius_mm);
    EXPECT_TRUE(backing.stations.empty());
    ASSERT_EQ(backing.pieces.size(), 1u);
    ASSERT_EQ(backing.pieces[0].pieces.size(), 1u);
    const templates::LaidPiece& piece = backing.pieces[0].pieces[0];
    EXPECT_EQ(piece.piece.id, "backing");
    EXPECT_FALSE(piece.outline.tear);
    for (const Vec2& p : piece.outline.net.outer) EXPECT_NEAR(p.norm(), 120.0, 0.05);
    const std::string words = words_on(backing);
    EXPECT_NE(words.find("|BACKING|backing|"), std::string::npos) << words;
    EXPECT_NE(words.find("|LAP 40 MM ALL ROUND THE HOLE|IT COMES OUT AGAIN|"), std::string::npos)
        << words;
}

TEST(BackHole, IsSeenFromTheSideThatThePliesAreLaidFrom) {
    // From outside one looks at the far face's front; its lay surface is under the plate by the
    // skin. From inside the plate itself is the far face.
    // Half of its thickness lies behind that face.
    job::Job job = hole(job::BackingKind::sheet);
    job.backing->thickness = 4.0;
    const BackingPlan outside = backed(job);
    EXPECT_EQ(outside.thickness_mm, 4.0);
    EXPECT_EQ(outside.pieces[0].side, job::Side::outside);
    for (const Vec3& p : outside.pieces[0].pieces[0].piece.lay.position)
        EXPECT_NEAR(p.z(), -6.0 - 2.0, 1e-6);
    job.damage.side = job::Side::inside;
    job.scarf.from = job::ScarfFrom::inside;
    const BackingPlan inside = backed(job);
    EXPECT_EQ(inside.pieces[0].side, job::Side::inside);
    for (const Vec3& p : inside.pieces[0].pieces[0].piece.lay.position)
        EXPECT_NEAR(p.z(), 0.0 + 2.0, 1e-6);
    EXPECT_NE(words_on(inside).find("SEEN FROM INSIDE"), std::string::npos);
}

TEST(BackHole, OfASphereStrainsByItsSquareAndIsMadeAsThatAsks) {
    // Closed form (SOURCES.md section 12): r^2 / 8 R^2 of a flat disc pressed on a sphere. By hand
    // with r = 120 on the far face of R - 6: 1000 gives 0.18 %, a sheet; 400 1.2 %, petals.
    const BackingPlan shallow = backed(hole(job::BackingKind::choose), sphere(1000.0));
    EXPECT_EQ(shallow.kind, job::BackingKind::sheet);
    EXPECT_NEAR(shallow.strain, 120.0 * 120.0 / (8.0 * 994.0 * 994.0), 6e-4);
    ASSERT_TRUE(shallow.least_radius_mm);
    EXPECT_NEAR(*shallow.least_radius_mm, 994.0, 40.0);
    EXPECT_FALSE(shallow.preformed) << "994 mm is over 916";

    const BackingPlan round = backed(hole(job::BackingKind::choose), sphere(400.0));
    EXPECT_EQ(round.kind, job::BackingKind::petals);
    EXPECT_NEAR(round.strain, 120.0 * 120.0 / (8.0 * 394.0 * 394.0), 4e-3);
    EXPECT_TRUE(round.preformed);
    // Cut into petals it goes on within what a sheet may strain: relief cuts stand on its piece.
    double strain = 0.0;
    std::size_t cuts = 0;
    for (const templates::LaidPiece& piece : round.pieces.at(0).pieces) {
        strain = std::max(strain, piece.piece.strain_max);
        cuts += piece.piece.cuts.size();
    }
    EXPECT_GT(cuts, 0u);
    EXPECT_LT(strain, round.strain);
    EXPECT_NE(words_on(round).find("PREFORM IT"), std::string::npos);
}

TEST(BackHole, StationsFollowACylinderFromOneStraightLine) {
    // Closed form: cards along y on a cylinder along y are straight; along x they would be arcs.
    // The sheet reaches 120 mm out: five cards at most 100 mm apart would be three and a bit.
    job::Job job = hole(job::BackingKind::stations);
    job.backing->thickness = 3.0;
    const double R = 500.0;
    const BackingPlan backing = backed(job, cylinder(R));
    EXPECT_TRUE(backing.pieces.empty());
    ASSERT_EQ(backing.stations.size(), 4u);
    double lowest = 1e9;
    for (const Station& station : backing.stations)
        for (const Vec2& p : station.edge) lowest = std::min(lowest, p.y());
    // 60 mm of card under its lowest place, less the sheet that lies on it.
    EXPECT_NEAR(lowest, 60.0 - 3.0, 1e-6);
    for (std::size_t i = 0; i < 4; ++i) {
        const Station& station = backing.stations[i];
        EXPECT_EQ(station.number, static_cast<int>(i) + 1);
        EXPECT_EQ(station.name.find("station " + std::to_string(i + 1) + " of 4, "), 0u)
            << station.name;
        if (i == 0) continue;
        EXPECT_NEAR(station.at_mm - backing.stations[i - 1].at_mm,
                    (backing.stations[3].at_mm - backing.stations[0].at_mm) / 3.0, 1e-9);
    }
    // The far face lies 6 mm under the skin; heights of its cards differ by the cylinder's own.
    const double outer = std::abs(backing.stations[0].at_mm),
                 inner = std::abs(backing.stations[1].at_mm);
    const auto height = [&](double at) { return std::sqrt((R - 6) * (R - 6) - at * at); };
    const auto middle_of = [](const Station& station) {
        return *std::min_element(
            station.edge.begin(), station.edge.end(),
            [](const Vec2& a, const Vec2& b) { return std::abs(a.x()) < std::abs(b.x()); });
    };
    EXPECT_NEAR(middle_of(backing.stations[1]).y() - middle_of(backing.stations[0]).y(),
                height(inner) - height(outer), 0.05);
    // Left and right of the datum, the same card.
    EXPECT_NEAR(middle_of(backing.stations[0]).y(), middle_of(backing.stations[3]).y(), 0.02);
    EXPECT_NE(backing.stations[0].name.find("left"), std::string::npos);
    EXPECT_NE(backing.stations[3].name.find("right"), std::string::npos);
}

TEST(BackHole, OneThatStaysHasToPassItsHole) {
    // Closed form (SOURCES.md section 12). An oval hole of 400 x 120 mm lets a lap of 40 mm
    // through: (120 + 80) / sqrt(1 - (3 / 120)^2) is 200.06 mm.
    job::Job job = hole(job::BackingKind::sheet);
    job.damage.radius.reset();
    job.damage.length = 400.0;
    job.damage.height = 120.0;
    job.backing->stays = true;
    job.backing->thickness = 3.0;
    const BackingPlan oval = backed(job);
    ASSERT_TRUE(oval.passing);
    EXPECT_TRUE(oval.passing->passes);
    EXPECT_NEAR(oval.passing->length_mm, 400.0, 0.2);
    EXPECT_NEAR(oval.passing->width_mm, 120.0, 0.2);
    EXPECT_NEAR(oval.passing->rise_mm, 3.0, 1e-6) << "flat: its thickness alone";
    EXPECT_NEAR(oval.passing->least_length_mm, 200.0 / std::sqrt(1.0 - 9.0 / 14400.0), 0.3);
    EXPECT_EQ(oval.passing->cut_area_mm2, 0.0);

    // A round one is made an oval: the area that is cut away beyond it, by an ellipse's own.
    job.damage.length.reset();
    job.damage.height.reset();
    job.damage.radius = 80.0;
    const BackingPlan round = backed(job);
    ASSERT_TRUE(round.passing);
    EXPECT_FALSE(round.passing->passes);
    EXPECT_NEAR(round.passing->cut_area_mm2,
                0.25 * pi * 160.0 * (round.passing->least_length_mm - 160.0), 20.0);
    EXPECT_NE(words_on(round).find("IT STAYS IN THE HULL"), std::string::npos);

    job.backing->access = job::Access::both_sides;
    EXPECT_FALSE(backed(job).passing) << "it goes in from the other side";
}

TEST(BackHole, PlywoodIsPreformedBelowTheRadiusThatItBendsTo) {
    // FAA AC 43.13-1B table 1-2: 3.2 mm bends to 305 mm cold, 4.8 mm to 533.
    job::Job job = hole(job::BackingKind::sheet);
    job.backing->thickness = 3.2;
    const hull::Hull hull = cylinder(450.0);
    EXPECT_FALSE(backed(job, hull).preformed);
    job.backing->thickness = 4.8;
    EXPECT_TRUE(backed(job, hull).preformed);
}

}  // namespace
}  // namespace tearline::plan

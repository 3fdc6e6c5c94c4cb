#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/support/cad_models.h"
#include "tests/support/mesh_files.h"
#include "tests/support/planned.h"
#include "tests/support/slice.h"

/// Girth lost and gained at depth, over sharp creases and over a small radius, on whole plans
/// (SOURCES.md section 6, "Creases" and "Cylinder and cone"; bar: 0.1 mm).
namespace tearline::girth_test {
namespace {

using std::numbers::pi;
constexpr double bar = 0.1;

/// One mat whose mid-plane lies `lay` under the base surface, its edge 12.6 mm outside the damage.
std::string one_deep_ply(double lay) {
    return "depth = " + std::to_string(lay + 0.5 * 1.05078125) +
           "\n[scarf]\nratio = 12\n[layup]\nstack = [\"mat 450\"]\ncover = []\n";
}

std::string on_the_keel(const std::string& side, double lay) {
    return "[hull]\nmodel = \"keel.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nsurface = \"" + side +
           "\"\noutward = \"as modelled\"\n[damage]\ncentre = [0, 0, 0]\nradius = 100\nside = \"" +
           side + "\"\n" + one_deep_ply(lay);
}

struct Extent {
    double low, high;
    [[nodiscard]] double height() const { return high - low; }
};

/// Across the keel.
Extent across(const Loop2& loop) {
    const auto [low, high] = std::minmax_element(
        loop.begin(), loop.end(), [](const Vec2& a, const Vec2& b) { return a.y() < b.y(); });
    return {low->y(), high->y()};
}

/// Largest error of an edge that was a circle of `radius` before `moved` millimetres were taken
/// out along the middle line (negative: put in); points on that line itself may run along it.
double moved_circle_error(const Loop2& loop, double radius, double moved) {
    // The datum may be any point of an arc that opened under the middle.
    const double middle = 0.5 * (across(loop).low + across(loop).high);
    double worst = 0.0;
    for (const Vec2& p : test::with_middles(loop)) {
        const double y = std::abs(p.y() - middle) + 0.5 * moved;
        if (std::abs(p.y() - middle) < 0.05) continue;  // along the ridge
        if (moved < 0.0 && y < 0.0) {                   // on the arc that opened
            worst = std::max(worst, std::abs(std::abs(p.x()) - radius));
            continue;
        }
        worst = std::max(worst, std::abs(std::hypot(p.x(), y) - radius));
    }
    return worst;
}

class Keel : public testing::Test {
protected:
    Keel() { test::write_keel(pi / 4, folder_.write("keel", "")); }
    Plan planned(const std::string& side, double lay) const {
        return test::planned(on_the_keel(side, lay), folder_.write("keel", "").parent_path());
    }
    test::Folder folder_;
};

TEST_F(Keel, LosesTwiceTheDepthTimesTheTangentOfHalfTheTurn) {
    // 45 degrees, 5.5 mm: 4.556 mm (derived, SOURCES.md section 6).
    const Plan plan = planned("outside", 5.5);
    const templates::LaidPly& ply = plan.plies.at(0);
    const Loop2 net = test::bow_to_the_right(ply.pieces.at(0).outline.net.outer);
    const double radius = test::disc_radius(plan, ply);
    EXPECT_NEAR(2.0 * radius - across(net).height(), 4.556, bar);
    EXPECT_LE(moved_circle_error(net, radius, 4.556), bar);
    EXPECT_LE(ply.pieces[0].piece.strain_max, 1e-4);
}

TEST_F(Keel, GainsTheDepthTimesTheTurnFromInside) {
    const Plan plan = planned("inside", 5.5);
    const templates::LaidPly& ply = plan.plies.at(0);
    const Loop2 net = test::bow_to_the_right(ply.pieces.at(0).outline.net.outer);
    const double radius = test::disc_radius(plan, ply), gained = 5.5 * pi / 4;
    EXPECT_NEAR(across(net).height() - 2.0 * radius, gained, bar);
    EXPECT_LE(moved_circle_error(net, radius, -gained), bar);
    EXPECT_LE(ply.pieces[0].piece.strain_max, 1e-4);
}

struct Section {
    test::Girth base, lay;
    double flat;  ///< [mm] length of the same line on the template
};

/// A ply cut by the plane x = at on its own surface, and what was under it on the base.
Section cut(const templates::LaidPly& ply, double at, double sharp) {
    const pieces::Piece& piece = ply.pieces.at(0).piece;
    const auto& position = piece.lay.position;
    const auto& triangle = piece.lay.triangle;
    const auto flat = test::section(position, piece.flat, triangle, at);
    double length = 0.0;
    for (std::size_t i = 0; i + 1 < flat.size(); ++i) length += (flat[i + 1] - flat[i]).norm();
    return {test::girth(test::section(piece.base, piece.base, triangle, at), sharp),
            test::girth(test::section(position, position, triangle, at), sharp), length};
}

/// The plane in which the ply is widest: there its ends do not move when it slides along x.
double widest(const templates::LaidPly& ply) {
    const auto& base = ply.pieces.at(0).piece.base;
    double low = 1e9, high = -1e9, best = 0.0, at = 0.0;
    for (const Vec3& p : base) low = std::min(low, p.x()), high = std::max(high, p.x());
    for (int i = 10; i < 40; ++i) {
        const double x = low + (high - low) * (i + 0.3) / 50;
        const double length = cut(ply, x, 10.0).base.length;
        if (length > best) best = length, at = x;
    }
    return at;
}

std::string hull_job(const std::string& name, const std::string& side, double lay) {
    std::string text = test::sample_text(name);
    text = text.substr(0, text.find("depth ="));
    return text + "side = \"" + side + "\"\n" + one_deep_ply(lay);
}

TEST(BilgeReference, OfFortyMillimetresTakesClothByDepthTimesTurn) {
    // A ply d below an outside radius R spans (R - d) times the turning angle (SOURCES.md section
    // 6): its girth is shorter than the base's by d times the turn, here some 75 degrees.
    for (const double lay : {1.5, 4.5}) {
        const Plan plan = test::planned(hull_job("sandpiper", "outside", lay));
        const templates::LaidPly& ply = plan.plies.at(0);
        const Section s = cut(ply, widest(ply), 10.0);
        EXPECT_GT(s.base.turn, 1.0);
        EXPECT_NEAR(s.base.length - s.lay.length, lay * s.base.turn, bar) << lay;
        EXPECT_NEAR(s.flat / s.lay.length, 1.0, ply.pieces[0].piece.strain_max) << lay;
    }
}

TEST(BilgeReference, FromInsideTheSkinTakesMoreCloth) {
    const Plan plan = test::planned(hull_job("sandpiper", "inside", 3.0));
    const templates::LaidPly& ply = plan.plies.at(0);
    const Section s = cut(ply, widest(ply), 10.0);
    EXPECT_GT(s.base.turn, 1.0);
    EXPECT_NEAR(s.lay.length - s.base.length, 3.0 * s.base.turn, bar);
}

TEST(ChineReference, OfTheCurlewLosesGirthFromOutside) {
    const double lay = 5.5;
    const Plan plan = test::planned(hull_job("curlew", "outside", lay));
    const templates::LaidPly& ply = plan.plies.at(0);
    const Section s = cut(ply, widest(ply), 0.35);
    EXPECT_GT(s.base.corner, 0.6);
    const double lost = 2.0 * lay * std::tan(0.5 * s.base.corner) + lay * s.base.turn;
    EXPECT_NEAR(s.base.length - s.lay.length, lost, bar);
    EXPECT_NEAR(s.flat / s.lay.length, 1.0, ply.pieces[0].piece.strain_max);
}

TEST(ChineReference, OfTheCurlewGainsGirthFromInside) {
    const double lay = 5.5;
    const Plan plan = test::planned(hull_job("curlew", "inside", lay));
    const templates::LaidPly& ply = plan.plies.at(0);
    const Section s = cut(ply, widest(ply), 0.35);
    EXPECT_GT(s.base.corner, 0.6);
    const double gained = lay * s.base.corner + lay * s.base.turn;
    EXPECT_NEAR(s.lay.length - s.base.length, gained, bar);
}

}  // namespace
}  // namespace tearline::girth_test

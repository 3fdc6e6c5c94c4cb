#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/hull/read_hull.h"
#include "core/patch/build_patch.h"
#include "tests/support/cad_models.h"
#include "tests/support/mesh_files.h"
#include "tests/support/planned.h"

/// Whole plans of plies that go right round a tube against closed forms (DEFINITIONS.md, Tubes).
namespace tearline::round_tube_test {
namespace {

using std::numbers::pi;
// Bars: areas within 0.05 % (STEP); a line within 0.1 mm.
constexpr double area_bar = 5e-4, line_bar = 0.1;

std::string on_tube(const std::string& damage, const std::string& ply,
                    const std::string& fabrics = "") {
    return "[hull]\nmodel = \"tube.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\noutward = \"as "
           "modelled\"\nskin = \"12 mm\"\nmirror = false\n[damage]\ndepth = 4\n" +
           damage + "\n[layup]\nstack = [\"" + ply + "\", \"" + ply + "\", \"" + ply + "\", \"" +
           ply + "\"]\ncover = [\"mat 300\"]\n" + fabrics;
}

Plan on_tube_of(const test::Folder& folder, double radius, const std::string& job) {
    const auto stem = folder.write("tube", "");
    test::write_tube(radius, 800.0, stem);
    return test::planned(job, stem.parent_path().string());
}

/// Area of a disc about a place of a cylinder unrolled, as far as half way round to either side.
double round_area(double reach, double girth) {
    const double half = std::min(0.5 * girth, reach);
    return 2.0 * (half * std::sqrt(reach * reach - half * half) +
                  reach * reach * std::asin(half / reach));
}

TEST(RoundTube, DevelopedLengthIsTheGirthOfTheMidPlaneAndItsLap) {
    const test::Folder folder;
    const double R = 60.0, girth = 2.0 * pi * R;
    for (const bool woven : {false, true}) {
        const Plan plan = on_tube_of(
            folder, R,
            on_tube("centre = [0, 0, -60]\nradius = 110\n[scarf]\nratio = 28",
                    woven ? "cloth" : "mat 450",
                    woven ? "[[fabric]]\nname = \"cloth\"\nkind = \"woven\"\nweight = \"1000 "
                            "g/m2\"\nshear_limit = 45\n"
                          : ""));
        int round = 0;
        for (const templates::LaidPly& ply : plan.plies) {
            if (ply.cover) continue;
            const double reach = 110.0 + ply.edge_offset_mm, at_depth = R - ply.lay_depth_mm;
            EXPECT_NEAR(ply.surface_area_mm2 / (round_area(reach, girth) * at_depth / R), 1.0,
                        area_bar)
                << ply.number;
            if (reach < 0.5 * girth) continue;
            ++round;
            ASSERT_EQ(ply.pieces.size(), 1u);
            const templates::Template& outline = ply.pieces[0].outline;
            // A bottom's paper has the bow on top: round is across it, here through the middle.
            const auto across = [](const Loop2& loop) {
                double low = 0.0, high = 0.0;
                for (std::size_t i = 0; i < loop.size(); ++i) {
                    const Vec2 &a = loop[i], &b = loop[(i + 1) % loop.size()];
                    if ((a.y() > 0.0) == (b.y() > 0.0)) continue;
                    const double x = a.x() + a.y() / (a.y() - b.y()) * (b.x() - a.x());
                    low = std::min(low, x);
                    high = std::max(high, x);
                }
                return high - low;
            };
            EXPECT_NEAR(across(outline.net.outer), 2.0 * pi * at_depth, line_bar) << ply.number;
            // Both of its ends are marked, each a run at one end of that length.
            std::vector<double> joints;
            for (const templates::Mark& mark : outline.marks)
                if (const auto* joint = std::get_if<templates::Joint>(&mark))
                    joints.push_back(0.5 * (joint->run.front() + joint->run.back()).x());
            ASSERT_EQ(joints.size(), 2u) << ply.number;
            EXPECT_NEAR(std::abs(joints[0] - joints[1]), 2.0 * pi * at_depth, line_bar);
            if (woven) {
                // A lap of 50 mm.
                EXPECT_NEAR(across(outline.cut->outer), 2.0 * pi * at_depth + 50.0, line_bar)
                    << ply.number;
            }
        }
        EXPECT_GE(round, 2);
        EXPECT_NEAR(plan.place.areas.damage_mm2 / (pi * 110.0 * 110.0), 1.0, area_bar);
    }
}

TEST(RoundTube, JointsOfSuccessivePliesLieAQuarterApartAndOffTheDamage) {
    const test::Folder folder;
    const double R = 60.0;
    const Plan plan = on_tube_of(
        folder, R, on_tube("centre = [0, 0, -60]\nradius = 110\n[scarf]\nratio = 28", "mat 450"));
    std::vector<double> joints;  // degrees round the tube from the damage
    for (const templates::LaidPly& ply : plan.plies) {
        if (110.0 + ply.edge_offset_mm < pi * R) continue;
        // The joint is the only part of the outline that runs along the tube.
        double longest = 0.0, at = 0.0;
        const Loop3& edge = ply.outlines_3d.at(0).outer;
        for (std::size_t i = 0; i < edge.size(); ++i) {
            const Vec3 a = edge[i], b = edge[(i + 1) % edge.size()];
            if (std::abs(b.x() - a.x()) < longest) continue;
            longest = std::abs(b.x() - a.x());
            at = std::atan2(a.y(), -a.z()) * 180.0 / pi;
        }
        joints.push_back(at);
        EXPECT_GT(std::abs(at) / 180.0 * pi * R, 110.0);
    }
    ASSERT_GE(joints.size(), 2u);
    for (std::size_t k = 1; k < joints.size(); ++k)
        EXPECT_NEAR(std::abs(std::remainder(joints[k] - joints[k - 1], 360.0)), 90.0, 0.5);
}

TEST(RoundTube, JointsMoveTogetherWhereTheDamageReachesThem) {
    // By hand: the far side is 188.5 mm off; joints a quarter of the girth apart would lie 141.4 mm
    // from the middle, within the disc of 150; they have room from there on, 50 mm apart at least.
    const test::Folder folder;
    const double R = 60.0, far = pi * R;
    const std::string job = on_tube("centre = [0, 0, -60]\nradius = 150", "mat 450");
    const Plan plan = on_tube_of(folder, R, job);
    std::vector<double> ways;
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::Mark& mark : ply.pieces.at(0).outline.marks)
            if (const auto* joint = std::get_if<templates::Joint>(&mark))
                ways.push_back(std::abs(0.5 * (joint->run.front() + joint->run.back()).x()) * R /
                               (R - ply.lay_depth_mm));
    ASSERT_GE(ways.size(), 4u);
    double least = far;
    for (const double way : ways) least = std::min(least, way);
    EXPECT_GT(least, 150.0);
    EXPECT_LE(least, far - 25.0 + line_bar);
    const auto refused = plan_repair(test::job_of(test::with(job, "radius = 150", "radius = 165"),
                                                  folder.write("x", "").parent_path().string()));
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().message().find("no joint keeps off it"), std::string::npos);
}

TEST(RoundTube, MeetsItselfByAScarfAloneWhateverTheCoversAndTheTubesLength) {
    // Closed form: a disc of 150 leaves 77 mm behind. Its scarf of 50 mm meets itself there, and a
    // cover does; the tube's facets are as long as itself.
    const test::Folder folder;
    const double R = 60.0, girth = 2.0 * pi * R;
    const auto stem = folder.write("tube", "");
    test::write_tube(R, 1000.0, stem);
    for (const char* stack : {"\"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\"",
                              "\"mat 450\", \"roving 600\", \"mat 450\", \"roving 600\""}) {
        const Plan plan = test::planned(
            "[hull]\nmodel = \"tube.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nskin = \"9 mm\"\n"
            "mirror = false\n[damage]\ncentre = [0, 0, 60]\nradius = 150\ndepth = 4.2\n[layup]\n"
            "stack = [" +
                std::string(stack) + "]\ncover = [\"mat 300\"]\n",
            stem.parent_path().string());
        for (const templates::LaidPly& ply : plan.plies) {
            if (ply.cover) continue;
            const double lies_at = (R - ply.lay_depth_mm) / R;
            const double exact = round_area(150.0 + ply.edge_offset_mm, girth) * lies_at;
            EXPECT_NEAR(ply.surface_area_mm2 / exact, 1.0, 2.0 * area_bar) << ply.number;
        }
    }
}

TEST(RoundTube, IsRolledOutHoweverItsFacetsWereDrawn) {
    // Closed form: the cylinder. Facets as long as the tube with their diagonals this way round led
    // flips by Delaunay's rule alone right through it.
    const test::Folder folder;
    const double R = 60.0;
    const auto stem = folder.write("tube", "");
    test::write_drawn_tube(R, 1000.0, stem);
    const auto hull = hull::inspect_hull(stem.string() + ".step", std::nullopt,
                                         hull::UnitFrom::command_line, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message();
    patch::PatchRequest request;
    request.seeds = {{0.0, 0.0, R}};
    request.damage_radius = 150.0;
    request.reach = 145.0;
    request.round = true;
    const auto patch = patch::build_patch(*hull, request);
    ASSERT_TRUE(patch) << patch.error().message();
    for (const auto& t : patch->mesh.triangle) {
        const std::array p{patch->mesh.position[t[0]], patch->mesh.position[t[1]],
                           patch->mesh.position[t[2]]};
        for (const Vec3& at : p) ASSERT_NEAR(std::hypot(at.y(), at.z()), R, 1e-9);
        const Vec3 middle = p[0] + p[1] + p[2];
        const Vec3 out = Vec3(0.0, middle.y(), middle.z()).normalized();
        ASSERT_GT((p[1] - p[0]).cross(p[2] - p[0]).normalized().dot(out), 0.7);
    }
}

TEST(RoundTube, DishOnTheFarSideIsTheDeeperOfBothWaysRound) {
    const test::Folder folder;
    const double R = 60.0, girth = 2.0 * pi * R;
    const Plan plan = on_tube_of(
        folder, R, on_tube("centre = [0, 0, -60]\nradius = 110\n[scarf]\nratio = 28", "mat 450"));
    // The scarf goes right round: 110 + 28 x 4 of 188.5 mm.
    EXPECT_NEAR(plan.place.areas.scarf_mm2 / round_area(222.0, girth), 1.0, area_bar);
    const auto& view = plan.place.dish_view;
    for (std::size_t v = 0; v < view.points.size(); ++v) {
        const Vec3& p = view.points[v];
        const double round = std::abs(std::atan2(p.y(), -p.z())) * R;
        const double out = std::hypot(round, p.x()) - 110.0;
        EXPECT_NEAR(view.depth[v], std::clamp(4.0 - out / 28.0, 0.0, 4.0), 0.02);
    }
}

TEST(RoundTube, OfAConeIsItsWedgeUnrolled) {
    // Second route: the wedge of 360 sin 20 degrees, summed up place by place; at depth d a
    // parallel of radius r has r - d cos 20.
    const double slope = 20.0 * pi / 180.0;
    const std::string job =
        "[hull]\nmodel = \"cone.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nskin = \"12 mm\"\nmirror "
        "= false\n[damage]\ncentre = [CENTRE]\nradius = 150\ndepth = 6\n[scarf]\nratio = 100\n"
        "[layup]\nstack = [\"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\", \"mat "
        "450\"]\ncover = []\n[[fabric]]\nname = \"mat 450\"\nroll_width = \"3000 mm\"\n";
    const double radius = 600.0 * std::sin(slope);  // 600 from the apex along the cone
    const Plan plan = test::planned(test::with(
        job, "CENTRE",
        std::to_string((600.0 - radius) / std::tan(slope)) + ", 0, " + std::to_string(-radius)));
    const double centre = radius / std::sin(slope), least = 100.0 / std::sin(slope),
                 most = 600.0 / std::sin(slope), half = pi * std::sin(slope);
    for (const templates::LaidPly& ply : plan.plies) {
        const double reach = 150.0 + ply.edge_offset_mm;
        double area = 0.0;
        constexpr int steps = 2000;
        for (int i = 0; i < steps; ++i) {
            const double turn = half * (i + 0.5) / steps;
            // Where the ray at this turn lies within reach of the centre.
            const double near = centre * std::cos(turn), off = centre * std::sin(turn);
            if (off >= reach) continue;
            const double arm = std::sqrt(reach * reach - off * off);
            const double from = std::max(least, near - arm), to = std::min(most, near + arm);
            if (to <= from) continue;
            const double lost = ply.lay_depth_mm * std::cos(slope) / std::sin(slope);
            area += 2.0 * half / steps * (0.5 * (to * to - from * from) - lost * (to - from));
        }
        EXPECT_NEAR(ply.surface_area_mm2 / area, 1.0, 2.0 * area_bar) << ply.number;
    }
    EXPECT_TRUE(std::any_of(plan.warnings.begin(), plan.warnings.end(), is<warn::RoundTube>));
}

TEST(RoundTube, GoesOnOverItsFoot) {
    // A wrap whose lower band steps over the joint on to the deck. By hand: a ply comes to itself
    // where it reaches farther than half of the girth, 188.5 mm; its joint lies an eighth of the
    // girth before that, at 141.4 mm, where other plies' edges at that height are 153 mm and more.
    const test::Folder folder;
    const double R = 60.0;
    const auto stem = folder.write("tube", "");
    test::write_foot(R, R, stem);
    const Plan plan = test::planned(
        "[hull]\nmodel = \"tube.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nskin = \"9 mm\"\nmirror "
        "= false\n[damage]\ncentre = [60, 0, 150]\nradius = 140\ndepth = 4\n[scarf]\nratio = "
        "14\n[layup]\nstack = [\"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\"]\ncover = []\n",
        stem.parent_path().string());
    for (const templates::LaidPly& ply : plan.plies) {
        const double reach = 140.0 + ply.edge_offset_mm;
        bool on_deck = false, joint = false;
        for (const Region3& region : ply.outlines_3d)
            for (const Vec3& p : region.outer) {
                on_deck = on_deck || (p.z() < 1e-6 && std::hypot(p.x(), p.y()) > R + 1.0);
                joint = joint || (std::abs(p.z() - 150.0) < 20.0 &&
                                  std::abs(std::atan2(p.y(), p.x())) * R < 150.0);
            }
        EXPECT_EQ(on_deck, reach > 151.0) << ply.number;
        EXPECT_EQ(joint, reach > pi * R) << ply.number;
        // No piece has more than its limit, and none is lost: their areas are the ply's.
        double flat = 0.0;
        for (const templates::LaidPiece& laid : ply.pieces) {
            EXPECT_LE(laid.piece.strain_max, 0.05) << ply.number;
            flat += area(laid.outline.net);
        }
        EXPECT_NEAR(flat / ply.surface_area_mm2, 1.0, 0.02) << ply.number;
    }
}

TEST(RoundTube, IsRefusedWhereTheDamageLeavesNoRoomForJoints) {
    const test::Folder folder;
    const auto stem = folder.write("tube", "");
    test::write_tube(60.0, 800.0, stem);
    const auto plan = plan_repair(test::job_of(
        on_tube("centre = [0, 0, -60]\nradius = 170", "mat 450"), stem.parent_path().string()));
    ASSERT_FALSE(plan);
    EXPECT_EQ(plan.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(plan.error().message().find("round"), std::string::npos) << plan.error().message();
}

}  // namespace
}  // namespace tearline::round_tube_test

#include "core/pieces/relief_cuts.h"

#include <gtest/gtest.h>

#include <numbers>

#include "core/pieces/cut_search.h"
#include "core/pieces/lay_down.h"
#include "core/pieces/make_piece.h"
#include "core/pieces/seams.h"
#include "core/plane/nearest_on_line.h"
#include "tests/support/analytic_patch.h"

namespace tearline::pieces {
namespace {

using std::numbers::pi;
constexpr double sphere_radius = 1200.0, cap_radius = 300.0;

PlyShape cap() {
    static const surface::Patch patch =
        test::analytic_patch(test::sphere_map(sphere_radius), test::within_disc(330), 340, 14);
    PlyShape shape;
    shape.patch = &patch;
    shape.depth = [](const Vec2&) { return 0.0; };
    for (int i = 0; i < 240; ++i)
        shape.region.outer.emplace_back(cap_radius * std::cos(2 * pi * i / 240),
                                        cap_radius * std::sin(2 * pi * i / 240));
    shape.fabric.kind = job::FabricKind::mat;
    shape.ply = 1;
    return shape;
}

/// Cuts along meridians, from outside the rim to `end` mm from the pole.
CutLines meridians(int count, double end) {
    CutLines lines;
    for (int k = 0; k < count; ++k) {
        const Vec2 out(std::cos(2 * pi * (k + 0.3) / count), std::sin(2 * pi * (k + 0.3) / count));
        lines.push_back({(cap_radius + 5.0) * out, end * out});
    }
    return lines;
}

Piece with(const CutLines& lines) {
    const auto lay = lay_with_lines(cap(), lines);
    if (!lay) throw std::runtime_error(lay.error().message());
    auto piece = make_piece(*lay, "1A", lines);
    if (!piece) throw std::runtime_error(piece.error().message());
    return std::move(*piece);
}

TEST(ReliefCuts, BringTheStrainDownAsPredictedForSectors) {
    // A long narrow strip of half-width b on Gauss curvature K lies flat with the strain
    // K (b^2/6 - y^2/2) along it (derived: no force across, none along in sum), whose square has
    // the mean K^2 b^4 / 45. A sector of half-angle B is such a strip, b = B r: over the cap of
    // radius a the strain's rms is K a^2 B^2 / sqrt(270), where the uncut cap has
    // K a^2 / sqrt(384) (SOURCES.md section 6, with the half of strain.rms).
    const double bend = cap_radius * cap_radius / (sphere_radius * sphere_radius);
    EXPECT_NEAR(with({}).strain_rms, bend / std::sqrt(384.0), 0.02 * bend / std::sqrt(384.0));
    // The free end at the rim relieves the strip over about its width, so that it falls short by a
    // share that goes with 1 / count: two counts give the limit of narrow sectors.
    const auto measured = [&](int count) {
        const double predicted = bend * std::pow(pi / count, 2) / std::sqrt(270.0);
        return with(meridians(count, 12.0)).strain_rms / predicted;
    };
    const double ten = measured(10), sixteen = measured(16);
    EXPECT_LT(ten, sixteen);
    EXPECT_LT(sixteen, 1.0);
    EXPECT_NEAR((16.0 * sixteen - 10.0 * ten) / 6.0, 1.0, 0.05);
}

TEST(ReliefCuts, OfACapAreDartsThatOpenByWhatTheRimIsShort) {
    // Gauss-Bonnet: the flat sectors turn by 2 pi in all less what the cap holds of curvature, so
    // the darts of a rim of radius a sum to 2 pi (a - R sin(a/R)).
    const int count = 12;
    const Piece piece = with(meridians(count, 12.0));
    ASSERT_EQ(piece.cuts.size(), static_cast<std::size_t>(count));
    double sum = 0.0;
    for (const PieceCut& cut : piece.cuts) {
        EXPECT_GT(cut.opening, 0.0);
        EXPECT_EQ(cut.sides.back()[0], cut.sides.back()[1]) << "the tip is one vertex";
        sum += cut.opening;
    }
    const double missing =
        2.0 * pi * (cap_radius - sphere_radius * std::sin(cap_radius / sphere_radius));
    EXPECT_NEAR(sum / missing, 1.0, 0.1);
}

TEST(CutProposals, PutTheMouthsWhereTheStrainIsAndTheTipsOffTheMiddle) {
    const Piece plain = with({});
    const CutProposals proposals(plain, 0.3 * plain.strain_max);
    const auto lines = proposals.cuts({4, 0.6, 0.0}, [](const Vec2&) { return true; });
    ASSERT_TRUE(lines);
    ASSERT_EQ(lines->size(), 4u);
    // The rim of a cap strains evenly: four mouths a quarter of it apart, tips at 0.4 of the way.
    for (std::size_t k = 0; k < 4; ++k) {
        const Vec2 &a = lines->at(k).front(), &b = lines->at((k + 1) % 4).front();
        EXPECT_NEAR(a.norm(), cap_radius + 5.0, 1.0);
        EXPECT_NEAR(std::abs(a.normalized().dot(b.normalized())), 0.0, 0.15);
        EXPECT_NEAR(lines->at(k).back().norm(), 0.4 * cap_radius, 0.02 * cap_radius);
    }
}

TEST(CutProposals, NeverEndWhereACutMayNot) {
    const Piece plain = with({});
    const CutProposals proposals(plain, 0.3 * plain.strain_max);
    EXPECT_FALSE(proposals.cuts({3, 0.6, 0.0}, [](const Vec2&) { return false; }));
    const auto outside = [](const Vec2& tip) { return tip.norm() > 0.45 * cap_radius; };
    const auto lines = proposals.cuts({3, 0.6, 0.0}, outside);
    ASSERT_TRUE(lines);
    for (const auto& line : *lines) EXPECT_TRUE(outside(line.back()));
}

TEST(BestCuts, TryOnTheMeshAsItIsWhatTheCutMeshThenShows) {
    // Second route: the same cuts with a mesh made for them.
    const PlyShape shape = cap();
    const auto whole = lay_with_lines(shape, {});
    ASSERT_TRUE(whole);
    const auto plain = make_piece(*whole, "1A");
    ASSERT_TRUE(plain);
    const CutProposals proposals(*plain, 0.5 * plain->strain_max);
    const CutRules rules{0.6 * plain->strain_max, [](const Vec2&) { return true; },
                         [](const CutLines&) { return true; },
                         [](const CutLines&) { return true; }};
    const auto trial = best_cuts(proposals, *whole, *plain, rules, 4);
    ASSERT_TRUE(trial);
    EXPECT_LT(trial->strain, plain->strain_max);
    EXPECT_NEAR(with(trial->lines).strain_max / trial->strain, 1.0, 0.15);
}

TEST(Seams, PartARegionWithoutLoss) {
    Region2 ellipse;
    for (int i = 0; i < 360; ++i)
        ellipse.outer.emplace_back(10.0 + 200.0 * std::cos(pi * i / 180),
                                   100.0 * std::sin(pi * i / 180));
    const Extent extent = extent_of(ellipse);
    EXPECT_NEAR((extent.centre - Vec2(10.0, 0.0)).norm(), 0.0, 1e-9);
    EXPECT_NEAR(std::sin(extent.angle), 0.0, 1e-9);
    EXPECT_NEAR(extent.half_long, 200.0, 1e-6);
    EXPECT_NEAR(extent.half_wide, 100.0, 1e-6);
    const Seams seams = even_seams(ellipse, extent.angle, {3, 2}, {0.1, -0.2});
    double sum = 0.0;
    for (const Region2& part : divided(ellipse, seams)) sum += area(part);
    EXPECT_NEAR(sum, area(ellipse), 1e-3);
    // By hand: chords of the ellipse at x = -46.7 + 10 and 86.7 + 10, and at y = -20.
    const auto lines = seam_lines(ellipse, seams);
    ASSERT_EQ(lines.size(), 3u);
    const double x = 200.0 / 3.0 * 1.1 * 2.0 - 200.0;
    EXPECT_NEAR((lines[0][1] - lines[0][0]).norm(), 200.0 * std::sqrt(1.0 - x * x / 40000.0), 0.1);
    EXPECT_NEAR((lines[2][1] - lines[2][0]).norm(), 400.0 * std::sqrt(1.0 - 0.04), 0.1);
}

TEST(Seams, MeasureHowNearTheyRunAlongsideEachOther) {
    const CutLines one{{{0.0, 0.0}, {100.0, 0.0}}}, beside{{{20.0, 60.0}, {120.0, 60.0}}},
        across{{{50.0, -50.0}, {50.0, 50.0}}};
    EXPECT_NEAR(distance_alongside(one, beside), 60.0, 1e-9);
    EXPECT_TRUE(std::isinf(distance_alongside(one, across)));
    EXPECT_NEAR(plane::distance_to_lines(beside, {0.0, 60.0}), 20.0, 1e-9);
}

}  // namespace
}  // namespace tearline::pieces

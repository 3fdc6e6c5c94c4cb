#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/pieces/seam_runs.h"
#include "tests/support/loops.h"
#include "tests/support/planned.h"

/// Plies too wide for their roll, split by the whole program: the pieces cover the ply, lap as
/// asked and fit the roll.
namespace tearline::parted_plies_test {
namespace {

constexpr double degrees = 180.0 / std::numbers::pi;

/// A ply of 600 mm across on the flat panel, along an axis, from a roll of its own.
std::string panel_job(const std::string& fabric, double axis) {
    std::string text = test::sample_text("panel");
    text = test::with(text, "radius = \"100 mm\"", "radius = 288");
    text = test::with(text, "depth = \"8.40625 mm\"", "depth = 1.0");
    text = test::with(
        text, "fill = \"mat 450\"",
        "stack = [{fabric = \"cloth\", axis = " + std::to_string(axis) + "}]\ncover = []");
    return text.substr(0, text.find("[[fabric]]")) + "[[fabric]]\nname = \"cloth\"\n" + fabric;
}

/// A flat piece laid on the hull: turned and moved so that its vertices meet their places in the
/// frame of the damage. Exact where the hull is flat.
class OnTheHull {
public:
    OnTheHull(const pieces::Piece& piece, const damage::FlatFrame& frame) {
        const auto hull = [&](std::size_t v) {
            const Vec3 d = piece.base[v] - frame.middle;
            return Vec2(d.dot(frame.x), d.dot(frame.y));
        };
        std::size_t far = 0;
        for (std::size_t v = 0; v < piece.flat.size(); ++v)
            if ((piece.flat[v] - piece.flat[0]).norm() > (piece.flat[far] - piece.flat[0]).norm())
                far = v;
        const Vec2 flat = piece.flat[far] - piece.flat[0], there = hull(far) - hull(0);
        turn_ = std::atan2(cross2(flat, there), flat.dot(there));
        move_ = hull(0) - turned(piece.flat[0]);
        for (std::size_t v = 0; v < piece.flat.size(); ++v)
            EXPECT_LE((turned(piece.flat[v]) + move_ - hull(v)).norm(), 0.02) << piece.id;
    }
    [[nodiscard]] Loop2 loop(Loop2 flat) const {
        for (Vec2& p : flat) p = turned(p) + move_;
        return flat;
    }

private:
    [[nodiscard]] Vec2 turned(const Vec2& p) const {
        return std::cos(turn_) * p + std::sin(turn_) * turned_left(p);
    }
    double turn_ = 0.0;
    Vec2 move_{0, 0};
};

/// Cut or torn outlines and net lines of a ply's pieces, side by side in the frame of the damage.
struct Laid {
    std::vector<Loop2> cloth, net;
};

Laid laid(const Plan& plan) {
    Laid out;
    for (const templates::LaidPiece& piece : plan.plies.at(0).pieces) {
        const OnTheHull hull(piece.piece, plan.place.frame);
        out.cloth.push_back(hull.loop(piece.outline.parting_region().outer));
        out.net.push_back(hull.loop(piece.outline.net.outer));
    }
    return out;
}

long count_over(const std::vector<Loop2>& loops, const Vec2& p) {
    return std::count_if(loops.begin(), loops.end(),
                         [&](const Loop2& loop) { return contains(loop, p); });
}

/// Distance to the nearest edge of any net line other than the ply's own rim [mm].
double to_seam(const std::vector<Loop2>& nets, const Vec2& p, double rim) {
    double least = 1e300;
    for (const Loop2& net : nets)
        for (std::size_t i = 0; i < net.size(); ++i) {
            const Vec2 &a = net[i], &b = net[(i + 1) % net.size()];
            if ((0.5 * (a + b)).norm() > rim - 0.1) continue;
            const double s = std::clamp((p - a).dot(b - a) / (b - a).squaredNorm(), 0.0, 1.0);
            least = std::min(least, (p - a - s * (b - a)).norm());
        }
    return least;
}

/// By counting layers on a grid: one everywhere inside the ply, more just beside the seams, and
/// none outside the ply but `beyond`. A lap's end follows the rim to half a millimetre.
void expect_covered(const Plan& plan, double lap_half, double beyond) {
    const Laid pieces = laid(plan);
    const double rim = test::disc_radius(plan, plan.plies.at(0));
    for (double x = -rim - 60.0; x <= rim + 60.0; x += 3.7)
        for (double y = -rim - 60.0; y <= rim + 60.0; y += 3.7) {
            const Vec2 p(x, y);
            const long layers = count_over(pieces.cloth, p);
            if (p.norm() > rim + beyond + 0.5) {
                EXPECT_EQ(layers, 0) << "outside the ply at " << p.transpose();
                continue;
            }
            if (p.norm() > rim - 0.5) continue;
            const double seam = to_seam(pieces.net, p, rim);
            EXPECT_EQ(count_over(pieces.net, p), seam > 0.1 ? 1 : count_over(pieces.net, p));
            EXPECT_GE(layers, seam < lap_half - 0.1 ? 2 : 1) << "at " << p.transpose();
            if (seam > lap_half * 1.5) {
                EXPECT_EQ(layers, 1) << "at " << p.transpose();
            }
        }
}

/// Every piece lies on its roll by its place there, with its axis along the roll.
void expect_on_the_roll(const Plan& plan, bool along_axis) {
    ASSERT_EQ(plan.rolls.size(), 1u);
    const layout::Roll& roll = plan.rolls[0];
    const auto& pieces = plan.plies.at(0).pieces;
    ASSERT_EQ(roll.placed.size(), pieces.size());
    for (const layout::Placement& place : roll.placed) {
        const auto piece =
            std::find_if(pieces.begin(), pieces.end(),
                         [&](const templates::LaidPiece& p) { return p.piece.id == place.piece; });
        ASSERT_NE(piece, pieces.end());
        const double a = place.turn_deg / degrees;
        for (const Vec2& p : piece->outline.parting_region().outer) {
            const double across = std::sin(a) * p.x() + std::cos(a) * p.y() + place.y_mm;
            EXPECT_GE(across, -1e-6) << place.piece;
            EXPECT_LE(across, roll.width_mm + 1e-6) << place.piece;
        }
        if (along_axis) {
            EXPECT_NEAR(std::remainder(place.turn_deg + piece->outline.warp_degrees, 180.0), 0.0,
                        1e-6);
        }
    }
}

TEST(PartedPlyReference, WovenPiecesCoverThePlyAndLapAsAsked) {
    // Rolls of 500 and 280 mm: two and three strips, laps of 50 and 30 mm.
    for (const auto& [width, lap, strips] : {std::tuple{500, 50, 2u}, std::tuple{280, 30, 3u}}) {
        const Plan plan = test::planned(
            panel_job("kind = \"woven\"\nweight = \"600 g/m2\"\nthickness = 2.0\nroll_width = " +
                          std::to_string(width) + "\nlap = " + std::to_string(lap),
                      20.0));
        EXPECT_EQ(plan.plies.at(0).pieces.size(), strips);
        expect_covered(plan, 0.5 * lap, 0.0);
        expect_on_the_roll(plan, true);
    }
}

TEST(PartedPlyReference, TornPiecesOfMatCoverThePlyAndLapByTheirBands) {
    const Plan plan = test::planned(
        panel_job("kind = \"mat\"\nweight = \"450 g/m2\"\nthickness = 2.0\nroll_width = 400\n"
                  "tear_margin = 25",
                  0.0));
    EXPECT_EQ(plan.plies.at(0).pieces.size(), 2u);
    expect_covered(plan, 25.0, 25.0);
    expect_on_the_roll(plan, false);
}

TEST(PartedPlyReference, ClothOverAChineIsPartedWithoutLossAndLapsAlongItsSeams) {
    // Cloth from a roll of 420 mm on the Curlew's chine: what the flat panel shows by counting
    // layers is here shown beside the seams of each flat piece.
    std::string text = test::with(test::sample_text("curlew"), "fill = \"mat 450\"",
                                  "fill = {fabric = \"roving 600\", axis = 30}");
    text += "\n[[fabric]]\nname = \"roving 600\"\nroll_width = 420\nlap = 60\n";
    const Plan plan = test::planned(text);
    int parted = 0;
    for (const templates::LaidPly& ply : plan.plies) {
        if (ply.kind != job::FabricKind::woven || ply.pieces.size() < 2) continue;
        ++parted;
        double area = 0.0;
        for (const templates::LaidPiece& piece : ply.pieces) {
            // Sheared cloth is a little more than the surface it covers.
            area += signed_area(piece.outline.net.outer);
            const Loop2& cut = piece.outline.cut->outer;
            for (const auto& run : pieces::seam_runs(piece.piece))
                for (std::size_t i = 0; i + 1 < run.size(); ++i) {
                    const auto at = [&](std::size_t k) {
                        return piece.piece.flat[static_cast<std::size_t>(run[k])];
                    };
                    const Vec2 out = -turned_left((at(i + 1) - at(i)).normalized());
                    const Vec2 middle = 0.5 * (at(i) + at(i + 1));
                    // Where the ply narrows, its edge cuts the lap's end off.
                    if (std::min((middle - at(0)).norm(), (middle - at(run.size() - 1)).norm()) <
                        60.0)
                        continue;
                    EXPECT_TRUE(contains(cut, middle + 29.5 * out)) << piece.piece.id;
                    EXPECT_FALSE(contains(cut, middle + 30.5 * out)) << piece.piece.id;
                }
            EXPECT_EQ(std::count_if(plan.warnings.begin(), plan.warnings.end(),
                                    [](const Warning& w) { return w.code() == "wider-than-roll"; }),
                      0);
        }
        EXPECT_GE(area / ply.surface_area_mm2, 1.0 - 1e-3) << ply.number;
        EXPECT_LE(area / ply.surface_area_mm2, 1.02) << ply.number;
    }
    EXPECT_GT(parted, 3);
}

}  // namespace
}  // namespace tearline::parted_plies_test

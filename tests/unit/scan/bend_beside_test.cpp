#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "core/scan/scanned_hull.h"
#include "tests/support/scanned_shapes.h"

namespace tearline::scan::bend_beside_test {
namespace {

/// Two planes and an arc between them, along x; what is looked at lies on the first.
struct BendShape {
    double degrees = 90.0;  ///< that the hull turns
    double radius = 40.0;   ///< [mm]
    bool hollow = false;    ///< bends towards the person

    [[nodiscard]] double turn() const { return degrees * std::numbers::pi / 180.0; }
    /// A place `along` the bend and `away` from where it begins, past it for more than nought.
    [[nodiscard]] Vec3 at(double along, double away, double out) const {
        const double round = std::clamp(away / radius, 0.0, turn());
        const Vec2 normal(std::sin(round), std::cos(round)), way(normal.y(), -normal.x());
        const double straight = away < 0.0 ? away : std::max(0.0, away - radius * turn());
        const Vec2 p = radius * (normal - Vec2(0, 1)) + straight * way + side() * out * normal;
        return scanned::turned() * Vec3(along, p.x(), side() * p.y());
    }
    /// How far a place lies off it. Closed form.
    [[nodiscard]] double off(const Vec3& place) const {
        const Vec3 p = scanned::turned().transpose() * place;
        if (p.y() <= 0.0) return p.z();
        const Vec2 from(p.y(), side() * p.z() + radius);
        if (std::atan2(from.x(), from.y()) < turn()) return from.norm() - radius;
        return from.dot(Vec2(std::sin(turn()), std::cos(turn()))) - radius;
    }
    /// How far one lies past where the bend begins, seen straight on.
    [[nodiscard]] static double past(const Vec3& place) {
        return (scanned::turned().transpose() * place).y();
    }

private:
    [[nodiscard]] double side() const { return hollow ? -1.0 : 1.0; }
};

struct Kind {
    const char* name;
    job::ScanKind kind;
    double spread, correlation;  ///< [mm]
};

constexpr double hole = 80.0, reach = 150.0;  // [mm]

/// The hull by a scan with a dent, which ends at the outline of the hole.
///
/// @param beside  [mm] from the hole's middle to where the bend begins
Result<hull::Hull> hull_beside(const BendShape& bend, const Kind& kind, double beside) {
    const scanned::Waves noise(1, kind.spread, kind.correlation, 200);
    Scan scan;
    scan.format = "points";
    scan.unit = "mm";
    constexpr double half = 320.0, spacing = 4.0;
    for (double x = -half; x <= half; x += spacing)
        for (double v = -half; v <= half; v += spacing) {
            const double dent = std::hypot(x, v) < hole - 10.0 ? 12.0 : 0.0;
            scan.points.push_back(bend.at(x, v - beside, noise.at({x, v}) - dent));
        }
    job::HullOptions options;
    options.scan = job::HullScan{};
    options.scan->kind = kind.kind;
    options.scan->seen_from = scanned::turned() * Vec3(0, -beside, 2000);
    options.outward = "auto";
    ScanPlace place;
    constexpr int corners = 48;
    for (int i = 0; i < corners; ++i) {
        const double round = 2.0 * std::numbers::pi * i / corners;
        place.outline.push_back(
            bend.at(hole * std::cos(round), hole * std::sin(round) - beside, 0.0));
    }
    place.middle = bend.at(0.0, -beside, 0.0);
    place.reach = reach;
    return scanned_hull(scan, options, job::Side::outside, place);
}

/// How far off a hull lies over all that the repair needs, where that is more than 1 mm and than is
/// told of the scan's noise (k = 2); else nought.
double most_off(const hull::Hull& hull, const BendShape& bend, const Vec3& middle) {
    double most = 0.0;
    for (const Vec3& vertex : hull.vertices) {
        if ((vertex - middle).norm() > hole + reach) continue;
        const double off = std::abs(bend.off(vertex));
        // What is told costs far more than what is off.
        if (off > std::max(1.0, most) &&
            off > 2.0 * hull.scanned->surface->height_error(vertex))
            most = off;
    }
    return most;
}

/// The places that are told.
std::vector<Vec3> told_at(const hull::Scanned& told) {
    std::vector<Vec3> all;
    if (told.bend) all.push_back(told.bend->at);
    if (told.unfollowed) all.push_back(told.unfollowed->at);
    for (const auto* chines : {&told.chines, &told.doubtful})
        for (const hull::Scanned::Chine& chine : *chines) all.push_back(chine.points[1]);
    return all;
}

constexpr Kind light{"light", job::ScanKind::light, 0.1, 4.0};
constexpr Kind photo{"photo", job::ScanKind::photo, 1.0, 8.0};

void followed_or_told(const BendShape& bend, const Kind& kind, double beside) {
    const auto hull = hull_beside(bend, kind, beside);
    const std::string what = std::string(kind.name) + (bend.hollow ? " hollow" : "") + " R " +
                             std::to_string(static_cast<int>(bend.radius)) + " through " +
                             std::to_string(static_cast<int>(bend.degrees)) + ", " +
                             std::to_string(static_cast<int>(beside)) + " mm off: ";
    if (!hull) {
        EXPECT_EQ(hull.error().kind, ErrorKind::no_safe_answer) << what;
        return;
    }
    const double most = most_off(*hull, bend, bend.at(0.0, -beside, 0.0));
    const std::vector<Vec3> told = told_at(*hull->scanned);
    // On the bend, or in the hole beside it.
    const bool there = std::any_of(told.begin(), told.end(), [](const Vec3& place) {
        return BendShape::past(place) > -hole;
    });
    EXPECT_TRUE(most < 1.0 || there) << what << most << " mm";
}

class BendBeside : public testing::TestWithParam<double> {};

TEST_P(BendBeside, OnTheRimAndBesideIsFollowedWithinAMillimetreOrTold) {
    // Closed form of two planes and an arc, 1 mm the bar: along the rim of the hole, and 130 mm from
    // its middle.
    for (const double radius : {20.0, 40.0, 80.0}) {
        followed_or_told({GetParam(), radius, true}, light, hole);
        for (const double beside : {hole, 130.0})
            for (const Kind& kind : {light, photo})
                followed_or_told({GetParam(), radius, false}, kind, beside);
    }
}

INSTANTIATE_TEST_SUITE_P(Turns, BendBeside, testing::Values(30.0, 60.0, 90.0));

TEST(FoundBend, AtTheEndOfWhatTheRepairNeedsIsFollowedOrTold) {
    // As above: 130 mm beside the rim.
    for (const double radius : {20.0, 40.0, 80.0})
        followed_or_told({60.0, radius, false}, light, hole + 130.0);
}

}  // namespace
}  // namespace tearline::scan::bend_beside_test

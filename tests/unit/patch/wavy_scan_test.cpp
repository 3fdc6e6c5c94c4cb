#include "core/patch/wavy_scan.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "core/patch/build_patch.h"
#include "tests/support/mesh_as_read.h"
#include "tests/support/mesh_hulls.h"
#include "tests/support/scanned_shapes.h"

namespace tearline::patch::wavy_scan_test {
namespace {

using Height = std::function<double(double, double)>;

/// A square grid of `cell` over 120 cells each way, lifted to a height.
test::PlainMesh grid_of(double cell, const Height& height) {
    constexpr int cells = 120;
    return test::grid(cells, cells, [&](double u, double v) {
        const double x = cell * cells * (u - 0.5), y = cell * cells * (v - 0.5);
        return Vec3(x, y, height(x, y));
    });
}

std::optional<WavyScan> waves(double cell, const Height& height) {
    const test::PlainMesh mesh = grid_of(cell, height);
    return find_wavy_scan(test::mesh_as_read(mesh.points, mesh.triangles), {0, 0, 0});
}

/// Half a tube of 450 mm radius, bent lengthwise too.
double bilge(double x, double y) {
    return std::sqrt(450.0 * 450.0 - x * x) - 450.0 - y * y / 6000.0;
}
double chine(double x, double y) {
    return -0.4 * std::abs(x) - y * y / 6000.0;
}
/// Two sides and a fillet of 20 mm between them.
double fillet(double x, double) {
    const double reach = 20.0 * std::sin(0.4);
    return std::abs(x) < reach ? std::sqrt(400.0 - x * x) - 20.0 / std::cos(0.4)
                               : -std::tan(0.4) * std::abs(x);
}

Height waving(const Height& of, double spread, double correlation) {
    const scanned::Waves noise(5, spread, correlation, 300);
    return [=](double x, double y) { return of(x, y) + noise.at({x, y}); };
}

TEST(WavyScan, SmoothedNoiseIsSeenOnWhateverItLies) {
    // Spread and correlation against facets: a phone's, photographs', a laser's, each smoothed over
    // four facets or more, so that nothing folds.
    struct Case {
        double cell, spread, correlation;
    };
    for (const Case& c : {Case{5, 3, 24}, Case{2, 1, 8}, Case{2, 0.3, 10}, Case{1, 0.15, 5}})
        for (const Height& of : {Height(bilge), Height(chine), Height(fillet)}) {
            const auto wavy = waves(c.cell, waving(of, c.spread, c.correlation));
            ASSERT_TRUE(wavy) << c.cell << " " << c.spread;
            EXPECT_GT(wavy->height, 0.05 * c.spread);
            EXPECT_LT(wavy->height, 1.5 * c.spread);
        }
}

TEST(WavyScan, ModelsAreFairHoweverFine) {
    for (const double cell : {1.0, 2.0, 5.0})
        for (const Height& of : {Height(bilge), Height(chine), Height(fillet)})
            EXPECT_FALSE(waves(cell, of)) << cell;
    // Planks lapped every 60 mm.
    EXPECT_FALSE(waves(2.0, [](double x, double) { return 6.0 * std::floor(x / 60.0); }));
    // Faceted: the facets of a coarse mesh, cut fine. Most places lie within one.
    EXPECT_FALSE(waves(1.0, [](double x, double y) {
        const double at = std::floor(x / 100.0) * 100.0;
        return bilge(at, y) + (x - at) / 100.0 * (bilge(at + 100.0, y) - bilge(at, y));
    }));
}

TEST(WavyScan, NoSampleIsCalledWavy) {
    test::expect_no_sample(find_wavy_scan);
}

TEST(WavyScan, IsRefusedUnlessItIsSaidToBeExact) {
    const hull::Hull hull = test::hull_of(grid_of(5.0, waving(bilge, 3.0, 24.0)));
    PatchRequest request;
    request.seeds = {{0, 0, 0}};
    request.damage_radius = 60;
    request.reach = 100;
    const auto patch = build_patch(hull, request);
    ASSERT_FALSE(patch);
    EXPECT_EQ(patch.error().kind, ErrorKind::bad_input);
    for (const char* words : {"hull.model: this looks like a scan", "waves", "[hull.scan]"})
        EXPECT_NE(patch.error().message().find(words), std::string::npos)
            << patch.error().message();
    request.exact = true;
    EXPECT_TRUE(build_patch(hull, request));
}

}  // namespace
}  // namespace tearline::patch::wavy_scan_test

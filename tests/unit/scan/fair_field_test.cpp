#include "core/scan/fair_field.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

namespace tearline::scan {
namespace {

/// Heights at every `apart` mm over a square of half side `half`, but for what `hidden` says.
template <class Height, class Hidden>
std::vector<FieldPoint> sampled(double half, double apart, const Height& height,
                                const Hidden& hidden) {
    std::vector<FieldPoint> points;
    for (double u = -half + 0.5 * apart; u < half; u += apart)
        for (double v = -half + 0.5 * apart; v < half; v += apart)
            if (!hidden(Vec2(u, v))) points.push_back({{u, v}, height(Vec2(u, v)), apart * apart});
    return points;
}

const auto nothing_hidden = [](const Vec2&) { return false; };

FairFit fit_of(double half, double length) {
    const FieldGrid grid =
        FieldGrid::over({-half, -half}, {half, half}, length / 10.0);  // as fair_surface draws it
    return {grid, std::vector<double>(static_cast<std::size_t>(grid.cells()), length)};
}

class WaveLaw : public testing::TestWithParam<double> {};

TEST_P(WaveLaw, KeepsWhatTheLawSays) {
    // Closed form: the Fourier transform of the minimum is 1 / (1 + (l / w)^6) of the data's.
    // Within 5 %, far from the rim.
    const double length = 100.0, wave = GetParam();
    const double k = 2.0 * std::numbers::pi / wave;
    const auto points = sampled(
        400.0, 4.0, [&](const Vec2& uv) { return std::cos(k * uv.x()); }, nothing_hidden);
    const FairField field = fit_of(400.0, length).through(points).value();
    double product = 0.0, squares = 0.0;
    for (double u = -wave; u < wave; u += wave / 64.0) {
        product += field.at({u, 7.0}) * std::cos(k * u);
        squares += std::cos(k * u) * std::cos(k * u);
    }
    const double law = 1.0 / (1.0 + std::pow(length / wave, 6));
    EXPECT_NEAR(product / squares, law, 0.05 * law);
}

INSTANTIATE_TEST_SUITE_P(Waves, WaveLaw, testing::Values(80.0, 100.0, 130.0, 200.0),
                         [](const auto& test) {
                             return "mm" + std::to_string(static_cast<int>(test.param));
                         });

TEST(FairField, BridgesAHoleInAParabolaExactly) {
    // Closed form: parabolas have no third derivatives, so the hole costs nothing.
    const auto parabola = [](const Vec2& uv) {
        return 2.0 + 0.01 * uv.x() + 1e-3 * uv.x() * uv.y() - 5e-4 * uv.y() * uv.y();
    };
    const auto points =
        sampled(250.0, 5.0, parabola, [](const Vec2& uv) { return uv.norm() < 150.0; });
    const FairField field = fit_of(250.0, 100.0).through(points).value();
    for (const Vec2& uv : {Vec2(0, 0), Vec2(60, -80), Vec2(-140, 10)})
        EXPECT_NEAR(field.at(uv), parabola(uv), 1e-6);
}

TEST(FairField, BridgesACubicAcrossAHole) {
    // Closed form: between the hole's rims u^3 costs the least of all that meet it there with two
    // derivatives, so a wide hole in it is bridged to the last part in a thousand.
    const auto cubic = [](const Vec2& uv) { return 1e-7 * std::pow(uv.x(), 3); };
    const auto points =
        sampled(300.0, 3.0, cubic, [](const Vec2& uv) { return uv.norm() < 100.0; });
    const FairField field = fit_of(300.0, 60.0).through(points).value();
    for (const Vec2& uv : {Vec2(0, 0), Vec2(60, -40), Vec2(-80, 10)})
        EXPECT_NEAR(field.at(uv), cubic(uv), 2e-3);
}

TEST(FairField, JetsMatchDifferences) {
    // A second route: differences of the field's own values.
    const auto points = sampled(
        200.0, 5.0,
        [](const Vec2& uv) { return std::sin(uv.x() / 60.0) * std::cos(uv.y() / 70.0); },
        nothing_hidden);
    const FairField field = fit_of(200.0, 60.0).through(points).value();
    const Vec2 at(13.0, -42.0);
    const double e = 0.01;
    const Vec2 u(e, 0.0), v(0.0, e);
    const TwoArc::Height jet = field.jet(at);
    EXPECT_NEAR(jet.du, (field.at(at + u) - field.at(at - u)) / (2 * e), 1e-8);
    EXPECT_NEAR(jet.dv, (field.at(at + v) - field.at(at - v)) / (2 * e), 1e-8);
    EXPECT_NEAR(jet.duu, (field.at(at + u) - 2 * field.at(at) + field.at(at - u)) / (e * e), 1e-6);
    EXPECT_NEAR(jet.dvv, (field.at(at + v) - 2 * field.at(at) + field.at(at - v)) / (e * e), 1e-6);
    EXPECT_NEAR(jet.duv,
                (field.at(at + u + v) - field.at(at + u - v) - field.at(at - u + v) +
                 field.at(at - u - v)) /
                    (4 * e * e),
                1e-6);
}

TEST(FairField, LetsNoiseThroughAsTheLawSays) {
    // Closed form: the law's square integrated over all waves is 2 pi / l^2 times
    // int x / (1 + x^6)^2 dx = 2 pi / (9 sqrt 3) = 0.4031: 2.533 / l^2.
    const double length = 100.0;
    const auto points = sampled(
        400.0, 4.0, [](const Vec2&) { return 0.0; }, nothing_hidden);
    const FairField field = fit_of(400.0, length).through(points).value();
    const double law = 2.0 * std::numbers::pi * 2.0 * std::numbers::pi / (9.0 * std::sqrt(3.0)) /
                       (length * length);
    EXPECT_NEAR(field.noise_gain({3.0, 5.0}), law, 0.02 * law);
}

TEST(FairField, PointsAlongALinePinDownNone) {
    std::vector<FieldPoint> points;
    for (double u = -120.0; u <= 120.0; u += 3.0) points.push_back({Vec2(u, 0.0), 0.0, 1.0});
    EXPECT_FALSE(fit_of(150.0, 80.0).through(points));
}

TEST(FairField, DoesNotDependOnTheOrderOfItsPoints) {
    const auto height = [](const Vec2& uv) { return std::sin(uv.x() / 30.0) + uv.y() / 50.0; };
    auto points = sampled(150.0, 5.0, height, nothing_hidden);
    FairFit fit = fit_of(150.0, 80.0);
    const double before = fit.through(points).value().at({10.0, 20.0});
    std::reverse(points.begin(), points.end());
    EXPECT_NEAR(fit.through(points).value().at({10.0, 20.0}), before, 1e-10);
}

TEST(FairField, AFitAfterOthersIsTheFirstOfItsPoints) {
    // The factor of one fit serves the next only where no field holds it any more.
    const auto wave = [](const Vec2& uv) { return std::sin(uv.x() / 30.0) + uv.y() / 50.0; };
    const auto all = sampled(150.0, 5.0, wave, nothing_hidden);
    const auto part = sampled(150.0, 5.0, wave, [](const Vec2& uv) { return uv.norm() < 60.0; });
    const Vec2 place(10.0, 20.0);
    FairFit fit = fit_of(150.0, 80.0);
    const FairField kept = fit.through(all).value();
    const double gain = kept.noise_gain(place);
    EXPECT_GT(fit.through(part).value().noise_gain(place), 2.0 * gain);
    const FairField again = fit.through(part).value();
    const FairField first = fit_of(150.0, 80.0).through(part).value();
    EXPECT_EQ(again.at(place), first.at(place));
    EXPECT_EQ(again.noise_gain(place), first.noise_gain(place));
    EXPECT_EQ(kept.noise_gain(place), gain);
}

}  // namespace
}  // namespace tearline::scan

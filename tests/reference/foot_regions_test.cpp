#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

#include "core/damage/damage_outline.h"
#include "core/hull/read_hull.h"
#include "core/patch/build_patch.h"
#include "core/plies/lay_surface.h"
#include "core/plies/mesh_region.h"
#include "core/plies/net_region.h"
#include "tests/support/cad_models.h"
#include "tests/support/mesh_files.h"

/// Discs over the foot of a tube that stands on a deck, whose joint is a curved crease.
namespace tearline {
namespace {

/// Area within r of a place of the tube h over the deck, at the narrow end of an oval foot [mm2].
///
/// Derived: the tube unrolled is a disc cut by the joint. A ray that crosses the joint s along it,
/// l = sqrt(s^2 + h^2) from the middle, goes on over the deck at the same angle to it, and the deck
/// turns away from it by the joint's own curvature k: rays spread by k + h / l^2, and reach on by
/// r - l.
double area_on_foot(double a, double b, double h, double r) {
    const double half = std::sqrt(r * r - h * h);
    double area = std::numbers::pi * r * r - (r * r * std::acos(h / r) - h * half);
    double s = 0.0;
    const double step = 1e-5;
    for (double u = 0.5 * step;; u += step) {
        const double pace = std::hypot(a * std::sin(u), b * std::cos(u)), ds = pace * step;
        s += ds;
        const double l = std::hypot(s - 0.5 * ds, h), rest = r - l;
        if (!(rest > 0.0)) return area;
        const double bend = a * b / (pace * pace * pace);
        area += 2.0 * ds * (rest * h / l + 0.5 * rest * rest * (bend + h / (l * l)));
    }
}

class Foot {
public:
    Foot(double a, double b, job::Side side) : a_(a), b_(b), side_(side) {
        const auto stem = folder_.write("foot", "");
        test::write_foot(a, b, stem);
        auto hull = hull::inspect_hull(stem.string() + ".step", std::nullopt,
                                       hull::UnitFrom::command_line, side);
        if (!hull) throw std::runtime_error(hull.error().message());
        hull_ = std::move(*hull);
    }

    /// Areas of the regions about a disc, each laid where it is [mm2].
    [[nodiscard]] std::vector<double> areas(double h, double radius,
                                            const std::vector<double>& offsets,
                                            bool round = false) const {
        job::Job job;
        job.hull.bow = {1, 0, 0};
        job.hull.up = {0, 0, 1};
        job.damage.centre = Vec3(a_, 0, h);
        job.damage.radius = radius;
        job.damage.side = job.hull.surface = side_;
        patch::PatchRequest request = patch::patch_request(job, offsets.back() + 50.0);
        request.round = round;
        const auto patch = patch::build_patch(hull_, request);
        if (!patch) throw std::runtime_error(patch.error().message());
        const auto outline = damage::damage_outline(*patch, job.damage, job.hull.bow, job.hull.up);
        if (!outline) throw std::runtime_error(outline.error().message());
        const auto regions = plies::net_regions(*patch, *outline, offsets);
        if (!regions) throw std::runtime_error(regions.error().message());
        std::vector<double> out;
        for (const plies::NetRegion& region : *regions) {
            const auto mesh = plies::mesh_region(*patch, region.chart.at(0));
            if (!mesh) throw std::runtime_error(mesh.error().message());
            const auto lay = plies::lay_surface(
                *patch, *mesh, [](const Vec2&) { return 0.0; }, outline->chart.front());
            if (!lay) throw std::runtime_error(lay.error().message());
            out.push_back(lay->area);
        }
        return out;
    }

    /// Net lines lie within 0.1 mm of the true distance (the bar): so far their area may be off,
    /// and no farther than areas may (STEP).
    void expect_closed_form(double h, double radius, const std::vector<double>& offsets,
                            bool round = false) const {
        constexpr double line_bar = 0.1, area_bar = 5e-4;
        const std::vector<double> got = areas(h, radius, offsets, round);
        for (std::size_t i = 0; i < got.size(); ++i) {
            const double r = radius + offsets[i];
            EXPECT_GT(got[i], area_on_foot(a_, b_, h, r - line_bar)) << h << " " << r;
            EXPECT_LT(got[i], area_on_foot(a_, b_, h, r + line_bar)) << h << " " << r;
            EXPECT_NEAR(got[i] / area_on_foot(a_, b_, h, r), 1.0, area_bar) << h << " " << r;
        }
    }

private:
    double a_, b_;
    job::Side side_;
    test::Folder folder_;
    hull::Hull hull_;
};

TEST(FootReference, DiscsOverAnOvalFootHaveTheAreaOfTheClosedForm) {
    // Where the disc's edge passes the joint its points lie 0.16 mm apart, on the tube and on the
    // deck as far as the mesh's chord, and 0.01 mm in the chart: rays set out from between them.
    const Foot foot(90.0, 50.0, job::Side::outside);
    foot.expect_closed_form(10.0, 30.0, {36.0, 61.0, 81.0});
    foot.expect_closed_form(4.0, 30.0, {36.0, 61.0, 81.0});
}

TEST(FootReference, ARimStraightInTheChartIsNoFold) {
    // The chart of a foot bends: three points of these rims are in order in it and not on the deck.
    const Foot foot(90.0, 50.0, job::Side::inside);
    foot.expect_closed_form(5.0, 20.0, {36.0, 61.0, 78.0, 79.0, 80.0, 81.0});
    foot.expect_closed_form(10.0, 30.0, {36.0, 61.0, 78.0, 79.0, 80.0, 81.0});
}

TEST(FootReference, ADiscOnTheTubeThatReachesTheDeckHasTheAreaOfTheClosedForm) {
    // Its patch goes right round the tube and down on to the deck: no plane shows both nearly true.
    // Farther down than the deck a ray goes on over it; the front half is that of the closed form
    // while the disc keeps off the far side, 188 mm round.
    const Foot foot(60.0, 60.0, job::Side::outside);
    foot.expect_closed_form(120.0, 90.0, {36.0, 61.0}, true);
}

}  // namespace
}  // namespace tearline

#include "core/serve/live_outline.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "core/hull/read_hull.h"
#include "core/job/read_job.h"

namespace tearline::serve {
namespace {

job::Job cylinder_job(double radius) {
    const auto job = job::parse_job(R"(
[hull]
model = "sample-models/cylinder.step"
bow = [1, 0, 0]
up = [0, 0, 1]
[damage]
centre = [1000, 0, -500]
radius = )" + std::to_string(radius) + R"(
depth = 6
[layup]
fill = "mat 450"
[resin]
hardener_percent = 1.25
)",
                                    "job.toml");
    EXPECT_TRUE(job) << job.error().message();
    return *job;
}

/// [mm] of a place on the cylinder of radius 500 along x from the disc's centre, along its surface.
double girth(const Vec3& p) {
    return std::hypot(p.x() - 1000.0, 500.0 * std::atan2(p.y(), -p.z()));
}

TEST(LiveOutline, IsTheDiscAndTheScarfOfTheClosedForm) {
    // A cylinder unrolls: both are circles by arc length, the second a scarf of 12 : 1 farther out.
    const job::Job job = cylinder_job(100.0);
    const auto hull = hull::read_hull(job.hull, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message();
    LiveOutline live;
    const auto draft = live.draw(job, *hull);
    ASSERT_TRUE(draft) << draft.error().message();
    for (const Vec3& p : draft->outline) EXPECT_NEAR(girth(p), 100.0, 0.05);
    ASSERT_EQ(draft->scarf.size(), 1u);
    for (const Vec3& p : draft->scarf.front().outer) EXPECT_NEAR(girth(p), 172.0, 0.1);
    EXPECT_NEAR((draft->frame.normal - Vec3(0, 0, -1)).norm(), 0.0, 1e-6);
}

TEST(LiveOutline, DrawsTheSameOnAPatchThatWasKept) {
    job::Job job = cylinder_job(100.0);
    const auto hull = hull::read_hull(job.hull, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message();
    LiveOutline kept;
    ASSERT_TRUE(kept.draw(job, *hull));
    // Dragged a little, then far beyond what is kept, then grown.
    for (const auto& [along, radius] : {std::pair{8.0, 100.0}, {600.0, 100.0}, {600.0, 140.0}}) {
        job.damage.centre->x() = 1000.0 + along;
        job.damage.radius = radius;
        const auto one = kept.draw(job, *hull);
        LiveOutline fresh;
        const auto other = fresh.draw(job, *hull);
        ASSERT_TRUE(one && other);
        for (const Vec3& p : one->outline) {
            double nearest = 1e9;
            for (std::size_t i = 0; i < other->outline.size(); ++i) {
                const Vec3& a = other->outline[i];
                const Vec3 ab = other->outline[(i + 1) % other->outline.size()] - a;
                const double t = std::clamp((p - a).dot(ab) / ab.squaredNorm(), 0.0, 1.0);
                nearest = std::min(nearest, (p - a - t * ab).norm());
            }
            EXPECT_LT(nearest, 0.05) << along << " " << radius;
        }
    }
}

TEST(LiveOutline, RefusesWhatAPlanWouldRefuse) {
    job::Job job = cylinder_job(100.0);
    const auto hull = hull::read_hull(job.hull, job::Side::outside);
    ASSERT_TRUE(hull) << hull.error().message();
    job.damage.centre = Vec3(1000, 0, -400);  // a hundred millimetres off the hull
    LiveOutline live;
    const auto draft = live.draw(job, *hull);
    ASSERT_FALSE(draft);
    EXPECT_NE(draft.error().message().find("damage.centre"), std::string::npos)
        << draft.error().message();
}

}  // namespace
}  // namespace tearline::serve

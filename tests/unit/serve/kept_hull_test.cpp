#include "core/serve/kept_hull.h"

#include <gtest/gtest.h>

#include <chrono>
#include <filesystem>
#include <functional>

#include "core/job/read_job.h"

namespace tearline::serve {
namespace {

namespace fs = std::filesystem;

/// A job on a copy of a sample model that the test may change.
class KeptHullTest : public testing::Test {
protected:
    void SetUp() override {
        folder_ =
            fs::temp_directory_path() /
            ("tearline-kept-" + std::to_string(::testing::UnitTest::GetInstance()->random_seed()) +
             "-" + ::testing::UnitTest::GetInstance()->current_test_info()->name());
        fs::create_directories(folder_);
        put("panel");
    }
    void TearDown() override { fs::remove_all(folder_); }

    void put(const std::string& model) {
        fs::copy_file(fs::path(TEARLINE_SAMPLES) / (model + ".stl"), folder_ / "hull.stl",
                      fs::copy_options::overwrite_existing);
    }
    [[nodiscard]] job::Job job() const {
        job::Job job;
        job.hull.model = folder_ / "hull.stl";
        job.hull.model_as_given = "hull.stl";
        job.hull.unit = "mm";
        job.hull.outward = "as modelled";
        return job;
    }

    fs::path folder_;
    KeptHull kept_;
};

TEST_F(KeptHullTest, IsReadOnceForTheSameJob) {
    const auto first = kept_.of(job());
    ASSERT_TRUE(first) << first.error().message();
    // A size that no reader makes: what comes back is the hull that was kept.
    const_cast<hull::Hull*>(first->hull)->vertices.resize(1);
    job::Job more = job();
    more.damage.depth = 9.0;  // nothing of how the hull is read
    more.hull.skin = 8.0;
    const auto second = kept_.of(more);
    ASSERT_TRUE(second);
    EXPECT_EQ(second->hull->vertices.size(), 1u);
}

TEST_F(KeptHullTest, IsReadAnewWhenAnythingItIsReadByChanges) {
    const std::vector<std::pair<const char*, std::function<void(job::Job&)>>> changes{
        {"unit", [](job::Job& j) { j.hull.unit = "m"; }},
        {"bow",
         [](job::Job& j) {
             j.hull.bow = {0, 1, 0};
         }},
        {"up",
         [](job::Job& j) {
             j.hull.up = {0, 0, -1};
         }},
        {"outward", [](job::Job& j) { j.hull.outward = "reversed"; }},
        {"mirror", [](job::Job& j) { j.hull.mirror = false; }},
        {"side", [](job::Job& j) { j.damage.side = job::Side::inside; }},
        {"surface", [](job::Job& j) { j.hull.surface = job::Side::inside; }},
    };
    for (const auto& [what, change] : changes) {
        ASSERT_TRUE(kept_.of(job())) << what;
        const std::string before = kept_.name();
        job::Job changed = job();
        change(changed);
        ASSERT_TRUE(kept_.of(changed)) << what;
        EXPECT_NE(kept_.name(), before) << what;
    }
}

TEST_F(KeptHullTest, IsTheNewModelWhenTheFileIsWrittenAnew) {
    const auto panel = kept_.of(job());
    ASSERT_TRUE(panel);
    const std::size_t triangles = panel->hull->triangles.size();
    put("cylinder");
    // Later by more than the coarsest clock of a file system.
    fs::last_write_time(folder_ / "hull.stl",
                        fs::last_write_time(folder_ / "hull.stl") + std::chrono::seconds(3));
    const auto cylinder = kept_.of(job());
    ASSERT_TRUE(cylinder) << cylinder.error().message();
    EXPECT_NE(cylinder->hull->triangles.size(), triangles);
}

TEST_F(KeptHullTest, IsForgottenWhenTheNextCannotBeRead) {
    // Else the old hull would be planned on under the new name.
    ASSERT_TRUE(kept_.of(job()));
    job::Job missing = job();
    missing.hull.model = folder_ / "none.stl";
    ASSERT_FALSE(kept_.of(missing));
    ASSERT_FALSE(kept_.of(missing));
    ASSERT_TRUE(kept_.of(job()));
}

TEST_F(KeptHullTest, OfFiguresIsKnownByAllOfThem) {
    const auto by_hand = [](const std::string& across) {
        auto job = job::parse_job(R"(tearline = 1
[hull]
bow = [1, 0, 0]
up = [0, 0, 1]
skin = "8 mm"
[hull.measured]
batten = "800 mm"
gap_along = "6.5 mm"
gap_across = ")" + across + R"("
[marks.A]
[marks.B]
A = "760 mm"
[damage]
centre = {A = "384 mm", B = "380 mm", side = "up"}
radius = "40 mm"
depth = "4 mm"
[scarf]
ratio = 12
[layup]
fill = "mat 450"
[resin]
kind = "polyester"
hardener_percent = 1.25
)",
                                  "measured.toml");
        if (!job) throw std::runtime_error(job.error().message());
        return std::move(*job);
    };
    ASSERT_TRUE(kept_.of(by_hand("21 mm")));
    const std::string before = kept_.name();
    ASSERT_TRUE(kept_.of(by_hand("21 mm")));
    EXPECT_EQ(kept_.name(), before);
    ASSERT_TRUE(kept_.of(by_hand("22 mm")));
    EXPECT_NE(kept_.name(), before);
}

}  // namespace
}  // namespace tearline::serve

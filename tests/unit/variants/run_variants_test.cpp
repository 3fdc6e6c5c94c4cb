#include "core/variants/run_variants.h"

#include <gtest/gtest.h>

#include "core/base/this_process.h"
#include "tests/support/mesh_files.h"

namespace tearline::variants {
namespace {

class RunVariants : public testing::Test {
protected:
    void SetUp() override {
        if (!has_one_thread()) GTEST_SKIP() << "workers are copies of a process of one thread";
    }
    const test::Folder folder_;
};

TEST_F(RunVariants, SayWhyTheFirstCannotBePlannedWhereNoneCan) {
    const auto file = folder_.write("job.toml", "tearline = 1\n");
    std::vector<std::pair<std::size_t, std::size_t>> told;
    VariantOptions options;
    options.progress = [&](std::size_t done, std::size_t all) { told.emplace_back(done, all); };
    const auto ran =
        run_variants(file, {{"scarf.ratio", {"12", "-3"}}, {"tearline", {"0", "1"}}}, options);
    ASSERT_FALSE(ran);
    EXPECT_EQ(ran.error().kind, ErrorKind::bad_input);
    // The last key's values change first: the first of all has tearline = 0.
    EXPECT_NE(ran.error().message().find("tearline"), std::string::npos) << ran.error().message();
    EXPECT_NE(ran.error().message().find("job.toml"), std::string::npos);
    ASSERT_EQ(told.size(), 4u);
    EXPECT_EQ(told.front(), (std::pair<std::size_t, std::size_t>{1, 4}));
    EXPECT_EQ(told.back(), (std::pair<std::size_t, std::size_t>{4, 4}));
}

/// A flat panel told by a batten, small enough to be planned in no time.
constexpr const char* panel =
    "title = \"shed\"\n[hull]\nbow = [1, 0, 0]\nup = [0, 1, 0]\nskin = 8\n[hull.measured]\n"
    "batten = 400\ngap_along = 0\ngap_across = 0\n[damage]\ncentre = [0, 0]\nradius = 20\n"
    "depth = 1.0\n[layup]\nfill = \"mat 450\"\ncover = []\n";

TEST_F(RunVariants, ReadBackEveryFigureOfEach) {
    const auto file = folder_.write("panel.toml", panel);
    const auto ran = run_variants(file, {{"scarf.ratio", {"12", "20", "-3"}}});
    ASSERT_TRUE(ran) << ran.error().message();
    EXPECT_EQ(ran->title, "shed");
    EXPECT_EQ(ran->keys, std::vector<std::string>{"scarf.ratio"});
    ASSERT_EQ(ran->all.size(), 3u);
    EXPECT_EQ(ran->all[1].values, std::vector<std::string>{"20"});
    EXPECT_FALSE(ran->all[2].status.is_done());
    EXPECT_NE(ran->all[2].message.find("scarf.ratio"), std::string::npos);
    // Closed form: a scarf of ratio R about a disc of 20 mm, 1 mm deep.
    for (std::size_t i = 0; i < 2; ++i) {
        const Variant& one = ran->all[i];
        ASSERT_TRUE(one.status.is_done()) << one.message;
        const double ratio = i == 0 ? 12.0 : 20.0, radius = 20.0 + ratio;
        EXPECT_EQ(one.figure("ratio"), ratio);
        EXPECT_NEAR(*one.figure("ground_area_m2"), std::numbers::pi * radius * radius * 1e-6,
                    2e-3 * std::numbers::pi * radius * radius * 1e-6);
        EXPECT_TRUE(one.figure("hours"));
        double widest = 0.0;
        bool scarf = false;
        for (const Ring& ring : one.rings) {
            EXPECT_GE(ring.ply, -1);
            scarf = scarf || ring.ply == -1;
            if (ring.ply == -1)
                for (const Vec2& p : ring.loops.at(0)) widest = std::max(widest, p.norm());
        }
        EXPECT_TRUE(scarf);
        EXPECT_NEAR(widest, radius, 0.15);
    }
}

}  // namespace
}  // namespace tearline::variants

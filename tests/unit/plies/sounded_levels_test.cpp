#include "core/plies/sounded_levels.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "core/dish/sounded_dish.h"
#include "core/job/read_job.h"
#include "tests/support/loops.h"

namespace tearline::plies::sounded_levels_test {
namespace {

using std::numbers::pi;
constexpr double mat = 1.05078125;  ///< [mm] of mat 450, SOURCES.md section 2

/// A spherical hollow 6 mm deep, 240 mm across.
constexpr double deep = 6.0, rim = 120.0, rho = (rim * rim + deep * deep) / (2.0 * deep);
double radius_at(double depth) {
    const double fall = deep - depth;
    return std::sqrt(2.0 * rho * fall - fall * fall);
}
dish::SoundedDish hollow() {
    std::vector<dish::ChartSounding> all;
    for (const auto& [r, count] :
         std::vector<std::pair<double, int>>{{0, 1}, {30, 6}, {60, 12}, {90, 16}, {110, 20}})
        for (int i = 0; i < count; ++i) {
            const Vec2 at = r * Vec2(std::cos(2 * pi * i / count), std::sin(2 * pi * i / count));
            all.push_back({at, deep - (rho - std::sqrt(rho * rho - r * r)), "a sounding"});
        }
    return std::move(*dish::SoundedDish::through({{test::circle(rim), {}}}, std::move(all)));
}

job::Job job_with(const std::string& layup) {
    auto job = job::parse_job(
        "[hull]\nmodel = \"x.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n[damage]\n"
        "centre = [0, 0, 0]\nradius = 120\ndepth = 6\n[layup]\n" +
            layup,
        "job.toml");
    EXPECT_TRUE(job) << job.error().message();
    return *job;
}

double radius_of(const std::vector<Region2>& regions) {
    double sum = 0.0;
    for (const Region2& region : regions) sum += area(region);
    return std::sqrt(sum / pi);
}

TEST(SoundedLevels, FillHasTheLimitOfAStack) {
    // The hollow is 6 mm deep, and half of the deepest ply must find a place: about 80 of 0.075 mm.
    const job::Job job = job_with(
        "fill = \"mat 450\"\ncover = []\n[[fabric]]\nname = \"mat 450\"\nthickness = 0.075\n");
    job::Job coarse = job;
    coarse.fabrics.at("mat 450").thickness = 1.0;
    auto planned = ply_levels(coarse);
    ASSERT_TRUE(planned) << planned.error().message();
    for (PlyLevel& ply : planned->plies) ply.thickness = 0.075;
    const auto sounded = sounded_levels(job, *planned, hollow(), 0.0);
    ASSERT_FALSE(sounded);
    EXPECT_NE(sounded.error().message().find("more than 60 plies"), std::string::npos)
        << sounded.error().message();
}

TEST(SoundedLevels, PlyLiesWhereHalfOfItFitsUnderThoseOverIt) {
    // Smallest first: ply k of n has n - k plies over it, so half of it fits where the hollow is
    // (n - k + 1/2) t deep. The radius there in closed form.
    const job::Job job = job_with("fill = \"mat 450\"\ncover = []\n");
    const auto planned = ply_levels(job);
    ASSERT_TRUE(planned);
    const auto sounded = sounded_levels(job, *planned, hollow(), 0.0);
    ASSERT_TRUE(sounded) << sounded.error().message();
    // As many as half fit at the deepest place: (n - 1/2) t < 6.
    ASSERT_EQ(sounded->levels.plies.size(), 6u);
    for (std::size_t i = 0; i < 6; ++i) {
        EXPECT_EQ(sounded->levels.plies[i].number, static_cast<int>(i) + 1);
        EXPECT_NEAR(radius_of(sounded->regions[i]),
                    radius_at((6.0 - static_cast<double>(i) - 0.5) * mat), 1.0)
            << i;
    }
}

TEST(SoundedLevels, LargestFirstCountsThePliesBefore) {
    const job::Job job = job_with("fill = \"mat 450\"\ncover = []\norder = \"largest first\"\n");
    const auto planned = ply_levels(job);
    ASSERT_TRUE(planned);
    const auto sounded = sounded_levels(job, *planned, hollow(), 0.0);
    ASSERT_TRUE(sounded) << sounded.error().message();
    for (std::size_t i = 0; i < sounded->regions.size(); ++i)
        EXPECT_NEAR(radius_of(sounded->regions[i]), radius_at((static_cast<double>(i) + 0.5) * mat),
                    1.0)
            << i;
}

TEST(SoundedLevels, KeepsTheNumbersAfterPliesThatAreLaid) {
    job::Job job = job_with(
        "stack = [\"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\"]\n"
        "cover = [\"mat 300\"]\n");
    const auto planned = ply_levels(job);
    ASSERT_TRUE(planned);
    job.after_ply = 2;
    const auto sounded = sounded_levels(job, *planned, hollow(), 0.0);
    ASSERT_TRUE(sounded) << sounded.error().message();
    std::vector<int> numbers;
    for (const PlyLevel& ply : sounded->levels.plies) numbers.push_back(ply.number);
    EXPECT_EQ(numbers, (std::vector<int>{3, 4, 5, 6, 7}));
    EXPECT_TRUE(sounded->levels.plies.back().cover);
}

bool warned(const SoundedLevels& sounded, const std::string& code) {
    for (const Warning& warning : sounded.levels.warnings)
        if (warning.code() == code) return true;
    return false;
}

/// A pan 2.7 mm deep with a pit of 6 mm in its middle, 16 mm across.
dish::SoundedDish pan_with_pit() {
    std::vector<dish::ChartSounding> all{{{0, 0}, 6.0, "the pit"}};
    for (const auto& [r, count] : std::vector<std::pair<double, int>>{{8, 8}, {40, 12}, {75, 16}})
        for (int i = 0; i < count; ++i)
            all.push_back({r * Vec2(std::cos(2 * pi * i / count), std::sin(2 * pi * i / count)),
                           2.7, "the pan"});
    return std::move(*dish::SoundedDish::through({{test::circle(rim), {}}}, std::move(all)));
}

TEST(SoundedLevels, FillHasNoPlyInAPitTooNarrowForCloth) {
    // Mat and roving in turn, 1.05 and 0.78 mm: the lowest of three half fits at 2.35 mm, of four
    // at 3.13 mm, in the pit only. Nobody asked for that one: it is not numbered and then left out,
    // and a mat stays the first on the ground glass.
    const job::Job job = job_with("fill = [\"mat 450\", \"roving 600\"]\ncover = []\n");
    const auto planned = ply_levels(job);
    ASSERT_TRUE(planned);
    const auto sounded = sounded_levels(job, *planned, pan_with_pit(), 0.0);
    ASSERT_TRUE(sounded) << sounded.error().message();
    ASSERT_EQ(sounded->levels.plies.size(), 3u);
    EXPECT_EQ(sounded->levels.plies.front().number, 1);
    EXPECT_EQ(sounded->levels.plies.front().entry.fabric, "mat 450");
    EXPECT_TRUE(warned(*sounded, "pocket-narrow"));
    EXPECT_FALSE(warned(*sounded, "ply-without-place"));
    EXPECT_FALSE(warned(*sounded, "stack-off-depth"));
}

TEST(SoundedLevels, StackHasItsPliesLeftOutByNameThere) {
    // Six mats: the three lowest have no place but the pit. The cover keeps the number after them.
    const job::Job job = job_with(
        "stack = [\"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\"]\n"
        "cover = [\"mat 300\"]\n");
    const auto planned = ply_levels(job);
    ASSERT_TRUE(planned);
    const auto sounded = sounded_levels(job, *planned, pan_with_pit(), 0.0);
    ASSERT_TRUE(sounded) << sounded.error().message();
    std::vector<int> numbers;
    for (const PlyLevel& ply : sounded->levels.plies) numbers.push_back(ply.number);
    EXPECT_EQ(numbers, (std::vector<int>{4, 5, 6, 7}));
    EXPECT_TRUE(warned(*sounded, "ply-without-place"));
}

TEST(SoundedLevels, PliesOverTheDepthAskedForLieWhereTheSoundingsHavePlace) {
    // damage.depth says 2 mm, so that two of four mats would lie over it like covers; the soundings
    // say 6 mm, and a ply of the stack is no cover.
    job::Job job =
        job_with("stack = [\"mat 450\", \"mat 450\", \"mat 450\", \"mat 450\"]\ncover = []\n");
    job.damage.depth = 2.0;
    const auto planned = ply_levels(job);
    ASSERT_TRUE(planned);
    ASSERT_TRUE(planned->plies.back().cover);
    const auto sounded = sounded_levels(job, *planned, hollow(), 0.0);
    ASSERT_TRUE(sounded) << sounded.error().message();
    ASSERT_EQ(sounded->levels.plies.size(), 4u);
    for (const PlyLevel& ply : sounded->levels.plies) {
        EXPECT_FALSE(ply.cover) << ply.number;
        EXPECT_FALSE(sounded->regions[static_cast<std::size_t>(ply.number) - 1].empty());
    }
}

TEST(SoundedLevels, SaysThatAPlyGoesOverANarrowKnoll) {
    // A pan 2.7 mm deep with a knoll in its middle that stands up to the surface, 12 mm wide.
    std::vector<dish::ChartSounding> all{{{0, 0}, 0.0, "the knoll"}};
    for (const auto& [r, count] : std::vector<std::pair<double, int>>{{6, 8}, {40, 12}, {75, 16}})
        for (int i = 0; i < count; ++i)
            all.push_back({r * Vec2(std::cos(2 * pi * i / count), std::sin(2 * pi * i / count)),
                           2.7, "the pan"});
    const auto pan = dish::SoundedDish::through({{test::circle(rim), {}}}, std::move(all));
    ASSERT_TRUE(pan) << pan.error().message();
    const job::Job job = job_with("fill = \"mat 450\"\ncover = []\n");
    const auto planned = ply_levels(job);
    ASSERT_TRUE(planned);
    const auto sounded = sounded_levels(job, *planned, *pan, 0.0);
    ASSERT_TRUE(sounded) << sounded.error().message();
    std::string said;
    for (const Warning& warning : sounded->levels.warnings)
        if (warning.code() == "slivers") said += warning.words().told;
    EXPECT_NE(said.find("1 opening(s) narrower than 25 mm closed"), std::string::npos) << said;
    for (const auto& regions : sounded->regions)
        for (const Region2& region : regions) EXPECT_TRUE(region.holes.empty());
}

}  // namespace
}  // namespace tearline::plies::sounded_levels_test

#include "core/job/sides.h"

#include <gtest/gtest.h>

namespace tearline::job {
namespace {

Job hole() {
    Job job;
    job.hull.skin = 8.0;
    job.damage.through = true;
    job.scarf.from = ScarfFrom::both;
    job.layup.stack = {{"mat 450"}};
    return job;
}

TEST(SidesOf, GivesTheSecondSideItsGrindBack) {
    // 8 mm, share 0.5, inside first: inside 4.0, outside 4.5 mm (worked figure).
    const auto sides = sides_of(hole());
    ASSERT_EQ(sides.size(), 2u);
    EXPECT_EQ(sides[0].damage.side, Side::inside);
    EXPECT_DOUBLE_EQ(sides[0].damage.depth, 4.0);
    EXPECT_EQ(sides[0].part.name, "from inside");
    EXPECT_EQ(sides[1].damage.side, Side::outside);
    EXPECT_DOUBLE_EQ(sides[1].damage.depth, 4.5);
    EXPECT_EQ(sides[1].part.name, "from outside");
}

TEST(SidesOf, CountsTheShareFromOutside) {
    Job job = hole();
    job.scarf.share = 0.75;
    job.scarf.first = Side::outside;
    const auto sides = sides_of(job);
    EXPECT_EQ(sides[0].damage.side, Side::outside);
    EXPECT_DOUBLE_EQ(sides[0].damage.depth, 6.0);  // 0.75 x 8
    EXPECT_DOUBLE_EQ(sides[1].damage.depth, 2.5);  // 0.25 x 8 + 0.5
}

TEST(SidesOf, LaysInsideWhatItsOwnTableSays) {
    Job job = hole();
    job.layup_inside = Layup{};
    job.layup_inside->stack = {{"mat 300"}};
    job.layup_inside->position = Position::overhead;
    const auto sides = sides_of(job);
    EXPECT_EQ(sides[0].layup.stack.front().fabric, "mat 300");
    EXPECT_EQ(sides[0].layup.position, Position::overhead);
    EXPECT_EQ(sides[1].layup.stack.front().fabric, "mat 450");
}

TEST(SidesOf, IsOneFromOneSideAndTheJobItselfWithoutAHole) {
    Job job = hole();
    job.scarf.from = ScarfFrom::outside;
    ASSERT_EQ(sides_of(job).size(), 1u);
    EXPECT_DOUBLE_EQ(sides_of(job)[0].damage.depth, 8.0);
    EXPECT_TRUE(sides_of(job)[0].part.name.empty());
    job.scarf.from = ScarfFrom::inside;
    job.damage.side = Side::inside;
    // A backing that stays is no mould; one that comes off has 20 mil of gel coat laid on it first.
    job.backing = Backing{};
    job.backing->stays = true;
    EXPECT_DOUBLE_EQ(sides_of(job)[0].damage.depth, 8.0);
    job.backing->stays = false;
    EXPECT_DOUBLE_EQ(sides_of(job)[0].damage.depth, 8.0 - 0.508);
    job.resin.kind = ResinKind::epoxy;
    EXPECT_DOUBLE_EQ(sides_of(job)[0].damage.depth, 8.0);
    job.damage.through = false;
    job.damage.depth = 5.0;
    EXPECT_DOUBLE_EQ(sides_of(job)[0].damage.depth, 5.0);
    EXPECT_FALSE(sides_of(job)[0].part.on_new);
}

}  // namespace
}  // namespace tearline::job

#include "core/closing/ring_stack.h"

#include <gtest/gtest.h>

namespace tearline::closing {
namespace {

job::Core told() {
    job::Core core;
    core.thickness = 15.0;
    core.outer = 3.0;
    core.inner = 2.5;
    core.chamfer = 1.0;
    core.guard = 10.0;
    return core;
}

TEST(RingStack, FromOutsideIsThatOfTheWorkedFigures) {
    // By hand, hole 50: 50 + 12 x 2.5 = 80; + 10 = 90; + 15 = 105; + 12 x 3 = 141.
    const RingStack rings = ring_stack(job::Reaches::inner_skin, job::Side::outside, told(), 12.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.far_scarf, 80.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.core_bottom, 90.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.core_top, 105.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.near_scarf, 141.0);
}

TEST(RingStack, FromInsideTheOuterSkinIsTheFarOne) {
    // By hand, hole 50: 50 + 36 = 86; + 10 = 96; + 15 = 111; + 30 = 141.
    const RingStack rings = ring_stack(job::Reaches::outer_skin, job::Side::inside, told(), 12.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.far_scarf, 86.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.core_bottom, 96.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.core_top, 111.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.near_scarf, 141.0);
}

TEST(RingStack, LeavesTwentyMillimetresOfTheFarSkinFree) {
    job::Core core = told();
    core.inner = 0.5;  // 12 x 0.5 + 10 = 16
    EXPECT_DOUBLE_EQ(
        ring_stack(job::Reaches::inner_skin, job::Side::outside, core, 12.0).core_bottom, 20.0);
}

TEST(RingStack, StopsAtTheLayerThatIsDamaged) {
    const RingStack core = ring_stack(job::Reaches::core, job::Side::outside, told(), 12.0);
    EXPECT_DOUBLE_EQ(core.far_scarf, 0.0);
    EXPECT_DOUBLE_EQ(core.core_bottom, 0.0);
    EXPECT_DOUBLE_EQ(core.core_top, 15.0);
    EXPECT_DOUBLE_EQ(core.near_scarf, 51.0);
    const RingStack skin = ring_stack(job::Reaches::outer_skin, job::Side::outside, told(), 12.0);
    EXPECT_DOUBLE_EQ(skin.core_top, 0.0);
    EXPECT_DOUBLE_EQ(skin.near_scarf, 36.0);
}

TEST(RingStack, GoesPastTheLastWetPlaceByItsMargin) {
    // By hand, hole 50: wet to 30 mm outside, margin 50: 50 + 80 = 130, not 90; + 15 = 145; + 36.
    job::Core core = told();
    core.wet_edge = 30.0;
    const RingStack rings = ring_stack(job::Reaches::inner_skin, job::Side::outside, core, 12.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.core_bottom, 130.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.core_top, 145.0);
    EXPECT_DOUBLE_EQ(50.0 + rings.near_scarf, 181.0);
    EXPECT_DOUBLE_EQ(rings.far_scarf, 30.0);  // the far skin is no wetter for it
    core.wet_margin = 5.0;                    // 35 lies inside the ring of 40
    EXPECT_DOUBLE_EQ(
        ring_stack(job::Reaches::inner_skin, job::Side::outside, core, 12.0).core_bottom, 40.0);
    // A far skin that is whole has its core taken away as far.
    EXPECT_DOUBLE_EQ(ring_stack(job::Reaches::core, job::Side::outside, core, 12.0).core_bottom,
                     35.0);
}

}  // namespace
}  // namespace tearline::closing

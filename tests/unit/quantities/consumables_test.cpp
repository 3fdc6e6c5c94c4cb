#include "core/quantities/consumables.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

namespace tearline::quantities {
namespace {

bool asks_for_syringes(Tool tool) {
    Plan plan;
    Cup cup;
    cup.mix_resin_g = 100.0;
    cup.hardener_by = Measured{tool, 2.0};
    plan.stages.push_back({{1}, 1.0, {cup}, {}});
    const auto list = consumables(plan);
    return std::any_of(list.begin(), list.end(), [](const Consumable& item) {
        return std::string(item.name).find("syringe") != std::string::npos;
    });
}

TEST(Consumables, SyringesAreBoughtOnlyWhereACupIsDosedByOne) {
    EXPECT_TRUE(asks_for_syringes(Tool::syringe_3));
    EXPECT_TRUE(asks_for_syringes(Tool::syringe_60));
    EXPECT_FALSE(asks_for_syringes(Tool::scale));
    EXPECT_FALSE(asks_for_syringes(Tool::jug));
}

}  // namespace
}  // namespace tearline::quantities

#include "core/quantities/consumables.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

namespace tearline::quantities {
namespace {

bool asks_for_syringes(Tool tool) {
    Quantities repair;
    Cup cup;
    cup.mix_resin_g = 100.0;
    cup.hardener_by = Measured{tool, 2.0};
    repair.stages.push_back({{1}, 1.0, {cup}, {}});
    const auto list = consumables({}, {}, repair);
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

TEST(DoseTools, NoSyringeMeasuresTwoLiquids) {
    // By hand: both poured by the same size of syringe make two things to have, each for one
    // liquid.
    Quantities repair;
    job::Job job;
    job.display_units = Units::us;
    Cup cup;
    cup.resin_by = Measured{Tool::syringe_60, 40.0};
    cup.hardener_by = Measured{Tool::syringe_60, 20.0};
    repair.stages.push_back({{1}, 1.0, {cup}, {}});
    std::vector<std::string> syringes;
    for (const Consumable& item : consumables(job, {}, repair))
        if (item.name.starts_with("60-mL syringe")) syringes.push_back(item.name);
    EXPECT_EQ(syringes, (std::vector<std::string>{"60-mL syringes for resin, in nothing else",
                                                  "60-mL syringes for hardener, in nothing else"}));
}

}  // namespace
}  // namespace tearline::quantities

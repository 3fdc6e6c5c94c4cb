#include <gtest/gtest.h>

#include "core/variants/columns.h"
#include "core/variants/combinations.h"
#include "core/variants/variants_page.h"
#include "core/variants/variants_table.h"

namespace tearline::variants {
namespace {

TEST(Combinations, AreAllWithTheLastKeyFirst) {
    const std::vector<job::Variation> varied{{"a", {"1", "2"}}, {"b", {"x", "y", "z"}}};
    EXPECT_EQ(count_combinations(varied), 6U);
    std::string seen;
    for (const job::Changes& changes : combinations(varied))
        seen += changes[0].text + changes[1].text + " ";
    EXPECT_EQ(seen, "1x 1y 1z 2x 2y 2z ");
}

TEST(Combinations, AreCountedNoFartherThanNeeded) {
    const std::vector<std::string> many(1000, "1");
    EXPECT_EQ(count_combinations({{"a", many}}), 1000U);
    EXPECT_EQ(count_combinations({{"a", many},
                                  {"b", many},
                                  {"c", many},
                                  {"d", many},
                                  {"e", many},
                                  {"f", many},
                                  {"g", many}}),
              most_combinations + 1);
}

Variant variant(const std::string& value, double glass, double ratio = 12.0) {
    Variant out;
    out.values = {value};
    out.figures = {{"glass_g", glass}, {"ratio", ratio}};
    return out;
}

Variants three() {
    Variants variants;
    variants.keys = {"scarf.ratio"};
    variants.all = {variant("8", 100.0, 8.0), variant("12", 200.0), variant("20", 300.0, 20.0)};
    return variants;
}

Column column(const std::string& key, Best best) {
    return {key, key, best, 1.0, 0};
}

std::string marked(const Variants& variants, const Column& of) {
    std::string out;
    for (const Variant& v : variants.all) out += is_best(variants, v, of) ? '*' : '.';
    return out;
}

TEST(Marks, PassOverAScarfBelowTwelve) {
    EXPECT_EQ(marked(three(), column("glass_g", Best::least)), ".*.");
}

TEST(Marks, PassOverAScarfBelowItsCheck) {
    Variants variants = three();
    variants.all[1].figures["required_ratio"] = 14.2;
    EXPECT_EQ(marked(variants, column("glass_g", Best::least)), "..*");
    EXPECT_NE(variants.all[1].not_marked_because().find("14.2"), std::string::npos);
}

TEST(Marks, PassOverWhatIsWeakerOrHasSomethingToDecide) {
    Variants variants = three();
    variants.all[1].weaker = true;
    EXPECT_EQ(marked(variants, column("glass_g", Best::least)), "..*");
    variants.all[2].warnings.push_back({WarningRank::stop, "no-floor", "..."});
    EXPECT_EQ(marked(variants, column("glass_g", Best::least)), "...");
}

TEST(Marks, PassOverWhatIsALittleWeakerThoughNobodyIsWarnedOfIt) {
    // A warning comes below 0.95; the best of a column is never below 1.
    Variants variants = three();
    variants.all[1].figures["strength"] = 0.998;
    EXPECT_EQ(marked(variants, column("glass_g", Best::least)), "..*");
    variants.all[1].figures["strength"] = 1.0 - 1e-7;  // the rounding of a sum
    EXPECT_EQ(marked(variants, column("glass_g", Best::least)), ".*.");
}

TEST(Marks, AreSharedByClothThatLiesFlat) {
    // Rounding alone tells 1.5e-13 from 3.1e-13 degrees.
    Variants variants = three();
    for (std::size_t i = 0; i < 3; ++i)
        variants.all[i].figures["shear_max"] = 1.5e-13 * static_cast<double>(1 + i);
    EXPECT_EQ(marked(variants, column("shear_max", Best::least)), ".**");
}

TEST(Marks, PassOverWhatIsNotPlanned) {
    Variants variants = three();
    variants.all[1].status.exit = 4;
    EXPECT_EQ(marked(variants, column("glass_g", Best::least)), "..*");
}

TEST(Marks, AreSharedByEqualFigures) {
    Variants variants = three();
    variants.all[2].figures["glass_g"] = 200.0 + 1e-11;
    EXPECT_EQ(marked(variants, column("glass_g", Best::least)), ".**");
}

TEST(Marks, GoToTheGreatestStrengthAndTheStiffnessNearestToTheOld) {
    Variants variants = three();
    const double strength[] = {9.0, 1.1, 1.4}, stiffness[] = {1.0, 0.8, 1.2};
    for (std::size_t i = 0; i < 3; ++i) {
        variants.all[i].figures["strength"] = strength[i];
        variants.all[i].figures["bending_stiffness"] = stiffness[i];
    }
    EXPECT_EQ(marked(variants, column("strength", Best::greatest)), "..*");
    // As ratios: 1 / 0.8 = 1.25 is farther off than 1.2.
    EXPECT_EQ(marked(variants, column("bending_stiffness", Best::nearest_to_one)), "..*");
}

TEST(Marks, PassOverACostThatLacksPrices) {
    Variants variants = three();
    for (Variant& v : variants.all)
        v.figures["cost"] = v.figures["glass_g"], v.cost_complete = true;
    EXPECT_EQ(marked(variants, column("cost", Best::least)), ".*.");
    variants.all[1].cost_complete = false;
    EXPECT_EQ(marked(variants, column("cost", Best::least)), "..*");
    EXPECT_EQ(shown(variants.all[1], column("cost", Best::least)), "over 200");
}

TEST(Marks, OfWarningsCountWhatIsToDoFirst) {
    Variants variants = three();
    variants.all[1].warnings = {{WarningRank::act, "a", ""}};
    variants.all[2].warnings = {{WarningRank::know, "a", ""}, {WarningRank::know, "b", ""}};
    EXPECT_FALSE(has_fewest_warnings(variants, variants.all[1]));
    EXPECT_TRUE(has_fewest_warnings(variants, variants.all[2]));
    EXPECT_FALSE(has_fewest_warnings(variants, variants.all[0]));  // its scarf is below 12
}

TEST(Table, SaysOfEachVariantWhatItIsOrWhyNot) {
    Variants variants = three();
    variants.all[2].status.exit = 3;
    variants.all[2].message = "scarf.ratio: value 20: <no>";
    const std::string text = variants_text(variants), csv = variants_csv(variants),
                      page = variants_page(variants);
    EXPECT_NE(text.find("200*"), std::string::npos) << text;
    EXPECT_NE(text.find("scarf below 12"), std::string::npos) << text;
    EXPECT_NE(text.find("not planned: scarf.ratio: value 20: <no>"), std::string::npos) << text;
    EXPECT_NE(csv.find("2,12,0,200,"), std::string::npos) << csv;
    EXPECT_NE(page.find("value 20: &lt;no&gt;"), std::string::npos);
    EXPECT_NE(page.find("licensed practice"), std::string::npos);
    EXPECT_NE(page.find("no work sheet"), std::string::npos);
}

}  // namespace
}  // namespace tearline::variants

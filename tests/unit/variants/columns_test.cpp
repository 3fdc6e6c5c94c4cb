#include "core/variants/columns.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace tearline::variants {
namespace {

Variants one(Units units, std::map<std::string, double> figures) {
    Variants variants;
    variants.units = units;
    variants.all.resize(1);
    variants.all[0].figures = std::move(figures);
    return variants;
}

std::string shown_in(const Variants& variants, const std::string& key) {
    for (const Column& column : columns_of(variants))
        if (column.key == key) return shown(variants.all.front(), column);
    return "no column";
}

TEST(Columns, ShowFiguresInTheUnitsOfTheJob) {
    // NIST Handbook 44, appendix C: 1 m2 is 10.7639 ft2, 1 oz avoirdupois 28.349523125 g.
    const std::map<std::string, double> figures{
        {"ground_area_m2", 2.0}, {"glass_g", 2834.9523}, {"strain_max", 0.0123}};
    EXPECT_EQ(shown_in(one(Units::metric, figures), "ground_area_m2"), "2.0000");
    EXPECT_EQ(shown_in(one(Units::us, figures), "ground_area_m2"), "21.53");
    EXPECT_EQ(shown_in(one(Units::metric, figures), "glass_g"), "2835");
    EXPECT_EQ(shown_in(one(Units::us, figures), "glass_g"), "100.0");
    EXPECT_EQ(shown_in(one(Units::us, figures), "strain_max"), "1.2");  // percent
}

TEST(Columns, StandForWhatSomeVariantHas) {
    Variants variants = one(Units::metric, {{"glass_g", 1.0}});
    variants.all.emplace_back().figures = {{"hours", 2.0}};
    const auto columns = columns_of(variants);
    ASSERT_EQ(columns.size(), 2u);
    EXPECT_EQ(columns[0].key, "glass_g");
    EXPECT_EQ(columns[1].key, "hours");
    EXPECT_EQ(shown(variants.all[0], columns[1]), "");
}

TEST(Columns, NameTheCurrencyAndSayWhereACostLacksPrices) {
    Variants variants = one(Units::metric, {{"cost", 120.0}});
    variants.currency = "EUR";
    EXPECT_EQ(columns_of(variants)[0].title, "cost EUR");
    EXPECT_EQ(shown_in(variants, "cost"), "over 120.00");
    variants.all[0].cost_complete = true;
    EXPECT_EQ(shown_in(variants, "cost"), "120.00");
}

TEST(Columns, BestIsWhatAPersonWouldTakeByEach) {
    const auto columns = columns_of(one(Units::metric, {{"ground_area_m2", 1},
                                                        {"cost", 1},
                                                        {"shear_max", 1},
                                                        {"strength", 1},
                                                        {"bending_stiffness", 1}}));
    std::map<std::string, Best> best;
    for (const Column& column : columns) best[column.key] = column.best;
    EXPECT_EQ(best.at("ground_area_m2"), Best::least);
    EXPECT_EQ(best.at("cost"), Best::least);
    EXPECT_EQ(best.at("shear_max"), Best::least);
    EXPECT_EQ(best.at("strength"), Best::greatest);
    EXPECT_EQ(best.at("bending_stiffness"), Best::nearest_to_one);
}

TEST(Columns, StiffnessTwiceAndHalfAreAsFarFromOne) {
    Variants variants = one(Units::metric, {{"bending_stiffness", 2.0}, {"ratio", 12.0}});
    variants.all.push_back(variants.all[0]);
    variants.all[1].figures["bending_stiffness"] = 0.5;
    const Column column = columns_of(variants).front();
    EXPECT_TRUE(is_best(variants, variants.all[0], column));
    EXPECT_TRUE(is_best(variants, variants.all[1], column));
    variants.all[1].figures["bending_stiffness"] = 0.51;
    EXPECT_FALSE(is_best(variants, variants.all[0], column));
}

TEST(ShownWarnings, CountEachRankTheWorstFirst) {
    Variant variant;
    for (const WarningRank rank : {WarningRank::know, WarningRank::stop, WarningRank::act,
                                   WarningRank::know, WarningRank::know, WarningRank::act})
        variant.warnings.push_back({rank, "code", "message"});
    EXPECT_EQ(shown_warnings(variant), "1 / 2 / 3");
}

}  // namespace
}  // namespace tearline::variants

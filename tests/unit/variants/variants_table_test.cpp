#include "core/variants/variants_table.h"

#include <gtest/gtest.h>

#include "core/base/printable.h"

namespace tearline::variants {
namespace {

Variant variant(const std::vector<std::string>& values, double glass) {
    Variant out;
    out.values = values;
    out.figures = {{"glass_g", glass}, {"ratio", 12.0}};
    return out;
}

Variants four() {
    Variants variants;
    variants.keys = {"scarf.ratio", "layup.order"};
    variants.all = {variant({"12", "smallest first"}, 812.0), variant({"12", "größte"}, 99.0),
                    variant({"8", "x"}, 50.0), variant({"200", "y"}, 7.0)};
    variants.all[2].figures["ratio"] = 8.0;
    variants.all[3].status = {batch::Status::Kind::by_signal, 0};
    variants.all[3].message = "was stopped\nhere";
    return variants;
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    for (std::size_t from = 0, to = 0; (to = text.find('\n', from)) != std::string::npos;
         from = to + 1)
        lines.push_back(text.substr(from, to - from));
    return lines;
}

/// Where some words end on a line, in letters.
std::size_t end_of(const std::string& line, const std::string& words) {
    const auto at = line.find(words);
    return at == std::string::npos ? 0 : count_characters(line.substr(0, at + words.size()));
}

TEST(VariantsText, HasWordsToTheLeftAndFiguresUnderOneAnother) {
    const auto lines = lines_of(variants_text(four()));
    ASSERT_EQ(lines.size(), 7u) << "a head, four variants, two notes";
    const auto start_of = [](const std::string& line, const std::string& words) {
        return end_of(line, words) - count_characters(words);
    };
    // Letters, not bytes: the umlauts move nothing.
    const std::size_t words = start_of(lines[0], "layup.order");
    EXPECT_EQ(start_of(lines[1], "smallest first"), words);
    EXPECT_EQ(start_of(lines[2], "größte"), words);
    const std::size_t figures = end_of(lines[0], "glass g");
    EXPECT_EQ(end_of(lines[1], "812"), figures);
    EXPECT_EQ(end_of(lines[2], "99"), figures) << "its mark stands beyond";
    EXPECT_EQ(end_of(lines[3], " 50"), figures);
}

TEST(VariantsText, MarksTheBestAndSaysWhyNot) {
    const auto lines = lines_of(variants_text(four()));
    EXPECT_NE(lines[2].find("99*"), std::string::npos);
    EXPECT_EQ(lines[1].find("812*"), std::string::npos);
    EXPECT_EQ(lines[3].find("50*"), std::string::npos) << "its scarf is below 12";
    EXPECT_TRUE(lines[3].ends_with("scarf below 12")) << lines[3];
    // Neither of the first two has a warning: both have the fewest.
    EXPECT_NE(lines[1].find("0 / 0 / 0*"), std::string::npos);
    EXPECT_NE(lines[2].find("0 / 0 / 0*"), std::string::npos);
    for (const std::string& line : lines) EXPECT_FALSE(line.ends_with(' ')) << line;
}

TEST(VariantsText, OfOneThatIsNotPlannedIsOneLine) {
    const auto lines = lines_of(variants_text(four()));
    EXPECT_TRUE(lines[4].starts_with("4  200")) << lines[4];
    EXPECT_TRUE(lines[4].ends_with("not planned: was stopped\\x0ahere")) << lines[4];
    EXPECT_EQ(lines[4].find("0 / 0 / 0"), std::string::npos);
}

TEST(VariantsText, LeavesADashWhereAFigureDoesNotApply) {
    Variants variants = four();
    variants.all[0].figures["shear_max"] = 21.5;
    const auto lines = lines_of(variants_text(variants));
    EXPECT_EQ(end_of(lines[2], "-"), end_of(lines[0], "shear deg"));
    EXPECT_NE(lines[1].find("21.5*"), std::string::npos);
}

/// Cells of a line (RFC 4180).
std::vector<std::string> cells_of(const std::string& line) {
    std::vector<std::string> cells{""};
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"')
            cells.back() += line[i++];
        else if (c == '"')
            quoted = !quoted;
        else if (c == ',' && !quoted)
            cells.emplace_back();
        else if (c != '\r')
            cells.back() += c;
    }
    return cells;
}

/// The table read back: a cell by variant and by the name of its column.
class Csv {
public:
    explicit Csv(const Variants& variants) {
        for (const std::string& line : lines_of(variants_csv(variants)))
            rows_.push_back(cells_of(line));
    }
    [[nodiscard]] std::string at(std::size_t variant, const std::string& column) const {
        const auto found = std::find(rows_[0].begin(), rows_[0].end(), column);
        if (found == rows_[0].end()) return "no column";
        return rows_.at(variant).at(static_cast<std::size_t>(found - rows_[0].begin()));
    }
    [[nodiscard]] const std::vector<std::vector<std::string>>& rows() const { return rows_; }

private:
    std::vector<std::vector<std::string>> rows_;
};

TEST(VariantsCsv, HasACellForEveryHead) {
    Variants variants = four();
    variants.keys[1] = "a, \"key\"";
    const Csv csv(variants);
    ASSERT_EQ(csv.rows().size(), 5u);
    for (const auto& row : csv.rows()) EXPECT_EQ(row.size(), csv.rows()[0].size());
    EXPECT_EQ(csv.at(2, "a, \"key\""), "größte");
    EXPECT_EQ(csv.at(1, "variant") + csv.at(4, "variant"), "14");
}

TEST(VariantsCsv, KeepsFiguresToTheLastBit) {
    Variants variants = four();
    variants.all[0].figures["glass_g"] = 0.1 + 0.2;
    variants.all[0].figures["strain_max"] = 0.0123;
    const Csv csv(variants);
    EXPECT_EQ(csv.at(1, "glass_g"), "0.30000000000000004");
    EXPECT_EQ(csv.at(1, "strain_max"), "0.0123") << "in the unit of its name, no percent";
    EXPECT_EQ(csv.at(2, "strain_max"), "");
}

TEST(VariantsCsv, SaysStatusRanksCodesAndReasons) {
    Variants variants = four();
    Variant& first = variants.all[0];
    first.warnings = {{WarningRank::stop, "no-floor", ""},
                      {WarningRank::know, "b", ""},
                      {WarningRank::know, "c", ""}};
    first.currency = "EUR";
    first.cost_complete = true;
    const Csv csv(variants);
    EXPECT_EQ(csv.at(1, "status"), "0");
    EXPECT_EQ(csv.at(4, "status"), "signal");
    EXPECT_EQ(csv.at(1, "stop") + csv.at(1, "do") + csv.at(1, "know"), "102");
    EXPECT_EQ(csv.at(1, "warnings"), "no-floor b c");
    EXPECT_EQ(csv.at(1, "not_marked_because"), "1 to stop and decide");
    EXPECT_EQ(csv.at(1, "currency") + csv.at(1, "cost_complete"), "EURtrue");
    EXPECT_EQ(csv.at(2, "cost_complete"), "false");
    EXPECT_EQ(csv.at(4, "not_marked_because"), "not planned");
    EXPECT_EQ(csv.at(4, "message"), "was stopped\\x0ahere");
}

TEST(VariantsCsv, NamesWhatEachIsBestIn) {
    Variants variants = four();
    variants.all[0].figures["hours"] = 3.0;
    variants.all[1].figures["hours"] = 4.0;
    variants.all[1].warnings = {{WarningRank::act, "a", ""}};
    const Csv csv(variants);
    EXPECT_EQ(csv.at(1, "best_in"), "hours warnings");
    EXPECT_EQ(csv.at(2, "best_in"), "glass_g");
    EXPECT_EQ(csv.at(3, "best_in") + csv.at(4, "best_in"), "");
}

TEST(NotMarkedBecause, GivesEveryReason) {
    Variant one = variant({"8"}, 1.0);
    EXPECT_EQ(one.not_marked_because(), "");
    one.figures["required_ratio"] = 15.94;
    one.weaker = true;
    one.warnings = {{WarningRank::stop, "a", ""}, {WarningRank::stop, "b", ""}};
    EXPECT_EQ(one.not_marked_because(),
              "scarf below its check, 15.9; weaker than the old laminate; 2 to stop and decide");
    one.figures.erase("ratio");
    EXPECT_TRUE(one.not_marked_because().starts_with("scarf below 12; ")) << "nobody knows it";
    one.figures["ratio"] = 16.0;
    one.weaker = false;
    one.warnings.clear();
    EXPECT_EQ(one.not_marked_because(), "");
    one.status.exit = 3;
    EXPECT_EQ(one.not_marked_because(), "not planned");
}

}  // namespace
}  // namespace tearline::variants

#include <gtest/gtest.h>

#include <set>
#include <stdexcept>
#include <string>

#include "core/job/default_marks.h"
#include "core/job/parse_toml.h"
#include "core/job/schema/tables.h"

namespace tearline::job {
namespace {

/// A table of two keys, the second of which a file has to give.
struct Small {
    double first = 1.0;
    std::optional<double> second;
    FabricKind kind = FabricKind::woven;
};

const Table<Small>& small_keys() {
    static const Table<Small> keys{
        "small",
        {key("first", length(&Small::first, between(0.0, 10.0)), rests_on::form, "a length"),
         key("second", number(&Small::second, above_zero_to(1.0), "%"), {}, "a number", "", "",
             {.required = "a number, such as 0.5"}),
         key("kind", choice(&Small::kind, fabric_kind_words()), rests_on::form, "a kind", "", "",
             {.counts = [](const Small& small) { return small.first > 0.0; }})}};
    return keys;
}

/// What reading `text` by `read` says first; nothing when all is well.
template <class Read>
std::string refusal(const std::string& text, Small& out, Read read) {
    const auto root = parse_toml(text, "f");
    Refusals refusals("f", 9);
    Job job;
    KeyReader<Small> in(refusals, &*root, "small", small_keys(), out, job);
    read(in);
    return refusals.first() ? refusals.first()->message() : "";
}

const auto all = [](KeyReader<Small>& in) { in.rest(); };

TEST(KeyReader, FillsMembersAndLeavesTheOthersAlone) {
    Small small;
    EXPECT_EQ(refusal("second = 0.5\n", small, all), "");
    EXPECT_DOUBLE_EQ(small.first, 1.0);
    EXPECT_DOUBLE_EQ(small.second.value(), 0.5);
    EXPECT_EQ(small.kind, FabricKind::woven);
    EXPECT_EQ(refusal("second = 1\nfirst = \"1 cm\"\nkind = \"mat\"\n", small, all), "");
    EXPECT_DOUBLE_EQ(small.first, 10.0);  // exact: 1 cm
    EXPECT_EQ(small.kind, FabricKind::mat);
}

TEST(KeyReader, AsksForWhatIsRequiredAndNamesTheNearestKey) {
    Small small;
    EXPECT_EQ(refusal("first = 2\n", small, all),
              "f:1: small.second: missing: a number, such as 0.5");
    EXPECT_EQ(refusal("secnd = 1\n", small, all),
              "f:1: small.secnd: unknown key; the nearest known one is small.second");
    EXPECT_EQ(refusal("second = 2\n", small, all),
              "f:1: small.second: value 2: must be above 0 and at most 1 %");
}

TEST(KeyReader, ReadsInTheOrderOfRowsButWhatARuleNeedsFirst) {
    // Both are wrong: the one that is read first is told.
    const std::string both = "kind = 1\nfirst = 20\nsecond = 1\n";
    Small small;
    EXPECT_EQ(refusal(both, small, all),
              "f:2: small.first: value 20: must be at least 0 and at most 10 mm");
    EXPECT_EQ(refusal(both, small, [](KeyReader<Small>& in) { in.read("kind"), in.rest(); }),
              "f:1: small.kind: value 1: must be \"mat\", \"woven\" or \"biaxial\"");
    // Up to a key: what stands after it is not read, and what was read is not read again.
    EXPECT_EQ(refusal("first = 3\nkind = 1\nsecond = 1\n", small,
                      [](KeyReader<Small>& in) { in.through("second"), in.through("second"); }),
              "");
    EXPECT_DOUBLE_EQ(small.first, 3.0);
    EXPECT_THROW(refusal("", small, [](KeyReader<Small>& in) { in.read("third"); }),
                 std::logic_error);
}

TEST(Written, ShowsEveryKeyAndNothingWhereItDoesNotCount) {
    Small small;
    const Node full = written(small_keys(), small);
    ASSERT_EQ(full.items.size(), 3u);
    EXPECT_EQ(full.items[0].key, "first");
    EXPECT_DOUBLE_EQ(full.items[0].number, 1.0);
    EXPECT_EQ(full.items[1].kind, Node::Kind::nothing);
    EXPECT_EQ(full.items[2].text, "woven");
    small.first = 0.0;
    EXPECT_EQ(written(small_keys(), small).items[2].kind, Node::Kind::nothing);
}

TEST(Schema, EveryKeyIsToldOnceWithAMeaningAndADefaultOrAForm) {
    std::set<std::string> seen;
    for_each_table([&seen](const auto& table) {
        for (const auto& key : table.keys) {
            if (key.is_table()) continue;
            const std::string path = std::string(table.path) + "." + std::string(key.name);
            EXPECT_TRUE(seen.insert(path).second) << path;
            EXPECT_FALSE(key.meaning.empty()) << path;
            EXPECT_TRUE(key.value.read) << path;
            for (const Defaults::OfKind& each : key.defaults.all)
                EXPECT_NE(table.default_of(key, each.of).kind, Node::Kind::nothing)
                    << path << " of " << each.of;
        }
    });
    EXPECT_GT(seen.size(), 100u);
}

TEST(StandIn, SaysWhatADefaultIsAndWhatItRestsOn) {
    // core/SOURCES.md section 10.
    EXPECT_EQ(stand_in("resin.waste").mark, "common practice");
    EXPECT_EQ(stand_in("resin.waste").words, "Left in pots, rollers and brushes");
    EXPECT_EQ(stand_in("resin.cured_density", "polyester").mark, "published");
    EXPECT_EQ(stand_in("resin.cured_density", "epoxy").mark, "from memory");
    EXPECT_THROW((void)stand_in("resin.cured_density"), std::logic_error);
    EXPECT_THROW((void)stand_in("resin.cured_density", "vinylester"), std::logic_error);
    EXPECT_THROW((void)stand_in("hull.skin"), std::logic_error);
}

}  // namespace
}  // namespace tearline::job

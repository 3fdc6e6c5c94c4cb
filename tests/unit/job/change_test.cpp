#include "core/job/change.h"

#include <gtest/gtest.h>

#include "core/job/parse_toml.h"
#include "core/job/read_job.h"

namespace tearline::job {
namespace {

std::vector<std::string> values(const std::string& words) {
    const auto read = read_variation(words);
    return read ? read->values : std::vector<std::string>{"refused: " + read.error()};
}

TEST(Variation, IsPartedAtCommasOutsideBracketsAndQuotes) {
    using Values = std::vector<std::string>;
    EXPECT_EQ(values("scarf.ratio=8,12,20"), (Values{"8", "12", "20"}));
    EXPECT_EQ(values("layup.order=smallest first, largest first"),
              (Values{"smallest first", "largest first"}));
    EXPECT_EQ(values(R"(layup.order="smallest first","largest first")"),
              (Values{R"("smallest first")", R"("largest first")"}));
    EXPECT_EQ(values(R"(layup.fill=["mat 450","roving 600"],"mat, 300")"),
              (Values{R"(["mat 450","roving 600"])", R"("mat, 300")"}));
    EXPECT_EQ(values(R"(layup.stack=[{fabric = "mat 450", axis = 0}, "a"],b)"),
              (Values{R"([{fabric = "mat 450", axis = 0}, "a"])", "b"}));
    EXPECT_EQ(values(R"(title="a \", b",c)"), (Values{R"("a \", b")", "c"}));
    // A quote that never closes is a letter: feet.
    EXPECT_EQ(values("hull.skin=1',2"), (Values{"1'", "2"}));
}

TEST(Variation, WithoutKeyOrValueIsRefused) {
    for (const char* words : {"scarf.ratio", "=8,12", "scarf.ratio=", "scarf.ratio=8,,12",
                              "scarf.ratio=8,", ".ratio=8", "scarf.=8", "scarf..ratio=8"})
        EXPECT_FALSE(read_variation(words)) << words;
}

TEST(ValueOf, IsTomlElseText) {
    EXPECT_EQ(value_of("8").kind, Node::Kind::number);
    EXPECT_EQ(value_of("8").number, 8.0);
    EXPECT_TRUE(value_of("8").integer);
    EXPECT_EQ(value_of("true").kind, Node::Kind::boolean);
    EXPECT_EQ(value_of(R"("8")").text, "8");
    EXPECT_EQ(value_of(R"(["mat 450", "mat 300"])").items.size(), 2U);
    for (const char* text :
         {"smallest first", "25 mm", "450 g/m2", "8 # mm", "1, 2", "1], [2", "a = 3", "\"open"}) {
        EXPECT_EQ(value_of(text).kind, Node::Kind::text) << text;
        EXPECT_EQ(value_of(text).text, text);
    }
}

Node tree(const std::string& text) {
    return parse_toml(text, "job.toml").value();
}

TEST(ApplyChanges, SetsAKeyWhereItStandsAndMakesWhatIsMissing) {
    Node root = tree("[scarf]\nratio = 12\n");
    ASSERT_TRUE(apply_changes(root, {{"scarf.ratio", "20"}}));
    ASSERT_TRUE(apply_changes(root, {{"layup.order", "largest first"}}));
    ASSERT_TRUE(apply_changes(root, {{"title", "other"}}));
    EXPECT_EQ(root.find("scarf")->find("ratio")->number, 20.0);
    EXPECT_EQ(root.find("scarf")->find("ratio")->line, 2);
    EXPECT_EQ(root.find("scarf")->items.size(), 1U);
    EXPECT_EQ(root.find("layup")->find("order")->text, "largest first");
    EXPECT_EQ(root.find("title")->text, "other");
}

TEST(ApplyChanges, LeadsThroughTablesAlone) {
    Node root = tree("[[fabric]]\nname = \"mat 450\"\n[scarf]\nratio = 12\n");
    EXPECT_FALSE(apply_changes(root, {{"fabric.weight", "300 g/m2"}}));
    EXPECT_FALSE(apply_changes(root, {{"scarf.ratio.x", "1"}}));
}

TEST(ApplyChanges, ReplaceTheOtherWaysOfSayingTheSame) {
    const auto keys = [](const char* text, const Changes& changes) {
        Node root = tree(text);
        EXPECT_TRUE(apply_changes(root, changes));
        std::string out;
        for (const Node& item : root.items.front().items) out += item.key + " ";
        return out;
    };
    EXPECT_EQ(keys("[layup]\nfill = \"mat 450\"\nfill_to = \"thickness\"\ncopies = 2\n",
                   {{"layup.stack", "[\"mat 300\"]"}}),
              "copies stack ");
    EXPECT_EQ(keys("[layup]\nstack = [\"mat 450\"]\n", {{"layup.fill", "mat 300"}}), "fill ");
    EXPECT_EQ(keys("[damage]\ncentre = [0, 0, 0]\nradius = 80\n", {{"damage.radius", "60"}}),
              "centre radius ");
    EXPECT_EQ(keys("[damage]\ncentre = [0, 0, 0]\nradius = 80\n",
                   {{"damage.length", "60"}, {"damage.height", "40"}}),
              "centre length height ");
    EXPECT_EQ(keys("[damage]\ndepth = 6\n", {{"damage.through", "true"}}), "through ");
    EXPECT_EQ(keys("[damage]\ndepth = 6\n", {{"damage.through", "false"}}), "depth through ");
    // Both are varied: which one counts is for the reader of jobs to ask.
    EXPECT_EQ(keys("[layup]\nfill = \"mat 450\"\n",
                   {{"layup.stack", "[\"mat 300\"]"}, {"layup.fill", "mat 600"}}),
              "stack fill ");
}

constexpr const char* job_text =
    "[hull]\nmodel = \"none.step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\n"
    "[damage]\ncentre = [0, 0, 0]\nradius = 80\ndepth = 6\n[scarf]\nratio = 12\n";

TEST(ParseJob, TakesChangedValuesAsIfTheyStoodInTheFile) {
    const auto job = parse_job(
        job_text, "job.toml",
        {{"scarf.ratio", "20"}, {"layup.order", "largest first"}, {"damage.depth", "0.5 in"}});
    ASSERT_TRUE(job) << job.error().message();
    EXPECT_EQ(job->scarf.ratio, 20.0);
    EXPECT_EQ(job->layup.order, Order::largest_first);
    EXPECT_DOUBLE_EQ(job->damage.depth, 12.7);  // an inch is 25.4 mm by definition
}

TEST(ParseJob, RefusesAChangedValueLikeAnyOther) {
    const auto unknown = parse_job(job_text, "job.toml", {{"scarf.ration", "20"}});
    ASSERT_FALSE(unknown);
    EXPECT_NE(unknown.error().message().find("ratio"), std::string::npos);
    const auto bad = parse_job(job_text, "job.toml", {{"scarf.ratio", "-1"}});
    ASSERT_FALSE(bad);
    EXPECT_NE(bad.error().message().find("job.toml:10: scarf.ratio: value -1"), std::string::npos)
        << bad.error().message();
}

}  // namespace
}  // namespace tearline::job

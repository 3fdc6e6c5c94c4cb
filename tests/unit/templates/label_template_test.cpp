#include "core/templates/label_template.h"

#include <gtest/gtest.h>

namespace tearline::templates {
namespace {

/// The words in red on a template of 400 mm by 400 mm, line after line.
std::string warning_on_template(const std::string& warning) {
    Template outline;
    outline.net.outer = {{-200, -200}, {200, -200}, {200, 200}, {-200, 200}};
    label_template(outline, {{{"PLY 1", 2.0}}, {warning}});
    std::string words;
    for (const Mark& mark : outline.marks)
        if (const auto* label = std::get_if<Label>(&mark); label && label->warning)
            words += (words.empty() ? "" : " ") + label->text;
    return words;
}

// Expected by reading: whoever holds the template reads whole clauses, never half a sentence.

TEST(LabelTemplate, AShortWarningStandsWhole) {
    EXPECT_EQ(warning_on_template("no mat under the roving: resin-starved"),
              "! no mat under the roving: resin-starved");
}

TEST(LabelTemplate, ALongWarningEndsAtAClause) {
    EXPECT_EQ(warning_on_template(
                  "ply 3 (mat 450) lies over an edge of radius 0.0 mm near (2956.4, 967.0, 265.4) "
                  "mm, its fabric needs 8.0 mm: ease the edge to a radius of 8.0 mm, which takes "
                  "off 1.0 mm at the edge"),
              "! ply 3 (mat 450) lies over an edge of radius 0.0 mm near (2956.4, 967.0, 265.4) mm "
              "(see the job sheet)");
}

TEST(LabelTemplate, AWarningWithoutClausesIsCutAtAWord) {
    EXPECT_EQ(warning_on_template("one two three four five six seven eight nine ten eleven twelve "
                                  "thirteen fourteen fifteen sixteen seventeen eighteen nineteen "
                                  "twenty twenty-one twenty-two twenty-three"),
              "! one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
              "fifteen (see the job sheet)");
}

}  // namespace
}  // namespace tearline::templates

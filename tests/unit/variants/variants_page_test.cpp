#include "core/variants/variants_page.h"

#include <gtest/gtest.h>

#include <regex>

#include "tests/support/words_in.h"

namespace tearline::variants {
namespace {

using test::count;
using test::says;

Loop2 box(double x0, double y0, double x1, double y1) {
    return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

/// One whose rings are boxes: the damage, a ply's edge, the scarf's.
Variant variant(double half) {
    Variant out;
    out.values = {"12"};
    out.figures = {{"glass_g", 100.0}, {"ratio", 12.0}};
    out.rings = {{0, {box(-10, -5, 10, 5)}},
                 {1, {box(-20, -8, 20, 8), box(30, -8, 34, 8)}},
                 {-1, {box(-half, -half / 2, half, half / 2)}}};
    return out;
}

Variants of(std::vector<Variant> all) {
    Variants variants;
    variants.keys = {"scarf.ratio"};
    variants.all = std::move(all);
    return variants;
}

/// A picture: its size on paper and the corners of its paths.
struct Picture {
    double width = 0.0, height = 0.0;
    std::vector<std::vector<Vec2>> paths;
    std::string text;
};

std::vector<Picture> pictures_of(const std::string& page) {
    std::vector<Picture> out;
    for (auto from = page.find("<svg width"); from != std::string::npos;
         from = page.find("<svg width", from + 1)) {
        Picture picture;
        picture.text = page.substr(from, page.find("</svg>", from) - from);
        std::smatch size;
        std::regex_search(picture.text, size,
                          std::regex(R"re(width="([\d.]+)mm" height="([\d.]+)mm)re"));
        picture.width = std::stod(size[1]);
        picture.height = std::stod(size[2]);
        const std::regex path(R"re( d="([^"]*)")re"), number(R"re([ML](-?[\d.]+) (-?[\d.]+))re");
        for (std::sregex_iterator i(picture.text.begin(), picture.text.end(), path), end; i != end;
             ++i) {
            const std::string data = (*i)[1];
            picture.paths.emplace_back();
            for (std::sregex_iterator p(data.begin(), data.end(), number); p != end; ++p)
                picture.paths.back().emplace_back(std::stod((*p)[1]), std::stod((*p)[2]));
        }
        out.push_back(std::move(picture));
    }
    return out;
}

TEST(VariantsPage, ShowsRingsOfAllToOneScaleWithinTheirPictures) {
    const auto pictures = pictures_of(variants_page(of({variant(50), variant(100)})));
    ASSERT_EQ(pictures.size(), 2u);
    // By hand: the widest is 200 mm across and 3 % and 1 mm more at each end, on 30 mm.
    const double scale = 30.0 / (200.0 * 1.06 + 2.0);
    for (const Picture& picture : pictures) {
        EXPECT_NEAR(picture.width, 30.0, 1e-3);
        EXPECT_NEAR(picture.height, scale * (100.0 * 1.06 + 2.0), 1e-3);
        ASSERT_EQ(picture.paths.size(), 3u);
        EXPECT_EQ(picture.paths[1].size(), 8u) << "both loops of a ring";
        for (const auto& path : picture.paths)
            for (const Vec2& p : path) {
                EXPECT_GE(p.minCoeff(), 0.0);
                EXPECT_LE(p.x(), picture.width);
                EXPECT_LE(p.y(), picture.height);
            }
    }
    const auto wide = [](const std::vector<Vec2>& path) { return (path[1] - path[0]).norm(); };
    EXPECT_NEAR(wide(pictures[0].paths[2]), 100.0 * scale, 1e-3);
    EXPECT_NEAR(wide(pictures[1].paths[2]), 200.0 * scale, 1e-3);
    EXPECT_NEAR(wide(pictures[0].paths[0]), wide(pictures[1].paths[0]), 1e-9);
}

TEST(VariantsPage, ShowsRingsTheRightWayUp) {
    Variant one = variant(100);
    one.rings.push_back({2, {box(0, 40, 10, 45)}});  // above all that is in the middle
    const auto pictures = pictures_of(variants_page(of({one})));
    ASSERT_EQ(pictures.size(), 1u);
    EXPECT_LT(pictures[0].paths[3][0].y(), pictures[0].paths[0][2].y());
    EXPECT_GT(pictures[0].paths[3][0].x(), pictures[0].paths[0][0].x());
}

TEST(VariantsPage, DrawsDamagePliesAndScarfAsItSays) {
    const std::string picture = pictures_of(variants_page(of({variant(50)})))[0].text;
    EXPECT_EQ(count(picture, "fill=\"#c9d3d9\""), 1u) << "the damage grey";
    EXPECT_EQ(count(picture, "stroke=\"#185c86\""), 1u) << "the ply blue";
    EXPECT_EQ(count(picture, "stroke=\"#a3250b\" stroke-width=\"0.3\" stroke-dasharray"), 1u);
}

TEST(VariantsPage, BreaksNeitherNumbersNorHeadsBetweenTheirLetters) {
    const std::string page = variants_page(of({variant(50)}));
    // Letters may part in words alone that have a width of their own; a key parts behind its dot.
    EXPECT_TRUE(says(page, "td:first-child, td.figure { white-space: nowrap; }"));
    EXPECT_TRUE(says(page, ">scarf.<wbr/>ratio<"));
    const std::regex anywhere(R"re(\n([^{\n]*) \{([^}]*)overflow-wrap: anywhere)re");
    for (std::sregex_iterator rule(page.begin(), page.end(), anywhere), end; rule != end; ++rule)
        if ((*rule)[1] != "h1, p, dd")
            EXPECT_NE((*rule)[2].str().find("min-width"), std::string::npos) << (*rule)[1];
}

TEST(VariantsPage, HasNoPictureWhereThereAreNoRings) {
    Variant refused;
    refused.values = {"3"};
    refused.status.exit = 4;
    refused.message = "<no>";
    const std::string page = variants_page(of({refused, variant(50)}));
    EXPECT_EQ(pictures_of(page).size(), 1u);
    EXPECT_TRUE(says(page, "<tr class=\"refused\"><td>1</td><td></td><td class=\"value\">3</td>"));
    EXPECT_TRUE(says(page, "not planned: &lt;no&gt;"));
    // One cell over glass, warnings and why.
    EXPECT_TRUE(says(page, "colspan=\"3\""));
    EXPECT_FALSE(says(variants_page(of({refused})), "nan"));
    EXPECT_FALSE(says(variants_page(of({refused})), "inf"));
}

TEST(VariantsPage, MarksTheBestAndHoldsBackWhatMayNotBeMarked) {
    Variants variants = of({variant(50), variant(60), variant(70)});
    variants.all[0].figures["glass_g"] = 90.0;
    variants.all[0].weaker = true;
    variants.all[1].figures["glass_g"] = 95.0;
    variants.all[1].figures["hours"] = 4.0;
    const std::string page = variants_page(variants);
    EXPECT_TRUE(says(page, "<td class=\"figure best\">95 *</td>"));
    EXPECT_FALSE(says(page, ">90 *"));
    EXPECT_EQ(count(page, "<tr class=\"held\">"), 1u);
    EXPECT_TRUE(says(page, "<td class=\"why\">weaker than the old laminate</td></tr>"));
    EXPECT_TRUE(says(page, ">–</td>")) << "the others' hours are not known";
}

TEST(VariantsPage, ListsWhatIsToBeDecidedOnceWithItsVariants) {
    Variants variants = of({variant(50), variant(50), variant(50)});
    const Caution floor{WarningRank::stop, "no-floor", "no <floor>"};
    variants.all[0].warnings = {floor, {WarningRank::act, "b", "do it"}};
    variants.all[1].warnings = {{WarningRank::stop, "thin", "thin"}};
    variants.all[2].warnings = {floor};
    const std::string page = variants_page(variants);
    EXPECT_TRUE(says(page, "<dt>Variant 1, 3</dt><dd>no &lt;floor&gt;</dd>"));
    EXPECT_TRUE(says(page, "<dt>Variant 2</dt><dd>thin</dd>"));
    EXPECT_FALSE(says(page, "do it"));
    EXPECT_FALSE(says(variants_page(of({variant(50)})), "Stop and decide"));
}

TEST(VariantsPage, IsNamedAfterItsJob) {
    Variants variants = of({variant(50)});
    EXPECT_TRUE(says(variants_page(variants), "<h1>What if</h1>"));
    variants.title = "A & B";
    EXPECT_TRUE(says(variants_page(variants), "<h1>What if: A &amp; B</h1>"));
    EXPECT_TRUE(says(variants_page(variants), "<title>What if: A &amp; B</title>"));
}

}  // namespace
}  // namespace tearline::variants

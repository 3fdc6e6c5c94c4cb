#include "core/page/page.h"

#include <gtest/gtest.h>

#include "core/page/base64.h"

namespace tearline::page {

namespace {

ModelShown triangle(const std::string& model) {
    return {{{Vec3(0, 0, 0), Vec3(100, 0, 0), Vec3(0, 100, 0)}, {{0, 1, 2}}}, model, "mm", ""};
}

}  // namespace

TEST(Base64, IsThatOfTheStandard) {
    // RFC 4648, section 10.
    EXPECT_EQ(base64(""), "");
    EXPECT_EQ(base64("f"), "Zg==");
    EXPECT_EQ(base64("fo"), "Zm8=");
    EXPECT_EQ(base64("foo"), "Zm9v");
    EXPECT_EQ(base64("foobar"), "Zm9vYmFy");
    EXPECT_EQ(base64("\xff\xfe"), "//4=");
}

TEST(Page, IsKnownAgainUntilSomebodyEditsIt) {
    const std::string page = model_page(triangle("a.stl"));
    EXPECT_TRUE(is_page(page));
    std::string edited = page;
    edited[page.size() / 2] ^= 1;
    EXPECT_FALSE(is_page(edited));
    EXPECT_FALSE(is_page(page + "\n"));
    EXPECT_FALSE(is_page("<!DOCTYPE html>\n<p>mine"));
    EXPECT_FALSE(is_page(""));
}

TEST(Page, IsTheSameBytesEachTime) {
    EXPECT_EQ(model_page(triangle("a.stl")), model_page(triangle("a.stl")));
}

TEST(Page, NoNameOfAModelBecomesMarkup) {
    const std::string page = model_page(triangle("</script><script>alert(1)</script>.stl"));
    EXPECT_EQ(page.find("<script>alert"), std::string::npos);
}

}  // namespace tearline::page

#include "tests/fuzz/manifest_fuzz.h"

#include <gtest/gtest.h>

#include "tests/fuzz/damage_bytes.h"

namespace tearline::fuzz {
namespace {

const std::vector<std::string> scraps = {
    "\"files\":", "\"..\"", "/", "\\u0000", "18446744073709551615", "-1",  "null", "[",
    "]",          "{",      "}", ",",       "\"name\":\"a/b\"",     "\xff"};

std::vector<std::string> corpus() {
    return files_in(std::string(TEARLINE_TESTS) + "/fuzz/manifest_corpus");
}

TEST(ManifestFuzz, CorpusIsReadOrRefusedCleanly) {
    ASSERT_GE(corpus().size(), 6u);
    for (const std::string& text : corpus()) EXPECT_TRUE(manifest_holds(text)) << text;
}

TEST(ManifestFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    constexpr unsigned start = 22307;
    RecordProperty("start_value", start);
    std::mt19937 random(start);
    const auto files = corpus();
    for (int run = 0; run < 2000; ++run) {
        const std::string text =
            damaged(files[static_cast<std::size_t>(run) % files.size()], random, scraps);
        ASSERT_TRUE(manifest_holds(text)) << "start value " << start << " run " << run << "\n"
                                          << text;
    }
}

}  // namespace
}  // namespace tearline::fuzz

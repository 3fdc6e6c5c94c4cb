#include "tests/fuzz/messages_fuzz.h"

#include <gtest/gtest.h>

#include "tests/fuzz/damage_bytes.h"

namespace tearline::fuzz {
namespace {

const std::vector<std::string> scraps = {"\n",
                                         "{}",
                                         "{\"bytes\":0}\n",
                                         "\"bytes\":",
                                         "18446744073709551615",
                                         "-1",
                                         "1e3",
                                         "null",
                                         "\"",
                                         "\\u0000",
                                         "\xff",
                                         "[",
                                         "}"};

std::vector<std::string> corpus() {
    return files_in(std::string(TEARLINE_TESTS) + "/fuzz/messages_corpus");
}

TEST(MessagesFuzz, CorpusIsReadOrRefusedCleanly) {
    ASSERT_GE(corpus().size(), 6u);
    for (const std::string& text : corpus()) EXPECT_TRUE(conversation_holds(text)) << text;
}

TEST(MessagesFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    constexpr unsigned start = 40811;
    RecordProperty("start_value", start);
    std::mt19937 random(start);
    const auto files = corpus();
    for (int run = 0; run < 6000; ++run) {
        const std::string text =
            damaged(files[static_cast<std::size_t>(run) % files.size()], random, scraps);
        ASSERT_TRUE(conversation_holds(text)) << "start value " << start << " run " << run << "\n"
                                              << text;
    }
}

}  // namespace
}  // namespace tearline::fuzz

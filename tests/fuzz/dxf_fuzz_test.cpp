#include "tests/fuzz/dxf_fuzz.h"

#include <gtest/gtest.h>

#include "tests/fuzz/damage_bytes.h"

namespace tearline::fuzz {
namespace {

bool holds(const std::string& bytes) {
    return dxf_reader_holds(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

std::vector<std::string> corpus() {
    return files_in(std::string(TEARLINE_TESTS) + "/fuzz/dxf_corpus");
}

TEST(DxfFuzz, CorpusIsReadOrRefusedCleanly) {
    ASSERT_GE(corpus().size(), 4u);
    for (const std::string& bytes : corpus()) EXPECT_TRUE(holds(bytes)) << bytes;
}

TEST(DxfFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    constexpr unsigned start = 77003;
    RecordProperty("start_value", start);
    std::mt19937 random(start);
    const std::vector<std::string> scraps = {"nan\n",   "-1\n",     "1e308\n",  "0\nVERTEX\n",
                                             "42\n9\n", "\n",       "0\nEOF\n", "70\n1\n",
                                             "\r",      "0\nLINE\n"};
    for (const std::string& bytes : corpus())
        for (int k = 0; k < 400; ++k) {
            const std::string changed = damaged(bytes, random, scraps);
            EXPECT_TRUE(holds(changed)) << changed;
        }
}

}  // namespace
}  // namespace tearline::fuzz

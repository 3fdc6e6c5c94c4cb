#include "tests/fuzz/points_fuzz.h"

#include <gtest/gtest.h>

#include "tests/fuzz/damage_bytes.h"

namespace tearline::fuzz {
namespace {

const std::vector<std::string> scraps = {"nan",
                                         "inf",
                                         "-1e400",
                                         "1e308",
                                         ";",
                                         ",",
                                         "\n",
                                         "#",
                                         "1 2 3\n",
                                         "\t",
                                         "\xff",
                                         std::string(4, '\0'),
                                         "element vertex 4294967295\n",
                                         "property list uchar int vertex_indices\n"};

std::vector<std::string> corpus() {
    return files_in(std::string(TEARLINE_TESTS) + "/fuzz/points_corpus");
}

TEST(PointsFuzz, CorpusIsReadOrRefusedCleanly) {
    ASSERT_GE(corpus().size(), 6u);
    for (const std::string& text : corpus()) EXPECT_TRUE(scan_readers_hold(text)) << text;
}

TEST(PointsFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    constexpr unsigned start = 61103;
    RecordProperty("start_value", start);
    std::mt19937 random(start);
    const auto files = corpus();
    for (int run = 0; run < 6000; ++run) {
        const std::string text =
            damaged(files[static_cast<std::size_t>(run) % files.size()], random, scraps);
        ASSERT_TRUE(scan_readers_hold(text)) << "start value " << start << " run " << run << "\n"
                                             << text;
    }
}

}  // namespace
}  // namespace tearline::fuzz

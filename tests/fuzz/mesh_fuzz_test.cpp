#include "tests/fuzz/mesh_fuzz.h"

#include <gtest/gtest.h>

#include "tests/fuzz/damage_bytes.h"

namespace tearline::fuzz {
namespace {

std::vector<std::string> corpus() {
    return files_in(std::string(TEARLINE_TESTS) + "/fuzz/mesh_corpus");
}

TEST(MeshFuzz, CorpusIsReadOrRefusedCleanly) {
    const auto files = corpus();
    ASSERT_GE(files.size(), 10u);
    for (std::size_t i = 0; i < files.size(); ++i) {
        EXPECT_TRUE(mesh_readers_hold(files[i])) << "file " << i << " of the corpus by name";
    }
}

TEST(MeshFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    constexpr unsigned start = 51207;
    RecordProperty("start_value", start);
    std::mt19937 random(start);
    const std::vector<std::string> scraps = {"nan",
                                             "inf",
                                             "-1",
                                             "1e308",
                                             "4294967295",
                                             "vertex ",
                                             "f 1 2 3\n",
                                             "\n",
                                             "3 ",
                                             "e",
                                             std::string(4, '\xff'),
                                             std::string("\0\0\x80\x7f", 4),
                                             std::string("\0\0\xc0\x7f", 4),
                                             std::string(50, '\0')};
    const auto files = corpus();
    for (int run = 0; run < 6000; ++run) {
        const std::string& whole = files[static_cast<std::size_t>(run) % files.size()];
        ASSERT_TRUE(mesh_readers_hold(damaged(whole, random, scraps)))
            << "start value " << start << " run " << run;
    }
}

}  // namespace
}  // namespace tearline::fuzz

#include "tests/fuzz/job_fuzz.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

namespace tearline::fuzz {
namespace {

std::vector<std::string> corpus() {
    std::vector<std::filesystem::path> files;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(TEARLINE_TESTS) + "/fuzz/job_corpus"))
        files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    std::vector<std::string> texts;
    for (const auto& file : files) {
        std::ifstream in(file, std::ios::binary);
        texts.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
    }
    return texts;
}

bool holds(const std::string& text) {
    return job_reader_holds(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
}

TEST(JobFuzz, CorpusIsReadOrRefusedCleanly) {
    const auto texts = corpus();
    ASSERT_GE(texts.size(), 10u);
    for (const std::string& text : texts) EXPECT_TRUE(holds(text)) << text;
}

TEST(JobFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    // Bytes changed, dropped, doubled and spliced at random from a fixed start value.
    constexpr unsigned start = 77001;
    RecordProperty("start_value", start);
    std::mt19937 random(start);
    const auto pick = [&](std::size_t below) {
        return std::uniform_int_distribution<std::size_t>(0, below - 1)(random);
    };
    static const std::vector<std::string> scraps = {"nan",
                                                    "inf",
                                                    "-1",
                                                    "1e308",
                                                    "[",
                                                    "]",
                                                    "{",
                                                    "}",
                                                    "=",
                                                    "\"",
                                                    "\n",
                                                    "[[",
                                                    ".",
                                                    ",",
                                                    "#",
                                                    "'''",
                                                    "true",
                                                    "\xff",
                                                    "0x7fffffffffffffff"};
    const auto texts = corpus();
    for (int run = 0; run < 4000; ++run) {
        std::string text = texts[pick(texts.size())];
        for (std::size_t change = 1 + pick(4); change > 0 && !text.empty(); --change) {
            const std::size_t at = pick(text.size());
            switch (pick(4)) {
                case 0:
                    text[at] = static_cast<char>(pick(256));
                    break;
                case 1:
                    text.erase(at, 1 + pick(20));
                    break;
                case 2:
                    text.insert(at, scraps[pick(scraps.size())]);
                    break;
                default:
                    text.insert(at, text.substr(pick(text.size()), 1 + pick(40)));
                    break;
            }
        }
        ASSERT_TRUE(holds(text)) << "start value " << start << " run " << run << "\n" << text;
    }
}

}  // namespace
}  // namespace tearline::fuzz

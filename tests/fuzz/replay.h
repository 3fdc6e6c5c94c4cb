#pragma once
#include <gtest/gtest.h>

#include <functional>

#include "tests/fuzz/damage_bytes.h"

namespace tearline::fuzz {

/// What a target says of bytes: false when an answer breaks its contract.
using Holds = std::function<bool(const std::string& bytes)>;

inline std::vector<std::string> corpus_of(const std::string& target) {
    return files_in(std::string(TEARLINE_TESTS) + "/fuzz/" + target + "_corpus");
}

/// Every file of a target's corpus, as it stands.
inline void replay(const std::string& target, const Holds& holds, std::size_t at_least) {
    const std::vector<std::string> corpus = corpus_of(target);
    ASSERT_GE(corpus.size(), at_least);
    for (const std::string& bytes : corpus) EXPECT_TRUE(holds(bytes)) << bytes;
}

/// The files in turn, bytes changed, dropped, doubled and spliced at random from a fixed start
/// value.
inline void replay_damaged(const std::string& target, const Holds& holds, unsigned start, int runs,
                           const std::vector<std::string>& scraps) {
    testing::Test::RecordProperty("start_value", start);
    std::mt19937 random(start);
    const std::vector<std::string> corpus = corpus_of(target);
    for (int run = 0; run < runs; ++run) {
        const std::string bytes =
            damaged(corpus[static_cast<std::size_t>(run) % corpus.size()], random, scraps);
        ASSERT_TRUE(holds(bytes)) << "start value " << start << " run " << run << "\n" << bytes;
    }
}

}  // namespace tearline::fuzz

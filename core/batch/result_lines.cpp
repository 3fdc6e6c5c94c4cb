#include "core/batch/result_lines.h"

namespace tearline::batch {

namespace {

constexpr std::size_t longest = 16u << 20u;  // [bytes] a plan's result has some kB
constexpr std::size_t block = 1u << 16u;     // [bytes] read at once

}  // namespace

ResultLines::ResultLines(const std::filesystem::path& file)
    : in_(file, std::ios::binary), block_(block, '\0') {}

bool ResultLines::next() {
    line_.clear();
    whole_ = false;
    while (!too_long_ && in_) {
        in_.getline(block_.data(), static_cast<std::streamsize>(block_.size()));
        const auto got = static_cast<std::size_t>(in_.gcount());
        const bool part = in_.fail() && !in_.eof() && got > 0;  // of a line longer than the block
        whole_ = !in_.fail() && !in_.eof();
        line_.append(block_.data(), whole_ ? got - 1 : got);  // its end is counted
        if (!part) break;
        in_.clear();
        too_long_ = line_.size() > longest;
    }
    return !too_long_ && (whole_ || !line_.empty());
}

}  // namespace tearline::batch

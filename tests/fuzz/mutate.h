#pragma once
#include <algorithm>
#include <cstdint>
#include <cstring>
#include <functional>
#include <random>
#include <string>
#include <vector>

// Changes that keep a text's structure, so that what is tried gets past the first lines of a
// reader. From libFuzzer: its own changes of single bytes.
extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* data, std::size_t size, std::size_t most);

namespace tearline::fuzz {

/// Draws for one change.
class Draw {
public:
    explicit Draw(unsigned start) : random_(start) {}
    std::size_t below(std::size_t count) { return random_() % std::max<std::size_t>(count, 1); }
    template <class List>
    auto& of(List& list) {
        return list[below(list.size())];
    }

private:
    std::minstd_rand random_;
};

/// Puts a changed text into libFuzzer's buffer: one change in four is of bytes.
inline std::size_t mutated(std::uint8_t* data, std::size_t size, std::size_t most, unsigned start,
                           const std::function<std::string(std::string, Draw&)>& change) {
    Draw draw(start);
    if (draw.below(4) == 0) return LLVMFuzzerMutate(data, size, most);
    std::string text(reinterpret_cast<const char*>(data), size);
    for (std::size_t changes = 1 + draw.below(3); changes > 0; --changes)
        text = change(std::move(text), draw);
    text.resize(std::min(text.size(), most));
    std::memcpy(data, text.data(), text.size());
    return text.size();
}

}  // namespace tearline::fuzz

#pragma once
#include <string>

/// What a page says, for tests of the pages.
namespace tearline::test {

/// How often words occur in a text.
inline std::size_t count(const std::string& text, const std::string& words) {
    std::size_t found = 0;
    for (auto at = text.find(words); at != std::string::npos; at = text.find(words, at + 1))
        ++found;
    return found;
}

inline bool says(const std::string& text, const std::string& words) {
    return count(text, words) > 0;
}

}  // namespace tearline::test

#pragma once
#include <charconv>
#include <string_view>

namespace tearline::hull {

/// Walks over a text line by line and word by word, without copies and whatever the locale.
class TextLines {
public:
    explicit TextLines(std::string_view text) : rest_(text) {}

    /// Moves to the next line; false at the end.
    bool next() {
        if (rest_.empty()) return false;
        const std::size_t end = rest_.find('\n');
        line_ = rest_.substr(0, end);
        rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
        if (!line_.empty() && line_.back() == '\r') line_.remove_suffix(1);
        ++number_;
        return true;
    }

    /// The next word of this line; empty when there is none.
    std::string_view word() {
        const std::size_t start = line_.find_first_not_of(" \t");
        if (start == std::string_view::npos) {
            line_ = {};
            return {};
        }
        const std::size_t end = line_.find_first_of(" \t", start);
        const std::string_view found = line_.substr(start, end - start);
        line_ = end == std::string_view::npos ? std::string_view() : line_.substr(end);
        return found;
    }

    [[nodiscard]] std::string_view whole() const { return line_; }  ///< of this line what is left
    [[nodiscard]] int number() const { return number_; }            ///< of this line, from 1
    [[nodiscard]] std::string_view rest() const { return rest_; }   ///< everything behind it

private:
    std::string_view rest_, line_;
    int number_ = 0;
};

/// Reads a whole word as a number ("+1.5" too); false when it is not one.
template <class Number>
bool read_word(std::string_view word, Number& value) {
    if (!word.empty() && word.front() == '+') word.remove_prefix(1);
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    return error == std::errc() && end == word.data() + word.size() && !word.empty();
}

}  // namespace tearline::hull

#include "core/job/toml_limits.h"

namespace tearline::job {

namespace {

constexpr std::size_t most_bytes = 1u << 20u;  // a thousand outline points are 40 kB
constexpr int most_dots = 32;                  // our deepest key has two

/// A character in UTF-8 at the front of text; nothing where its bytes are none.
std::string_view letter_of(std::string_view text) {
    const auto first = static_cast<unsigned char>(text.front());
    const std::size_t bytes = first >= 0xF0u ? 4 : first >= 0xE0u ? 3 : first >= 0xC2u ? 2 : 0;
    if (text.size() < bytes) return {};
    for (std::size_t i = 1; i < bytes; ++i)
        if ((static_cast<unsigned char>(text[i]) & 0xC0u) != 0x80u) return {};
    return text.substr(0, bytes);
}

bool is_space(char c) {
    return std::string_view(" \t\r\n").find(c) != std::string_view::npos;
}

bool is_foreign(char c) {
    return static_cast<unsigned char>(c) >= 0x80u;
}

/// Walks over TOML text outside strings and comments, counts the dots of a key and finds letters
/// that cannot stand there.
class Walk {
public:
    explicit Walk(std::string_view text) : text_(text) {
        constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
        if (text_.starts_with(byte_order_mark)) at_ = byte_order_mark.size();
    }

    std::optional<TomlExcess> excess() {
        while (at_ < text_.size() && !foreign_) {
            const char c = text_[at_];
            if (c == '"' || c == '\'') {
                skip_string(c);
                continue;
            }
            if (c == '#')
                skip_to_line_end();
            else if (c == '.' && ++dots_ > most_dots)
                return TomlExcess{line_, "a dotted key has more than " + std::to_string(most_dots) +
                                             " parts; a job file's keys have at most 3"};
            else if (c == '\n')
                ++line_, dots_ = 0;
            else if (is_foreign(c))
                refuse_letter(
                    "stands outside quotes, where a job file has none but a to z: put "
                    "the word in quotes, or write a plain space");
            else if (c == ',' || c == '=' || c == '{' || c == '[')
                dots_ = 0;
            if (c != '#') ++at_;
        }
        return foreign_;
    }

private:
    /// What is no letter at all the parser will tell.
    void refuse_letter(const std::string& why) {
        const std::string_view letter = letter_of(text_.substr(at_));
        if (!letter.empty())
            foreign_ = TomlExcess{line_, "the letter \"" + std::string(letter) + "\" " + why};
    }

    void skip_to_line_end() {
        while (at_ < text_.size() && text_[at_] != '\n') ++at_;
    }

    void skip_string(char quote) {
        const std::string triple(3, quote);
        const bool many_lines = text_.substr(at_, 3) == triple;
        at_ += many_lines ? 3 : 1;
        while (at_ < text_.size() && !foreign_) {
            if (text_[at_] == '\n') {
                if (!many_lines) return;  // an unclosed string: the parser will say so
                ++line_;
            }
            if (quote == '"' && text_[at_] == '\\') {
                skip_escape(many_lines);
                continue;
            }
            if (many_lines && text_.substr(at_, 3) == triple) {
                at_ += 3;
                return;
            }
            if (!many_lines && text_[at_] == quote) {
                ++at_;
                return;
            }
            ++at_;
        }
    }

    /// In a text of many lines a backslash swallows the space behind it.
    void skip_escape(bool many_lines) {
        const std::size_t escaped = ++at_;
        if (many_lines)
            for (; at_ < text_.size() && is_space(text_[at_]); ++at_)
                if (text_[at_] == '\n') ++line_;
        if (many_lines && at_ < text_.size() && is_foreign(text_[at_]))
            refuse_letter("stands behind a backslash: take the backslash away");
        else if (at_ == escaped)
            ++at_;
    }

    std::string_view text_;
    std::size_t at_ = 0;
    int line_ = 1;
    int dots_ = 0;
    std::optional<TomlExcess> foreign_;
};

}  // namespace

std::optional<TomlExcess> too_much_for_a_job(std::string_view text) {
    if (text.size() > most_bytes)
        return TomlExcess{1, "the file holds " + std::to_string(text.size()) +
                                 " bytes; a job file has at most " + std::to_string(most_bytes) +
                                 ": is this the hull model?"};
    return Walk(text).excess();
}

}  // namespace tearline::job

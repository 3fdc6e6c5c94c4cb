#include "core/job/toml_limits.h"

namespace tearline::job {

namespace {

constexpr std::size_t most_bytes = 1u << 20u;  // a thousand outline points are 40 kB
constexpr int most_dots = 32;                  // our deepest key has two

/// Walks over TOML text and counts the dots of a key outside strings and comments.
class DotCounter {
public:
    explicit DotCounter(std::string_view text) : text_(text) {}

    /// Line of the first key with too many parts, or 0.
    int line_of_excess() {
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '"' || c == '\'') {
                skip_string(c);
                continue;
            }
            if (c == '#')
                skip_to_line_end();
            else if (c == '.' && ++dots_ > most_dots)
                return line_;
            else if (c == '\n')
                ++line_, dots_ = 0;
            else if (c == ',' || c == '=' || c == '{' || c == '[')
                dots_ = 0;
            if (c != '#') ++at_;
        }
        return 0;
    }

private:
    void skip_to_line_end() {
        while (at_ < text_.size() && text_[at_] != '\n') ++at_;
    }

    void skip_string(char quote) {
        const std::string triple(3, quote);
        const bool many_lines = text_.substr(at_, 3) == triple;
        at_ += many_lines ? 3 : 1;
        while (at_ < text_.size()) {
            if (text_[at_] == '\n') {
                if (!many_lines) return;  // an unclosed string: the parser will say so
                ++line_;
            }
            if (quote == '"' && text_[at_] == '\\') {
                at_ += 2;
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

    std::string_view text_;
    std::size_t at_ = 0;
    int line_ = 1;
    int dots_ = 0;
};

}  // namespace

std::optional<TomlExcess> too_much_for_a_job(std::string_view text) {
    if (text.size() > most_bytes)
        return TomlExcess{1, "the file holds " + std::to_string(text.size()) +
                                 " bytes; a job file has at most " + std::to_string(most_bytes) +
                                 ": is this the hull model?"};
    if (const int line = DotCounter(text).line_of_excess())
        return TomlExcess{line, "a dotted key has more than " + std::to_string(most_dots) +
                                    " parts; a job file's keys have at most 3"};
    return std::nullopt;
}

}  // namespace tearline::job

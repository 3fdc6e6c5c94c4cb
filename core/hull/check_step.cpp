#include "core/hull/check_step.h"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <vector>

namespace tearline::hull {
namespace {

constexpr int deepest_nesting = 64;  // of parentheses; real files stay below 10
constexpr double farthest = 1e9;     // over 1 km in any unit from a micrometre up

/// Walks over the text, knowing strings, comments and parentheses.
class StepScan {
public:
    explicit StepScan(std::string_view text) : text_(text) {}

    std::optional<std::string> flaw() {
        const std::size_t data = text_.find("DATA");
        if (data == std::string_view::npos) return "the STEP file has no DATA section";
        if (text_.find("END-ISO-10303-21", data) == std::string_view::npos) {
            return "the STEP file ends too early: END-ISO-10303-21 is missing; copy or export it "
                   "again";
        }
        while (at_ < text_.size()) {
            if (!step()) return "line " + std::to_string(line_) + ": " + problem_;
        }
        if (depth_ != 0 || in_instance_) {
            return "line " + std::to_string(line_) + ": the last STEP instance is not closed";
        }
        return undefined_reference();
    }

private:
    bool fail(const char* problem) {
        problem_ = problem;
        return false;
    }

    bool step() {
        const char c = text_[at_];
        switch (c) {
            case '\n':
                ++line_;
                break;
            case '\'':
                return skip_string();
            case '/':
                if (text_.substr(at_, 2) == "/*") return skip_comment();
                break;
            case '(':
                if (++depth_ > deepest_nesting) return fail("parentheses nested too deep");
                break;
            case ')':
                if (--depth_ < 0) return fail("a closing parenthesis too many");
                break;
            case ';':
                if (depth_ != 0) return fail("a parenthesis is not closed");
                in_instance_ = false;
                break;
            case '#':
                return read_name();
            case 'C':
                if (text_.substr(at_, point_.size()) == point_) return read_point();
                break;
            case '\0':
                return fail("a zero byte in the text: the STEP file is damaged");
            default:
                break;
        }
        ++at_;
        return true;
    }

    bool skip_string() {
        const std::size_t end = text_.find('\'', at_ + 1);
        if (end == std::string_view::npos) return fail("a text is not closed");
        line_ +=
            static_cast<int>(std::count(text_.begin() + static_cast<std::ptrdiff_t>(at_),
                                        text_.begin() + static_cast<std::ptrdiff_t>(end), '\n'));
        at_ = end + 1;
        return true;
    }

    bool skip_comment() {
        const std::size_t end = text_.find("*/", at_ + 2);
        if (end == std::string_view::npos) return fail("a comment is not closed");
        line_ +=
            static_cast<int>(std::count(text_.begin() + static_cast<std::ptrdiff_t>(at_),
                                        text_.begin() + static_cast<std::ptrdiff_t>(end), '\n'));
        at_ = end + 2;
        return true;
    }

    /// A point that lies nowhere near a hull sends the library to mesh for ever; read on behind it.
    bool read_point() {
        at_ += point_.size();
        const std::size_t end = text_.find(';', at_);
        for (std::size_t i = at_; i < std::min(end, text_.size()); ++i) {
            if (text_[i] == '\'') i = std::min(text_.find('\'', i + 1), text_.size() - 1);
            if (text_[i] != ',' && text_[i] != '(') continue;
            const std::size_t digit = text_.find_first_not_of(" \t\r\n", i + 1);
            if (digit == std::string_view::npos) break;
            double number = 0.0;
            const auto [behind, error] =
                std::from_chars(text_.data() + digit, text_.data() + text_.size(), number);
            const std::string_view read(text_.data() + digit,
                                        static_cast<std::size_t>(behind - text_.data()) - digit);
            const bool too_large = error == std::errc::result_out_of_range &&
                                   read.find("E-") == std::string_view::npos;
            if (too_large || std::abs(number) > farthest) {
                return fail("a point lies over 1 km out: the STEP file is damaged");
            }
        }
        return true;
    }

    bool read_name() {
        std::int64_t number = 0;
        const char* first = text_.data() + at_ + 1;
        const auto [end, error] = std::from_chars(first, text_.data() + text_.size(), number);
        if (error != std::errc() || number <= 0) return fail("'#' without a number behind it");
        at_ = static_cast<std::size_t>(end - text_.data());
        std::size_t next = at_;
        while (next < text_.size() && std::isspace(static_cast<unsigned char>(text_[next]))) ++next;
        const bool defines = depth_ == 0 && next < text_.size() && text_[next] == '=';
        if (defines && in_instance_) return fail("an instance begins before the last is closed");
        if (defines) {
            in_instance_ = true;
            defined_.push_back(number);
        } else {
            used_.push_back({number, line_});
        }
        return true;
    }

    std::optional<std::string> undefined_reference() {
        if (defined_.empty()) return "the DATA section of the STEP file is empty";
        std::sort(defined_.begin(), defined_.end());
        if (std::adjacent_find(defined_.begin(), defined_.end()) != defined_.end()) {
            return "two STEP instances have the same number: the file is damaged";
        }
        for (const Use& use : used_) {
            if (!std::binary_search(defined_.begin(), defined_.end(), use.number)) {
                return "line " + std::to_string(use.line) + ": #" + std::to_string(use.number) +
                       " is used but defined nowhere: the STEP file is damaged";
            }
        }
        return std::nullopt;
    }

    struct Use {
        std::int64_t number;
        int line;
    };
    static constexpr std::string_view point_ = "CARTESIAN_POINT";
    std::string_view text_;
    std::size_t at_ = 0;
    int line_ = 1, depth_ = 0;
    bool in_instance_ = false;
    const char* problem_ = "";
    std::vector<std::int64_t> defined_;
    std::vector<Use> used_;
};

}  // namespace

std::optional<std::string> flaw_in_step(std::string_view text) {
    return StepScan(text).flaw();
}

}  // namespace tearline::hull

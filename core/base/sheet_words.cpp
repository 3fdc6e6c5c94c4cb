#include "core/base/sheet_words.h"

#include <algorithm>
#include <utility>

namespace tearline {

namespace {

std::size_t letters_in(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0) != 0x80;  // not a continuation byte of UTF-8
    }));
}

}  // namespace

std::vector<std::string> broken(const std::string& text, std::size_t letters) {
    std::vector<std::string> lines;
    std::string line, word;
    const auto end_word = [&] {
        if (!line.empty() && letters_in(line) + 1 + letters_in(word) > letters) {
            lines.push_back(std::move(line));
            line.clear();
        }
        if (!line.empty() && !word.empty()) line += ' ';
        line += word;
        word.clear();
    };
    for (const char c : text) {
        if (c == ' ' || c == '\n')
            end_word();
        else
            word += c;
    }
    end_word();
    if (!line.empty()) lines.push_back(std::move(line));
    return lines;
}

std::vector<std::string> title_lines(const std::string& title) {
    std::vector<std::string> lines = broken(title, 26);
    if (lines.size() > 2) {
        lines.resize(2);
        lines.back() += " …";
    }
    return lines;
}

std::string in_capitals(std::string words) {
    for (char& c : words)
        if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    return words;
}

std::string quarter_words(const std::array<std::string, 4>& ends) {
    std::string out;
    for (std::size_t i = 0; i < ends.size(); ++i)
        out += (i == 0 ? "" : ", ") + ends[i] + " at " + std::to_string(90 * i) + "\u00b0";
    return out;
}

std::vector<std::string> guide_words(const std::string& title, const std::string& model_sha256) {
    std::vector<std::string> lines = {"GRIND GUIDE", face_words};
    for (std::string& line : title_lines(title)) lines.push_back(std::move(line));
    lines.push_back("model " + model_sha256.substr(0, 8));
    return lines;
}

}  // namespace tearline

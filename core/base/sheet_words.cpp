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

/// The beginning of a text, letters whole.
std::string first_letters(const std::string& text, std::size_t letters) {
    std::size_t end = 0;
    for (; end < text.size(); ++end)
        if ((static_cast<unsigned char>(text[end]) & 0xC0) != 0x80 && letters-- == 0) break;
    return text.substr(0, end);
}

}  // namespace

std::string shortened(const std::string& text, std::size_t letters) {
    if (letters_in(text) <= letters) return text;
    return first_letters(text, letters - 1) + "…";
}

std::vector<std::string> broken(const std::string& text, std::size_t letters) {
    std::vector<std::string> lines;
    std::string line, word;
    const auto end_word = [&] {
        if (!line.empty() && letters_in(line) + 1 + letters_in(word) > letters) {
            lines.push_back(std::move(line));
            line.clear();
        }
        while (line.empty() && letters_in(word) > letters) {
            const std::string part = first_letters(word, letters - 1);
            lines.push_back(part + "-");
            word.erase(0, part.size());
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

std::vector<std::string> name_lines(const std::string& name) {
    std::vector<std::string> lines = broken(name, 26);
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
    for (std::string& line : name_lines(title)) lines.push_back(std::move(line));
    lines.push_back("model " + model_sha256.substr(0, 8));
    return lines;
}

}  // namespace tearline

#pragma once
#include <map>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

/// A page of HTML as its reader sees it: headings, paragraphs and tables as plain words. A small
/// reader of its own, so that no word is looked for in the markup alone; pictures are left out.
namespace tearline::test {

struct SheetTable {
    std::string heading;  ///< of the section that it stands in
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows;

    /// The row whose first cell holds these words; throws where none or several do.
    [[nodiscard]] const std::vector<std::string>& row(const std::string& first,
                                                      std::size_t column = 0) const {
        const std::vector<std::string>* found = nullptr;
        for (const auto& cells : rows) {
            if (cells.size() <= column || cells[column].find(first) == std::string::npos) continue;
            if (found) throw std::runtime_error("two rows of '" + first + "'");
            found = &cells;
        }
        if (!found) throw std::runtime_error("no row of '" + first + "'");
        return *found;
    }
};

/// Reads the page once; throws where an element closes that is not the one open last.
class SheetReader {
public:
    explicit SheetReader(const std::string& html) {
        std::size_t at = 0;
        while (at < html.size()) {
            if (html[at] != '<') {
                const auto next = std::min(html.find('<', at), html.size());
                words(html.substr(at, next - at));
                at = next;
                continue;
            }
            const auto end = html.find('>', at);
            if (end == std::string::npos) throw std::runtime_error("an element without an end");
            element(html.substr(at + 1, end - at - 1));
            at = end + 1;
        }
        if (!open_.empty()) throw std::runtime_error("never closed: " + open_.back());
    }

    std::vector<std::string> headings;
    std::vector<std::string> paragraphs;  ///< lines to tick off too
    std::vector<std::string> items;       ///< of lists
    std::vector<SheetTable> tables;

    /// The one paragraph that begins so.
    [[nodiscard]] std::string paragraph(const std::string& begin) const {
        std::string found;
        for (const std::string& text : paragraphs)
            if (text.starts_with(begin)) {
                if (!found.empty()) throw std::runtime_error("two paragraphs: " + begin);
                found = text;
            }
        return found;
    }

private:
    static std::string trimmed(const std::string& text) {
        std::string out;
        for (const char c : text) {
            const bool space = c == ' ' || c == '\n';
            if (!space)
                out += c;
            else if (!out.empty() && out.back() != ' ')
                out += ' ';
        }
        while (!out.empty() && out.back() == ' ') out.pop_back();
        return out;
    }

    void words(std::string text) {
        if (pictures_ > 0) return;
        const std::map<std::string, std::string> entities = {
            {"&#160;", " "}, {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&amp;", "&"}};
        for (const auto& [name, meant] : entities)
            for (auto at = text.find(name); at != std::string::npos; at = text.find(name, at + 1))
                text.replace(at, name.size(), meant);
        text_ += text;
    }

    void element(const std::string& inside) {
        if (inside.starts_with('!') || inside.starts_with('?')) return;
        if (inside.starts_with('/')) return close(inside.substr(1));
        const std::string name = inside.substr(0, inside.find_first_of(" /"));
        if (inside.ends_with('/')) {
            if (name == "br") text_ += " ";
            return;
        }
        open_.push_back(name);
        if (name == "svg") ++pictures_;
        if (name == "table") tables.push_back({headings.empty() ? "" : headings.back(), {}, {}});
        if (name == "tr") head_row_ = true, cells_.clear();
        if (name == "td") head_row_ = false;
        for (const char* block : {"p", "h1", "h2", "td", "th", "li", "style", "title"})
            if (name == block) text_.clear();
    }

    void close(const std::string& name) {
        if (open_.empty() || open_.back() != name)
            throw std::runtime_error("closes what is not open: " + name);
        open_.pop_back();
        const std::string text = trimmed(text_);
        if (name == "svg") --pictures_;
        if (name == "h2") headings.push_back(text);
        if (name == "p") paragraphs.push_back(text);
        if (name == "li") items.push_back(text);
        if (name == "td" || name == "th") cells_.push_back(text);
        if (name == "tr" && head_row_) tables.back().head = cells_;
        if (name == "tr" && !head_row_) tables.back().rows.push_back(cells_);
    }

    std::vector<std::string> open_, cells_;
    std::string text_;
    int pictures_ = 0;
    bool head_row_ = true;
};

}  // namespace tearline::test

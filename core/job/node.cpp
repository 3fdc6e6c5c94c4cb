#include "core/job/node.h"

#include "core/base/numbers.h"

namespace tearline::job {

namespace {
constexpr std::size_t longest_shown = 60;

/// Cuts at a whole UTF-8 character, so that a message stays valid text.
std::string shortened(std::string text, std::size_t longest) {
    if (text.size() <= longest) return text;
    std::size_t end = longest;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0u) == 0x80u) --end;
    return text.substr(0, end) + "...";
}

std::string shown_list(const Node& node, char open, char close) {
    std::string out(1, open);
    for (std::size_t i = 0; i < node.items.size() && out.size() <= longest_shown; ++i) {
        if (i > 0) out += ", ";
        if (node.kind == Node::Kind::table) out += quotable(node.items[i].key) + " = ";
        out += node.items[i].shown();
    }
    return shortened(out + close, longest_shown);
}
}  // namespace

std::string quotable(std::string_view text, std::size_t longest) {
    static constexpr char hex[] = "0123456789abcdef";
    std::string out;
    for (const char c : text.substr(0, longest + 4)) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x20u || byte == 0x7Fu) {
            out += "\\x";
            out += hex[byte >> 4u];
            out += hex[byte & 15u];
        } else {
            out += c;
        }
    }
    return shortened(std::move(out), longest);
}

const Node* Node::find(std::string_view name) const {
    if (kind != Kind::table) return nullptr;
    for (const Node& item : items)
        if (item.key == name) return &item;
    return nullptr;
}

std::string Node::shown() const {
    switch (kind) {
        case Kind::table:
            return shown_list(*this, '{', '}');
        case Kind::array:
            return shown_list(*this, '[', ']');
        case Kind::text:
            return '"' + quotable(text) + '"';
        case Kind::number:
            return shortest(number);
        case Kind::boolean:
            return truth ? "true" : "false";
        case Kind::time:
            return "a date or time";
        case Kind::nothing:
            return "nothing";
    }
    return {};
}

}  // namespace tearline::job

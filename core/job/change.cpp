#include "core/job/change.h"

#include "core/job/parse_toml.h"
#include "core/job/trimmed.h"

namespace tearline::job {

namespace {

/// Where text lies inside brackets or quotes; a quote that is never closed is a letter ("6' long").
class Nesting {
public:
    explicit Nesting(std::string_view text) : text_(text) {}

    /// Whether the character there stands outside all of them.
    bool outside(std::size_t at) {
        const char c = text_[at];
        if (quote_ != '\0') {
            if (c == '\\' && quote_ == '"') escaped_ = !escaped_;
            if (c == quote_ && !escaped_) quote_ = '\0';
            if (c != '\\') escaped_ = false;
            return false;
        }
        if ((c == '"' || c == '\'') && text_.find(c, at + 1) != std::string_view::npos) quote_ = c;
        if (c == '[' || c == '{') ++depth_;
        if ((c == ']' || c == '}') && depth_ > 0) --depth_;
        return quote_ == '\0' && depth_ == 0;
    }

private:
    std::string_view text_;
    int depth_ = 0;
    char quote_ = '\0';
    bool escaped_ = false;
};

std::vector<std::string> parted(std::string_view text) {
    std::vector<std::string> parts;
    Nesting nesting(text);
    std::size_t start = 0;
    for (std::size_t at = 0; at < text.size(); ++at)
        if (nesting.outside(at) && text[at] == ',') {
            parts.emplace_back(trimmed(text.substr(start, at - start)));
            start = at + 1;
        }
    parts.emplace_back(trimmed(text.substr(start)));
    return parts;
}

}  // namespace

tl::expected<Variation, std::string> read_variation(std::string_view words) {
    const std::string quoted = "'" + quotable(words) + "'";
    const auto equals = words.find('=');
    if (equals == std::string_view::npos)
        return tl::unexpected(quoted +
                              " has no '=': write the key and its values, as scarf.ratio=8,12,20");
    Variation out{std::string(trimmed(words.substr(0, equals))), parted(words.substr(equals + 1))};
    if (out.key.empty() || out.key.front() == '.' || out.key.back() == '.' ||
        out.key.find("..") != std::string::npos)
        return tl::unexpected(quoted + " names no key: write it with its table, as scarf.ratio");
    for (const std::string& value : out.values)
        if (value.empty())
            return tl::unexpected(quoted +
                                  " has an empty value; part values by one comma each, as "
                                  "scarf.ratio=8,12,20");
    return out;
}

Node value_of(std::string_view text) {
    // As an item of a list, so that what follows a value ('# ...', another one) makes it text.
    const auto root = parse_toml("value = [" + std::string(text) + "]", "");
    if (root && root->items.size() == 1 && root->items.front().items.size() == 1 &&
        text.find('\n') == std::string_view::npos)
        return root->items.front().items.front();
    return {.kind = Node::Kind::text, .text = std::string(text)};
}

Result<void> apply_change(Node& root, const Change& change) {
    Node* table = &root;
    std::string_view rest = change.key;
    for (;;) {
        if (table->kind != Node::Kind::table)
            return bad_input(change.key,
                             "leads through what is no table: only a key of a table can be given "
                             "other values");
        const auto dot = rest.find('.');
        const std::string name(rest.substr(0, dot));
        Node* found = nullptr;
        for (Node& item : table->items)
            if (item.key == name) found = &item;
        if (found == nullptr) {
            table->items.push_back({.key = name, .line = table->line});
            found = &table->items.back();
        }
        if (dot == std::string_view::npos) {
            Node value = value_of(change.text);
            value.key = name;
            value.line = found->line;
            *found = std::move(value);
            return {};
        }
        table = found;
        rest.remove_prefix(dot + 1);
    }
}

}  // namespace tearline::job

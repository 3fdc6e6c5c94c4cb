#include "core/job/change.h"

#include <algorithm>

#include "core/job/is_one_of.h"
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

/// A key that says what other keys of its table would say in another way.
struct OtherWay {
    std::vector<std::string_view> tables;
    std::string_view key;
    std::vector<std::string_view> others;
};

/// What a repair replaces (merge_repair.cpp), by the key: a varied radius keeps its centre.
const std::vector<OtherWay>& other_ways() {
    static const std::vector<std::string_view> layups = {"layup", "inside", "inner", "outer"};
    static const std::vector<OtherWay> ways = {
        {{"damage"}, "outline", {"centre", "radius", "length", "height"}},
        {{"damage"}, "centre", {"outline"}},
        {{"damage"}, "radius", {"length", "height"}},
        {{"damage"}, "length", {"radius"}},
        {{"damage"}, "height", {"radius"}},
        {{"damage"}, "depth", {"through"}},
        {{"damage"}, "through", {"depth"}},
        {layups, "stack", {"fill", "fill_to"}},
        {layups, "fill", {"stack"}},
        {{"old_laminate"}, "stack", {"thickness", "kind"}},
        {{"old_laminate"}, "thickness", {"stack"}},
    };
    return ways;
}

/// Takes out of the tree what a change says in another way; "through = false" says nothing.
void drop_other_ways(Node& root, const Change& change) {
    Node* table = &root;
    std::string_view rest = change.key;
    for (auto dot = rest.find('.'); dot != std::string_view::npos; dot = rest.find('.')) {
        const auto found =
            std::find_if(table->items.begin(), table->items.end(),
                         [&](const Node& item) { return item.key == rest.substr(0, dot); });
        if (found == table->items.end()) return;
        table = &*found;
        rest.remove_prefix(dot + 1);
    }
    if (change.text == "false") return;
    for (const OtherWay& way : other_ways())
        if (way.key == rest && is_one_of(table->key, way.tables))
            std::erase_if(table->items,
                          [&](const Node& item) { return is_one_of(item.key, way.others); });
}

/// Sets the value of a key in a tree; tables on the way there are made.
Result<void> set_value(Node& root, const Change& change) {
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

Result<void> apply_changes(Node& root, const Changes& changes) {
    // All of them first: of two ways that are varied both, neither is passed over in silence.
    for (const Change& change : changes) drop_other_ways(root, change);
    for (const Change& change : changes)
        if (auto set = set_value(root, change); !set) return set;
    return {};
}

}  // namespace tearline::job

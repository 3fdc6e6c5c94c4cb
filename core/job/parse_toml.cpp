#include "core/job/parse_toml.h"

#define TOML_EXCEPTIONS 0
// The library asserts what a malformed file can break; without the assertion it answers with an
// error.
#define TOML_ASSERT(condition) static_cast<void>(0)
#include <toml++/toml.h>

#include <algorithm>
#include <cctype>

#include "core/job/toml_limits.h"
#include "core/job/trimmed.h"
#include "core/job/unquoted_figure.h"

namespace tearline::job {

namespace {

int line_of(const toml::node& node) {
    return std::max(1, static_cast<int>(node.source().begin.line));
}

Node converted(const toml::node& source);

void convert_items(const toml::table& table, Node& out) {
    for (const auto& [key, value] : table) {
        out.items.push_back(converted(value));
        out.items.back().key = std::string(key.str());
        // A key's own line is where a reader of the message looks, also for a long array.
        if (key.source().begin) out.items.back().line = static_cast<int>(key.source().begin.line);
    }
    // The library sorts by key; a person reads by line.
    std::stable_sort(out.items.begin(), out.items.end(),
                     [](const Node& a, const Node& b) { return a.line < b.line; });
}

Node converted(const toml::node& source) {
    Node out;
    out.line = line_of(source);
    switch (source.type()) {
        case toml::node_type::table:
            out.kind = Node::Kind::table;
            convert_items(*source.as_table(), out);
            break;
        case toml::node_type::array:
            out.kind = Node::Kind::array;
            for (const auto& item : *source.as_array()) out.items.push_back(converted(item));
            break;
        case toml::node_type::string:
            out.kind = Node::Kind::text;
            out.text = source.as_string()->get();
            break;
        case toml::node_type::integer:
            out.kind = Node::Kind::number;
            out.integer = true;
            out.number = static_cast<double>(source.as_integer()->get());
            break;
        case toml::node_type::floating_point:
            out.kind = Node::Kind::number;
            out.number = source.as_floating_point()->get();
            break;
        case toml::node_type::boolean:
            out.kind = Node::Kind::boolean;
            out.truth = source.as_boolean()->get();
            break;
        default:
            out.kind = Node::Kind::time;
            break;
    }
    return out;
}

/// What the library says, in the words of one who mends the file.
std::string in_plain_words(std::string_view said) {
    constexpr std::string_view twice = "cannot redefine existing ";
    if (const auto at = said.find(twice); at != std::string_view::npos) {
        const auto from = said.find('\'', at), to = said.rfind('\'');
        if (from != std::string_view::npos && to > from) {
            const bool table = said.substr(at + twice.size()).starts_with("table");
            return (table ? "table " : "key ") + quotable(said.substr(from + 1, to - from - 1)) +
                   " is given twice; " + (table ? "join the two" : "keep one");
        }
    }
    std::string lower(said);
    std::transform(lower.begin(), lower.end(), lower.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    const bool letters = lower.find("utf-8") != std::string::npos;
    return "not a TOML file: " + quotable(said, 300) + (letters ? "; save the file as UTF-8" : "");
}

/// A line of the text with the table that it stands in.
struct Line {
    std::string_view text, table;

    /// "damage.depth"
    [[nodiscard]] std::string path() const {
        const auto equals = text.find('=');
        std::string path = quotable(table);
        if (equals != std::string_view::npos)
            path += (path.empty() ? "" : ".") + quotable(trimmed(text.substr(0, equals)));
        return path;
    }
};

/// @param number  from 1
Line line_at(std::string_view text, unsigned number) {
    Line line;
    for (; number > 0; --number) {
        const auto end = text.find('\n');
        line.text = trimmed(text.substr(0, end));
        if (number > 1 && line.text.starts_with('[') &&
            line.text.find('=') == std::string_view::npos)
            if (const auto close = line.text.find(']'); close != std::string_view::npos)
                line.table = trimmed(line.text.substr(0, close));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    line.table.remove_prefix(std::min(line.table.find_first_not_of('['), line.table.size()));
    return line;
}

}  // namespace

Result<Node> parse_toml(std::string_view text, std::string_view name) {
    if (const auto reason = too_much_for_a_job(text))
        return bad_file(std::string(name), reason->message, static_cast<int>(reason->line));
    const toml::parse_result parsed = toml::parse(text, std::string(name));
    if (!parsed) {
        const toml::parse_error& error = parsed.error();
        const unsigned number = std::max<unsigned>(1u, error.source().begin.line);
        const Line line = line_at(text, number);
        const auto figure = unquoted_figure(line.text);
        return tl::unexpected<Error>(
            Error{.key = figure ? line.path() : "",
                  .what = figure ? *figure : in_plain_words(error.description()),
                  .file = std::string(name),
                  .line = static_cast<int>(number)});
    }
    return converted(parsed.table());
}

}  // namespace tearline::job

#pragma once
#include <algorithm>
#include <functional>
#include <initializer_list>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/job/job.h"
#include "core/job/table_reader.h"

/// A key of the job file, told once: the reader, the effective job, `tearline new`, the marks of
/// defaults and the CAD plugin derive from its row.
namespace tearline::job {

/// What a default rests on (SOURCES.md section 10).
namespace rests_on {
inline constexpr std::string_view unmarked;       ///< it says which repair it is: no mark
inline constexpr std::string_view form = "form";  ///< of writing or working, no figure of the trade
inline constexpr std::string_view common_practice = "common practice";
inline constexpr std::string_view from_memory = "from memory";
inline constexpr std::string_view published = "published";
}  // namespace rests_on

/// The defaults of a key: none, one, or one for each kind of resin or cloth that has any.
struct Defaults {
    struct OfKind {
        std::string_view of;  ///< "mat", "epoxy", "US units"; "" for any
        std::string_view mark;
    };
    std::vector<OfKind> all;

    Defaults() = default;
    Defaults(std::string_view mark) : all{{"", mark}} {}                 // NOLINT: implicit
    Defaults(std::initializer_list<OfKind> of_kinds) : all(of_kinds) {}  // NOLINT: implicit
};

/// How what a T holds under a key is read from a job file, and written again.
template <class T>
struct Value {
    std::string_view kind;  ///< "length", "number", "choice", ...: as `serve` tells it
    /// Refuses what is wrong and leaves T alone where the key is absent; nothing: read by a rule.
    std::function<void(TableReader&, std::string_view key, T&, Job&)> read{};
    std::function<Node(const T&)> write{};
    std::optional<Range> range{};
    std::string_view unit{};  ///< of a number without one; nothing for a bare fraction
    std::vector<std::string_view> choices{};
};

/// One row of a table of the job file.
template <class T>
struct Key {
    struct More {
        std::string_view above{};            ///< lines before it in a new job file
        std::string_view required{};         ///< what belongs there: a file without it is refused
        bool stands = false;                 ///< a new job file says it; others stand behind "#"
        bool or_left_out = false;            ///< of the effective job where nothing is held
        bool (*counts)(const T&) = nullptr;  ///< whether it says anything here; null: always
    };
    std::string_view name;
    Value<T> value;
    Defaults defaults;
    std::string_view meaning;
    /// Behind "key = " in a new job file: "8 # thickness". Without a value the default stands
    /// there, without "#" the meaning behind it.
    std::string_view shown;
    std::string_view on_sheet;  ///< what the sheet calls it where a default stands in
    More more;

    [[nodiscard]] std::string_view form() const {
        const auto hash = shown.find('#');
        return hash == std::string_view::npos ? shown : shown.substr(0, hash - (hash > 0 ? 1 : 0));
    }
    [[nodiscard]] std::string_view note() const {
        const auto hash = shown.find('#');
        if (hash == std::string_view::npos) return meaning;
        return shown.substr(std::min(hash + 2, shown.size()));
    }
    [[nodiscard]] bool is_table() const { return value.kind == "table" || value.kind == "tables"; }
    [[nodiscard]] Node written(const T& of) const {
        return more.counts == nullptr || more.counts(of) ? value.write(of) : Node::nothing();
    }
};

template <class T>
Key<T> key(std::string_view name, Value<T> value, Defaults defaults, std::string_view meaning,
           std::string_view shown = {}, std::string_view on_sheet = {},
           typename Key<T>::More more = {}) {
    return {name, std::move(value), std::move(defaults), meaning, shown, on_sheet, more};
}

/// The keys of one table.
template <class T>
struct Table {
    std::string_view path;     ///< "hull.measured"; nothing for the top of the file
    std::vector<Key<T>> keys;  ///< in the order of a new job file and of the effective job
    /// What holds before anything is read, by kind as in `Defaults`; the first for any.
    std::vector<std::pair<std::string_view, T>> usual = {{"", T{}}};

    [[nodiscard]] std::vector<std::string_view> names() const {
        std::vector<std::string_view> names;
        for (const Key<T>& key : keys) names.push_back(key.name);
        return names;
    }
    [[nodiscard]] std::size_t place_of(std::string_view name) const {
        const auto names = this->names();
        const auto found = std::find(names.begin(), names.end(), name);
        if (found == names.end()) throw std::logic_error("no key " + std::string(name));
        return static_cast<std::size_t>(found - names.begin());
    }
    [[nodiscard]] Node default_of(const Key<T>& key, std::string_view of) const {
        for (const auto& [name, object] : usual)
            if (name == of) return key.written(object);
        return key.written(usual.front().second);
    }
};

/// What a T holds, key by key.
template <class T>
Node written(const Table<T>& table, const T& of) {
    Node out;
    for (const Key<T>& key : table.keys) {
        Node value = key.written(of);
        if (key.more.or_left_out && value.kind == Node::Kind::nothing) continue;
        value.key = key.name;
        out.items.push_back(std::move(value));
    }
    return out;
}

/// Reads a table of a job file by the rows of its keys; the rules that span keys stand between.
template <class T>
class KeyReader : public TableReader {
public:
    /// @param table  nullptr when the file has no such table
    /// @param path   as in messages
    /// @param out    holds the defaults already
    KeyReader(Refusals& refusals, const Node* table, std::string path, const Table<T>& keys, T& out,
              Job& job)
        : TableReader(refusals, table, std::move(path), keys.names()),
          keys_(keys),
          out_(out),
          job_(job),
          done_(keys.keys.size(), false) {}

    void read(std::string_view key) { read_row(keys_.place_of(key)); }
    /// A required key that others stand in for.
    void leave_out(std::string_view key) { done_[keys_.place_of(key)] = true; }
    /// Every key that was not read yet, up to this one.
    void through(std::string_view last) { read_rows(keys_.place_of(last) + 1); }
    /// Every key that was not read yet.
    void rest() { read_rows(keys_.keys.size()); }

private:
    void read_rows(std::size_t end) {
        for (std::size_t i = 0; i < end; ++i) read_row(i);
    }
    void read_row(std::size_t i) {
        if (done_[i]) return;
        done_[i] = true;
        const Key<T>& key = keys_.keys[i];
        if (!key.more.required.empty()) require(key.name, std::string(key.more.required));
        if (key.value.read) key.value.read(*this, key.name, out_, job_);
    }

    const Table<T>& keys_;
    T& out_;
    Job& job_;
    std::vector<bool> done_;
};

}  // namespace tearline::job

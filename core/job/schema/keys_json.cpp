#include "core/job/schema/keys_json.h"

#include "core/job/node_json.h"
#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

void say(Node& table, std::string_view key, Node value) {
    value.key = key;
    table.items.push_back(std::move(value));
}

void say(Node& table, std::string_view key, std::string_view words) {
    if (!words.empty()) say(table, key, node_of(words));
}

Node told(const Range& range) {
    Node out;
    say(out, "least", node_of(range.least));
    say(out, "most", node_of(range.most));
    say(out, "least_itself", node_of(range.least_itself));
    say(out, "most_itself", node_of(range.most_itself));
    return out;
}

template <class T>
Node told(const Table<T>& table, const Key<T>& key) {
    Node out;
    say(out, "table", node_of(table.path));
    say(out, "key", key.name);
    say(out, "kind", key.value.kind);
    say(out, "unit", key.value.unit);
    if (key.value.range) say(out, "range", told(*key.value.range));
    if (!key.value.choices.empty()) say(out, "choices", node_of(key.value.choices));
    Node defaults{.kind = Node::Kind::array};
    for (const Defaults::OfKind& each : key.defaults.all) {
        Node one;
        say(one, "of", node_of(each.of));
        say(one, "value", table.default_of(key, each.of));
        say(one, "mark", each.mark);
        defaults.items.push_back(std::move(one));
    }
    if (!defaults.items.empty()) say(out, "defaults", std::move(defaults));
    say(out, "form", key.form());
    say(out, "meaning", key.meaning);
    say(out, "on_sheet", key.on_sheet);
    return out;
}

}  // namespace

std::string keys_json() {
    Node list{.kind = Node::Kind::array};
    for_each_table([&list](const auto& table) {
        for (const auto& key : table.keys)
            if (!key.is_table()) list.items.push_back(told(table, key));
    });
    Node out;
    say(out, "keys", std::move(list));
    return json_text(out);
}

}  // namespace tearline::job

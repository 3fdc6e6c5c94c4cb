#include "core/job/merge_repair.h"
#include "core/job/is_one_of.h"

#include <algorithm>

namespace tearline::job {

namespace {

using Names = std::vector<std::string_view>;

/// Ways of saying one thing in a table, of which one holds.
struct Ways {
    std::string_view table;
    Names keys;
};

const std::vector<Ways>& all_ways() {
    static const std::vector<Ways> ways = {
        {"damage", {"outline", "centre", "radius", "length", "height", "within"}},
        {"damage", {"depth", "through", "reaches", "sounding", "scan", "scan_after", "round"}},
        {"layup", {"stack", "fill", "fill_to"}},
        {"inside", {"stack", "fill", "fill_to"}},
        {"inner", {"stack", "fill", "fill_to"}},
        {"outer", {"stack", "fill", "fill_to"}},
        {"old_laminate", {"stack", "thickness", "kind"}},
    };
    return ways;
}

bool has_any(const Node& table, const Names& keys) {
    return std::any_of(keys.begin(), keys.end(),
                       [&](std::string_view key) { return table.find(key) != nullptr; });
}

void drop_other_ways(Node& top, const Node& over) {
    for (const Ways& ways : all_ways()) {
        if (ways.table != top.key || !has_any(over, ways.keys)) continue;
        // A place of its own, as large as the others; with a scan its edge is found in that.
        const bool takes_size = ways.keys.front() == "outline" && over.find("centre") != nullptr &&
                                !has_any(over, {"outline", "radius", "length", "height", "scan"});
        std::erase_if(top.items, [&](const Node& item) {
            if (takes_size && is_one_of(item.key, {"radius", "length", "height"})) return false;
            return is_one_of(item.key, ways.keys);
        });
    }
}

/// Tables within tables that are merged key by key; others (a point, say) are values.
const Names nested = {"inside", "inner", "outer"};

void lay_over(Node& top, const Node& over, const Names& merged) {
    drop_other_ways(top, over);
    for (const Node& item : over.items) {
        const auto known = std::find_if(top.items.begin(), top.items.end(),
                                        [&](const Node& of) { return of.key == item.key; });
        if (known == top.items.end()) {
            top.items.push_back(item);
        } else if (is_one_of(item.key, merged) && item.kind == Node::Kind::table &&
                   known->kind == Node::Kind::table) {
            known->line = item.line;
            lay_over(*known, item, nested);
        } else {
            *known = item;
        }
    }
}

/// A key of [layup] that may stand in the repair itself.
void move_to_layup(Node& repair, std::string_view key) {
    const auto found = std::find_if(repair.items.begin(), repair.items.end(),
                                    [&](const Node& item) { return item.key == key; });
    if (found == repair.items.end()) return;
    Node value = std::move(*found);
    repair.items.erase(found);
    auto layup = std::find_if(repair.items.begin(), repair.items.end(),
                              [](const Node& item) { return item.key == "layup"; });
    if (layup == repair.items.end()) {
        repair.items.push_back({.key = "layup", .line = value.line});
        layup = std::prev(repair.items.end());
    }
    layup->items.push_back(std::move(value));
}

}  // namespace

const Names& shared_tables() {
    static const Names names = {"tearline", "display_units", "hull", "marks", "fabric",
                                "resin",    "laminator",     "shop", "prices"};
    return names;
}

const Names& tables_of_a_repair() {
    static const Names names = {"damage", "scarf",   "layup",       "backing",
                                "core",   "topcoat", "old_laminate"};
    return names;
}

Node merged_repair(const Node& top, const Node& repair) {
    Node out = top;
    std::erase_if(out.items, [](const Node& item) {
        return is_one_of(item.key, {"title", "repair", "remnant", "allow_overlap"});
    });
    Node own = repair;
    std::erase_if(own.items, [](const Node& item) {
        return is_one_of(item.key, {"name", "title"});
    });
    move_to_layup(own, "copies");
    move_to_layup(own, "press_first");
    lay_over(out, own, tables_of_a_repair());
    return out;
}

}  // namespace tearline::job

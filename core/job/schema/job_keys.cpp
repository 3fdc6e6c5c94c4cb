#include <set>

#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

using namespace rests_on;

Value<Job> version() {
    Value<Job> value{.kind = "whole number"};
    value.read = [](TableReader& in, std::string_view key, Job&, Job&) {
        const Node* version = in.find(key);
        if (version != nullptr && (!version->integer || version->number != 1.0))
            in.refuse(key, "this program reads job files of version 1");
    };
    value.write = [](const Job& of) { return node_of(of.version); };
    return value;
}

/// A table whose own reader reads it.
Value<Job> told_by(Node (*write)(const Job&)) {
    Value<Job> value{.kind = "table"};
    value.write = write;
    return value;
}

Node marks(const Job& job) {
    if (job.marks.empty()) return Node::nothing();
    Node all;
    for (const Mark& mark : job.marks) {
        all.items.push_back(written(mark_keys(), mark));
        all.items.back().key = mark.name;
    }
    return all;
}

/// [layup] with those of other sides and skins in it.
Node layup(const Job& job) {
    Node all = written(layup_keys(), job.layup);
    const auto add = [&all](std::string_view name, const std::optional<Layup>& layup,
                            const Table<Layup>& keys) {
        if (!layup) return;
        all.items.push_back(written(keys, *layup));
        all.items.back().key = name;
    };
    add("inside", job.layup_inside, inside_layup_keys());
    add("inner", job.layup_inner, inner_layup_keys());
    add("outer", job.layup_outer, outer_layup_keys());
    return all;
}

/// The fabrics that this job lays or describes; the rest of the catalogue says nothing about it.
Node fabrics(const Job& job) {
    std::set<std::string> names(job.own_fabrics.begin(), job.own_fabrics.end());
    const auto add = [&names](const Layup& layup) {
        for (const auto* stack : {&layup.stack, &layup.fill, &layup.cover})
            for (const StackEntry& entry : *stack) names.insert(entry.fabric);
    };
    add(job.layup);
    for (const auto* further : {&job.layup_inside, &job.layup_inner, &job.layup_outer})
        if (*further) add(**further);
    if (job.old_laminate)
        for (const StackEntry& entry : job.old_laminate->stack) names.insert(entry.fabric);
    Node list{.kind = Node::Kind::array};
    for (const std::string& name : names)
        list.items.push_back(written(fabric_keys(), job.fabrics.at(name)));
    return list;
}

/// Over epoxy there is none unless the job file says which.
Node topcoat(const Job& job) {
    Node out = written(topcoat_keys(), job.topcoat);
    if (job.resin.kind == ResinKind::epoxy && !job.topcoat_given)
        for (Node& item : out.items) item.kind = Node::Kind::nothing;
    return out;
}

}  // namespace

const Table<Job>& job_keys() {
    static const Table<Job> keys{
        "",
        {key("tearline", version(), unmarked, "version of this file", "", "", {.stands = true}),
         key("title", text(&Job::title), unmarked, "title on sheets and templates",
             R"("My repair" #)", "", {.stands = true}),
         key("display_units",
             choice(&Job::display_units, {{"metric", Units::metric}, {"us", Units::us}}), unmarked,
             "what the sheets show first", R"(# or "us": what sheets show first)"),
         key("hull", table(&Job::hull, hull_keys()), {}, ""), key("marks", told_by(marks), {}, ""),
         key("damage", table(&Job::damage, damage_keys()), {}, ""),
         key("scarf", table(&Job::scarf, scarf_keys()), {}, ""),
         key("layup", told_by(layup), {}, ""),
         key("backing", table(&Job::backing, backing_keys()), {}, "", "", "",
             {.or_left_out = true}),
         key("core", table(&Job::core, core_keys()), {}, "", "", "", {.or_left_out = true}),
         key("fabric", told_by(fabrics), {}, ""),
         key("resin", table(&Job::resin, resin_keys()), {}, ""),
         key("topcoat", told_by(topcoat), {}, ""),
         key("laminator", table(&Job::laminator, laminator_keys()), {}, ""),
         key("shop", table(&Job::shop, shop_keys()), {}, ""),
         key("old_laminate", table(&Job::old_laminate, old_laminate_keys()), {}, ""),
         key("prices", table(&Job::prices, price_keys()), {}, "")}};
    return keys;
}

}  // namespace tearline::job

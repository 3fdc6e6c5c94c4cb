#include <algorithm>

#include "core/job/fabric_catalogue.h"
#include "core/job/most_plies.h"
#include "core/job/nearest_name.h"
#include "core/job/read_tables.h"

namespace tearline::job {

namespace {

void read_fabric(const JobSource& source, const Node& node, std::vector<std::string>& seen,
                 Job& job) {
    Fabric fabric;
    KeyReader<Fabric> table(*source.refusals, &node, "fabric", fabric_keys(), fabric, job);
    if (!table.require("name", "a name, such as name = \"mat 450\"")) return;
    table.read("name");
    const std::string name = fabric.name;
    if (name.empty()) return table.refuse("name", "a fabric needs a name");
    if (std::find(seen.begin(), seen.end(), name) != seen.end())
        return table.refuse("name", "this fabric is described twice; join the two tables");
    seen.push_back(name);

    const auto known = job.fabrics.find(name);
    if (known != job.fabrics.end()) fabric.kind = known->second.kind;
    if (known == job.fabrics.end()) {
        const std::string why = "\"" + quotable(name) + "\" is not in the catalogue; ";
        table.require("kind", why + "write kind = \"mat\", \"woven\" or \"biaxial\"");
        table.require("weight", why + "write its weight, such as weight = \"450 g/m2\"");
    }
    table.read("kind");
    fabric = known != job.fabrics.end() && known->second.kind == fabric.kind
                 ? known->second
                 : fabric_of_kind(fabric.kind);
    if (known != job.fabrics.end()) fabric.weight = known->second.weight;
    fabric.name = name;
    source.refusals->read_of(quotable(name));
    table.rest();
    source.refusals->read_of("");
    job.fabrics[name] = fabric;
    job.own_fabrics.push_back(name);
    for (const Node& item : node.items)
        job.lines.emplace("fabric." + name + "." + item.key, item.line);
}

/// "mat 450" or {fabric = "roving 600", axis = 0, axis_free = 0}.
void read_entry(TableReader& parent, const Node& node, const std::string& path, Job& job,
                std::vector<StackEntry>& stack) {
    StackEntry entry;
    const Node* name = &node;
    if (node.kind == Node::Kind::table) {
        KeyReader<StackEntry> table(parent.refusals(), &node, path, ply_keys(), entry, job);
        table.rest();
        name = table.find("fabric");
        if (name == nullptr) return;
    } else if (node.kind == Node::Kind::text) {
        entry.fabric = node.text;
    } else {
        return parent.refusals().refuse(
            node, path,
            "a ply is a name such as \"mat 450\" or {fabric = \"roving 600\", axis = 0}");
    }
    if (name->kind == Node::Kind::text && job.fabrics.count(entry.fabric) == 0) {
        std::vector<std::string_view> names;
        for (const auto& [known, unused] : job.fabrics) names.push_back(known);
        parent.refusals().refuse(*name, path,
                                 "no such fabric; the nearest known one is \"" +
                                     nearest_name(entry.fabric, names) +
                                     "\" (describe others in a [[fabric]] table)");
    }
    stack.push_back(std::move(entry));
}

}  // namespace

void read_fabrics(const JobSource& source, Job& job) {
    job.fabrics = built_in_fabrics();
    const Node* list = source.root->find("fabric");
    if (list == nullptr) return;
    const bool tables = list->kind == Node::Kind::array &&
                        std::all_of(list->items.begin(), list->items.end(), [](const Node& item) {
                            return item.kind == Node::Kind::table;
                        });
    if (!tables)
        return source.refusals->refuse(*list, "fabric",
                                       "write each fabric as a table of its own, [[fabric]]");
    std::vector<std::string> seen;
    for (const Node& node : list->items) read_fabric(source, node, seen, job);
}

void read_stack(TableReader& table, std::string_view key, Job& job,
                std::vector<StackEntry>& stack) {
    const Node* node = table.find(key);
    if (node == nullptr) return;
    stack.clear();
    if (node->kind != Node::Kind::array)
        return read_entry(table, *node, table.path_of(key), job, stack);
    if (node->items.size() > most_plies)
        return table.refuse(key, "has " + std::to_string(node->items.size()) + " plies; at most " +
                                     std::to_string(most_plies) +
                                     " in one repair; use heavier cloth");
    for (std::size_t i = 0; i < node->items.size(); ++i)
        read_entry(table, node->items[i], table.path_of(key) + "[" + std::to_string(i + 1) + "]",
                   job, stack);
}

void read_layup(const JobSource& source, Job& job) {
    Layup& out = job.layup;
    KeyReader table = source.table(layup_keys(), out, job);
    table.read("order");
    if (table.has("stack") && table.has("fill"))
        table.refuse("fill", "give stack or fill, not both");
    table.read("stack");
    if (table.has("stack") && out.stack.empty())
        table.refuse("stack", "needs at least one ply, such as [\"mat 450\"]");
    if (!table.has("stack")) out.fill = usual_layup().fill;
    table.read("fill");
    if (table.has("fill") && out.fill.empty())
        table.refuse("fill", "needs at least one ply, such as \"mat 450\"");
    if (table.has("stack") && table.has("fill_to"))
        table.refuse("fill_to", "goes with fill; a stack is laid as it is given");
    out.cover = usual_layup().cover;
    table.rest();
}

namespace {

constexpr const char* wants_kind =
    "write kind = \"mat\", \"woven\" or \"biaxial\" with the thickness";

/// An aim needs something to aim at.
void check_aim(const JobSource& source, Job& job) {
    if (job.layup.fill_to == FillTo::thickness) return;
    if (job.old_laminate && (!job.old_laminate->stack.empty() || job.old_laminate->thickness))
        return;
    source.table(layup_keys(), job.layup, job)
        .refuse("fill_to",
                "aims at the old laminate; say in [old_laminate] what it was, by stack "
                "or by thickness and kind");
}

/// Polyester over cured epoxy is refused where the job says that it would be.
void read_old_resin(KeyReader<OldLaminate>& table, const Job& job, const OldLaminate& old) {
    table.read("resin");
    if (old.resin == ResinKind::epoxy && job.resin.kind != ResinKind::epoxy)
        table.refuse("resin",
                     "polyester and vinylester do not bond reliably to cured epoxy, and "
                     "the patch would peel; repair with epoxy, resin.kind = \"epoxy\"");
}

}  // namespace

void read_old_laminate(const JobSource& source, Job& job) {
    OldLaminate old;
    KeyReader table = source.table(old_laminate_keys(), old, job);
    if (!table.given()) return check_aim(source, job);
    table.through("kind");
    if (table.has("stack")) {
        if (table.has("thickness")) table.refuse("thickness", "give stack, or thickness and kind");
        if (table.has("kind")) table.refuse("kind", "give stack, or thickness and kind");
        if (old.stack.empty()) table.refuse("stack", "needs at least one ply");
    } else if (table.has("kind") || !table.has("resin")) {
        if (table.require("thickness", "give stack, or thickness and kind"))
            table.require("kind", wants_kind);
    } else if (table.has("thickness")) {
        table.require("kind", wants_kind);
    }
    read_old_resin(table, job, old);
    job.old_laminate = old;
    check_aim(source, job);
}

}  // namespace tearline::job

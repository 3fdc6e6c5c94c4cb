#include <algorithm>

#include "core/job/fabric_catalogue.h"
#include "core/job/most_plies.h"
#include "core/job/nearest_name.h"
#include "core/job/read_tables.h"

namespace tearline::job {

namespace {

std::vector<std::string_view> names_of(const std::map<std::string, Fabric>& fabrics) {
    std::vector<std::string_view> names;
    for (const auto& [name, unused] : fabrics) names.push_back(name);
    return names;
}

void read_own_keys(TableReader& table, Fabric& fabric) {
    table.areal_weight("weight", fabric.weight, between(10.0, 5000.0));
    const Node* content = table.find("glass_content");
    if (content != nullptr && content->kind == Node::Kind::number && content->number > 1.0 &&
        content->number < 100.0)
        table.refuse("glass_content", "is a fraction by mass; for 30 % write 0.30");
    table.number("glass_content", fabric.glass_content, {0.0, 1.0, false, false}, "");
    table.length("thickness", fabric.thickness, above_zero_to(20.0));
    table.word("binder", fabric.binder, {"emulsion", "powder"});
    table.length("roll_width", fabric.roll_width, between(50.0, 10'000.0));
    table.length("tear_margin", fabric.tear_margin, between(0.0, 200.0));
    table.length("lap", fabric.lap, between(0.0, 500.0));
    table.number("strain_limit", fabric.strain_limit, above_zero_to(0.5), "");
    table.number("shear_limit", fabric.shear_limit, above_zero_to(80.0), "degrees");
    table.length("least_radius", fabric.least_radius, between(0.0, 1000.0));
    DataSheet& sheet = fabric.data_sheet;
    const Range modulus = between(500.0, 500'000.0), strength = above_zero_to(5000.0);
    table.stress("modulus", sheet.modulus, modulus);
    table.stress("modulus_across", sheet.modulus_across, modulus);
    table.stress("shear_modulus", sheet.shear_modulus, between(100.0, 200'000.0));
    table.number("poisson", sheet.poisson, between(0.0, 0.5), "");
    table.stress("tensile_strength", sheet.tensile_strength, strength);
    table.stress("compressive_strength", sheet.compressive_strength, strength);
    table.stress("flexural_strength", sheet.flexural_strength, strength);
    table.stress("shear_strength", sheet.shear_strength, strength);
}

void read_fabric(const JobSource& source, const Node& node, std::vector<std::string>& seen,
                 Job& job) {
    TableReader table(*source.refusals, &node, "fabric",
                      {"name",
                       "kind",
                       "weight",
                       "glass_content",
                       "thickness",
                       "binder",
                       "roll_width",
                       "tear_margin",
                       "lap",
                       "strain_limit",
                       "shear_limit",
                       "least_radius",
                       "modulus",
                       "modulus_across",
                       "shear_modulus",
                       "poisson",
                       "tensile_strength",
                       "compressive_strength",
                       "flexural_strength",
                       "shear_strength"});
    if (!table.require("name", "a name, such as name = \"mat 450\"")) return;
    std::string name;
    table.text("name", name);
    if (name.empty()) return table.refuse("name", "a fabric needs a name");
    if (std::find(seen.begin(), seen.end(), name) != seen.end())
        return table.refuse("name", "this fabric is described twice; join the two tables");
    seen.push_back(name);

    const auto known = job.fabrics.find(name);
    FabricKind kind = known != job.fabrics.end() ? known->second.kind : FabricKind::mat;
    if (known == job.fabrics.end()) {
        const std::string why = "\"" + quotable(name) + "\" is not in the catalogue; ";
        table.require("kind", why + "write kind = \"mat\", \"woven\" or \"biaxial\"");
        table.require("weight", why + "write its weight, such as weight = \"450 g/m2\"");
    }
    table.choice<FabricKind>(
        "kind", kind,
        {{"mat", FabricKind::mat}, {"woven", FabricKind::woven}, {"biaxial", FabricKind::biaxial}});
    Fabric fabric = known != job.fabrics.end() && known->second.kind == kind ? known->second
                                                                             : fabric_of_kind(kind);
    if (known != job.fabrics.end()) fabric.weight = known->second.weight;
    fabric.name = name;
    source.refusals->read_of(quotable(name));
    read_own_keys(table, fabric);
    source.refusals->read_of("");
    job.fabrics[name] = fabric;
    job.own_fabrics.push_back(name);
    for (const Node& item : node.items)
        job.lines.emplace("fabric." + name + "." + item.key, item.line);
}

/// "mat 450" or {fabric = "roving 600", axis = 0, axis_free = 0}.
void read_entry(TableReader& parent, const Node& node, const std::string& path, const Job& job,
                std::vector<StackEntry>& stack) {
    StackEntry entry;
    const Node* name = &node;
    if (node.kind == Node::Kind::table) {
        TableReader table(parent.refusals(), &node, path, {"fabric", "axis", "axis_free"});
        if (!table.require("fabric", "name the cloth, {fabric = \"roving 600\", axis = 0}")) return;
        table.text("fabric", entry.fabric);
        table.number("axis", entry.axis, between(-360.0, 360.0), "degrees");
        table.number("axis_free", entry.axis_free, between(0.0, 90.0), "degrees");
        name = table.find("fabric");
    } else if (node.kind == Node::Kind::text) {
        entry.fabric = node.text;
    } else {
        return parent.refusals().refuse(
            node, path,
            "a ply is a name such as \"mat 450\" or {fabric = \"roving 600\", axis = 0}");
    }
    if (name->kind == Node::Kind::text && job.fabrics.count(entry.fabric) == 0) {
        const auto names = names_of(job.fabrics);
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

void read_stack(TableReader& table, std::string_view key, const Job& job,
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
    TableReader table = source.table("layup", {"order", "stack", "fill", "fill_to", "cover",
                                               "cover_step", "press_first", "position", "copies"});
    Layup& out = job.layup;
    table.choice<Order>(
        "order", out.order,
        {{"smallest first", Order::smallest_first}, {"largest first", Order::largest_first}});
    if (table.has("stack") && table.has("fill"))
        table.refuse("fill", "give stack or fill, not both");
    read_stack(table, "stack", job, out.stack);
    if (table.has("stack") && out.stack.empty())
        table.refuse("stack", "needs at least one ply, such as [\"mat 450\"]");
    if (!table.has("stack")) out.fill = {StackEntry{"mat 450", 0.0, 0.0}};
    read_stack(table, "fill", job, out.fill);
    if (table.has("fill") && out.fill.empty())
        table.refuse("fill", "needs at least one ply, such as \"mat 450\"");
    if (table.has("stack") && table.has("fill_to"))
        table.refuse("fill_to", "goes with fill; a stack is laid as it is given");
    table.choice<FillTo>("fill_to", out.fill_to,
                         {{"thickness", FillTo::thickness},
                          {"stiffness", FillTo::stiffness},
                          {"strength", FillTo::strength}});
    out.cover = {StackEntry{"mat 300", 0.0, 0.0}, StackEntry{"mat 300", 0.0, 0.0}};
    read_stack(table, "cover", job, out.cover);
    table.length("cover_step", out.cover_step, between(0.0, 500.0));
    table.point("press_first", out.press_first,
                {job.taped, TapedPoint::Use::press_first, job.hull.measured || job.hull.grid});
    table.choice<Position>("position", out.position,
                           {{"flat", Position::flat},
                            {"vertical", Position::vertical},
                            {"overhead", Position::overhead}});
    table.whole_number("copies", out.copies, 1, 1000);
}

namespace {

constexpr const char* wants_kind =
    "write kind = \"mat\", \"woven\" or \"biaxial\" with the thickness";

/// An aim needs something to aim at.
void check_aim(const JobSource& source, const Job& job) {
    if (job.layup.fill_to == FillTo::thickness) return;
    if (job.old_laminate && (!job.old_laminate->stack.empty() || job.old_laminate->thickness))
        return;
    TableReader layup = source.table("layup", {"order", "stack", "fill", "fill_to", "cover",
                                               "cover_step", "press_first", "position", "copies"});
    layup.refuse("fill_to",
                 "aims at the old laminate; say in [old_laminate] what it was, by stack "
                 "or by thickness and kind");
}

/// Polyester over cured epoxy is refused where the job says that it would be.
void read_old_resin(TableReader& table, const Job& job, OldLaminate& old) {
    if (!table.has("resin")) return;
    ResinKind kind = ResinKind::polyester;
    table.choice<ResinKind>("resin", kind,
                            {{"polyester", ResinKind::polyester},
                             {"vinylester", ResinKind::vinylester},
                             {"epoxy", ResinKind::epoxy}});
    old.resin = kind;
    if (kind == ResinKind::epoxy && job.resin.kind != ResinKind::epoxy)
        table.refuse("resin",
                     "polyester and vinylester do not bond reliably to cured epoxy, and "
                     "the patch would peel; repair with epoxy, resin.kind = \"epoxy\"");
}

}  // namespace

void read_old_laminate(const JobSource& source, Job& job) {
    TableReader table = source.table("old_laminate", {"stack", "thickness", "kind", "resin"});
    if (!table.given()) return check_aim(source, job);
    OldLaminate old;
    read_stack(table, "stack", job, old.stack);
    table.length("thickness", old.thickness, above_zero_to(250.0));
    FabricKind kind = FabricKind::mat;
    table.choice<FabricKind>(
        "kind", kind,
        {{"mat", FabricKind::mat}, {"woven", FabricKind::woven}, {"biaxial", FabricKind::biaxial}});
    if (table.has("kind")) old.kind = kind;
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

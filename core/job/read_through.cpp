#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/job/read_tables.h"
#include "core/job/sides.h"

namespace tearline::job {

namespace {

/// [layup.NAME]: what it does not say, [layup] says.
void read_further(const JobSource& source, std::string_view name, const Table<Layup>& keys,
                  std::optional<Layup>& out, Job& job) {
    const Node* layup = source.root->find("layup");
    if (layup == nullptr || layup->kind != Node::Kind::table) return;
    const Node* node = layup->find(name);
    if (node == nullptr) return;
    Layup own = job.layup;
    KeyReader<Layup> table(*source.refusals, node, std::string(keys.path), keys, own, job);
    if (table.has("stack") && table.has("fill"))
        table.refuse("fill", "give stack or fill, not both");
    if (table.has("stack")) own.fill.clear();
    if (table.has("fill")) own.stack.clear();
    table.rest();
    for (const std::string_view key : {"stack", "fill"})
        if (table.has(key) && own.stack.empty() && own.fill.empty())
            table.refuse(key, "needs at least one ply, such as \"mat 450\"");
    if (table.has("stack") && table.has("fill_to"))
        table.refuse("fill_to", "goes with fill; a stack is laid as it is given");
    out = std::move(own);
}

/// Refuses keys that stand in the file although nothing there asks for them.
template <class T>
void refuse_all(KeyReader<T>& table, std::initializer_list<std::string_view> keys,
                const std::string& right) {
    for (const std::string_view key : keys)
        if (table.has(key)) table.refuse(key, right);
}

bool far_skin_reached(const Job& job) {
    const Reaches far =
        job.damage.side == Side::outside ? Reaches::inner_skin : Reaches::outer_skin;
    return job.damage.reaches == far;
}

/// Whether the job is of a hole that somebody can look through.
bool is_hole(const Job& job) {
    return job.damage.through || (job.core && far_skin_reached(job));
}

/// Whether a core is of what styrene dissolves, by what stands on a board: the word, what yards
/// make of it, or its letters. Styrene acrylonitrile (SAN) is another foam.
bool is_polystyrene(const std::string& material) {
    std::vector<std::string> words(1);
    for (const char c : material) {
        const bool upper = c >= 'A' && c <= 'Z';
        if (upper || (c >= 'a' && c <= 'z'))
            words.back() += upper ? static_cast<char>(c - 'A' + 'a') : c;
        else if (!words.back().empty())
            words.emplace_back();
    }
    return std::any_of(words.begin(), words.end(), [](const std::string& word) {
        return word.find("polystyren") != std::string::npos ||
               word.find("styro") != std::string::npos || word == "xps" || word == "eps" ||
               word == "ps";
    });
}

/// [core] against the rest: what it makes of hull.skin, and what has to stand beside it.
void read_core(const JobSource& source, KeyReader<Damage>& damage, Job& job) {
    Core core;
    KeyReader<Core> table = source.table(core_keys(), core, job);
    if (!table.given()) {
        refuse_all(damage, {"reaches"}, "goes with [core]: the layers of a cored skin");
        return;
    }
    table.rest();
    if (job.damage.through && job.damage.reaches && !far_skin_reached(job))
        damage.refuse("reaches",
                      "a hole right through reaches the far skin; leave damage.through "
                      "out, or write the far skin");
    if (core.kerf_pitch && !core.kerf_width)
        table.require("kerf_width", "how wide the kerfs are, such as kerf_width = \"2 mm\"");
    if (core.kerf_width && !core.kerf_pitch)
        table.require("kerf_pitch", "how far the kerfs are apart, such as kerf_pitch = \"25 mm\"");
    if (core.kerf_pitch && core.kerf_width && !(*core.kerf_width < *core.kerf_pitch))
        table.refuse("kerf_width", "must be less than core.kerf_pitch");
    const Reaches far =
        job.damage.side == Side::outside ? Reaches::inner_skin : Reaches::outer_skin;
    if (core.wet_edge && job.damage.reaches && *job.damage.reaches != Reaches::core &&
        *job.damage.reaches != far)
        table.refuse("wet_edge",
                     "a wet core is damaged too; write damage.reaches = \"core\", or the far skin");
    if (!(core.bed < core.thickness))
        table.refuse("bed", "must be less than core.thickness: the plug lies in it");
    if (is_polystyrene(core.material) && job.resin.kind != ResinKind::epoxy)
        table.refuse("material",
                     "the styrene in polyester and vinylester dissolves polystyrene; use epoxy "
                     "(resin.kind = \"epoxy\") or another core");
    job.core = core;
    damage.require("reaches",
                   "say the farthest layer that is damaged: \"outer skin\", \"core\" or "
                   "\"inner skin\"");
    KeyReader<HullOptions> hull = source.table(hull_keys(), job.hull, job);
    if (!job.hull.skin) job.hull.skin = core.total();
    if (std::abs(*job.hull.skin - core.total()) > tolerance::level)
        hull.refuse("skin", "[core] adds up to " + shortest(core.total()) +
                                " mm (outer, thickness and inner); leave hull.skin out, or measure "
                                "again");
}

/// New stacks of the skins that the damage reaches.
void check_skin_layups(const JobSource& source, const Job& job) {
    const bool outside = job.damage.side == Side::outside;
    const auto require = [&](std::string_view name, const std::optional<Layup>& layup) {
        if (layup) return;
        source.refusals->refuse(source.refusals->last_line(), "layup." + std::string(name),
                                "missing: a cored skin needs the stack of its new " +
                                    std::string(name) + " skin, [layup." + std::string(name) +
                                    "] with stack or fill");
    };
    if (outside || far_skin_reached(job)) require("outer", job.layup_outer);
    if (!outside || far_skin_reached(job)) require("inner", job.layup_inner);
}

/// What goes only with a dish of known depth, and with a scarf from both sides.
void check_hole(const JobSource& source, KeyReader<Damage>& damage, Job& job) {
    KeyReader<Scarf> scarf = source.table(scarf_keys(), job.scarf, job);
    if (job.damage.through || job.core) {
        refuse_all(damage, {"depth"},
                   job.core ? "the layers of [core] say how deep each skin is; leave it out"
                            : "a hole right through is as deep as hull.skin; leave it out");
        refuse_all(damage, {"sounding", "scan", "scan_after", "round"},
                   "a hole right through has no floor to be measured; leave it out");
    }
    if (!job.damage.through) {
        refuse_all(scarf, {"from", "share", "first", "grind_back"},
                   "goes with damage.through = true, a hole right through");
        return;
    }
    if (!job.hull.skin) {
        source.table(hull_keys(), job.hull, job)
            .require("skin",
                     "a hole right through is as deep as its skin is thick; measure it and "
                     "write it, such as skin = \"8 mm\"");
        return;
    }
    if (!job.scarf.from)
        job.scarf.from = job.damage.side == Side::outside ? ScarfFrom::outside : ScarfFrom::inside;
    const bool both = job.scarf.from == ScarfFrom::both;
    if (!both) {
        const Side from = job.scarf.from == ScarfFrom::outside ? Side::outside : Side::inside;
        if (damage.has("side") && job.damage.side != from)
            damage.refuse("side",
                          "scarf.from says that the glass is laid from the other face; "
                          "leave one of them out");
        job.damage.side = from;
        refuse_all(scarf, {"share", "first", "grind_back"}, "goes with scarf.from = \"both\"");
        return;
    }
    if (job.core)
        scarf.refuse("from",
                     "a cored skin is repaired from one side, both its skins from there; "
                     "write \"outside\" or \"inside\"");
}

/// The plies of one side or skin cannot aim at all of the old laminate.
void check_aims(const JobSource& source, Job& job) {
    if (!job.core && job.scarf.from != ScarfFrom::both) return;
    const auto aims = [](const Layup& layup) { return layup.fill_to != FillTo::thickness; };
    bool any = aims(job.layup);
    for (const auto* further : {&job.layup_inside, &job.layup_inner, &job.layup_outer})
        any = any || (*further && aims(**further));
    if (any)
        source.table(layup_keys(), job.layup, job)
            .refuse("fill_to",
                    "aims at the whole old laminate, and each side or skin is only a "
                    "part of it; leave it out and compare");
}

void read_backing(const JobSource& source, Job& job) {
    Backing backing;
    KeyReader<Backing> table = source.table(backing_keys(), backing, job);
    if (!table.given()) {
        if (is_hole(job)) job.backing = backing;
    } else {
        table.rest();
        if (!is_hole(job))
            table.refuse("kind",
                         "a backing closes a hole right through: damage.through = true, or "
                         "damage.reaches the far skin");
        const bool sheet =
            backing.kind == BackingKind::sheet || backing.kind == BackingKind::petals;
        if (sheet && !backing.thickness)
            table.require("thickness", "how thick the sheet is, such as thickness = \"1.5 mm\"");
        job.backing = backing;
    }
    if (!job.backing) return;
    const bool both = job.scarf.from == ScarfFrom::both;
    if (both && job.backing->stays.value_or(false))
        table.refuse("stays",
                     "with scarf.from = \"both\" the backing comes out again: the second "
                     "side is laid where it was");
    if (!both && job.backing->access == Access::one_side && !job.backing->stays.value_or(true))
        table.refuse("stays", std::string("reached from one side only, ") +
                                  (job.scarf.from == ScarfFrom::inside
                                       ? "the mould on the outer face cannot come off"
                                       : "the backing cannot come out") +
                                  "; leave it out, or write access = \"both sides\"");
    if (!job.backing->stays) job.backing->stays = backing_stays_by_default(job);
}

}  // namespace

void read_through(const JobSource& source, Job& job) {
    read_further(source, "inside", inside_layup_keys(), job.layup_inside, job);
    read_further(source, "inner", inner_layup_keys(), job.layup_inner, job);
    read_further(source, "outer", outer_layup_keys(), job.layup_outer, job);
    KeyReader<Damage> damage = source.table(damage_keys(), job.damage, job);
    read_core(source, damage, job);
    check_hole(source, damage, job);
    if (job.core) check_skin_layups(source, job);
    KeyReader<Layup> layup = source.table(layup_keys(), job.layup, job);
    if (job.layup_inside && job.scarf.from != ScarfFrom::both)
        layup.refuse("inside", "goes with scarf.from = \"both\"; from one side [layup] is laid");
    if (!job.core)
        refuse_all(layup, {"inner", "outer"}, "goes with [core]: the new skins of a sandwich");
    check_aims(source, job);
    read_backing(source, job);
}

}  // namespace tearline::job

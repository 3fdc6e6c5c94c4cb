#include "core/laminate/compare.h"

#include <algorithm>
#include <set>
#include <stdexcept>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/job/fabric_catalogue.h"
#include "core/laminate/ply_thickness.h"
#include "core/laminate/scarf_check.h"

namespace tearline::laminate {

namespace {

// [-] common practice: a ratio under the first is told as weaker, one over the second as so much
// stiffer that the patch draws load to its edge.
constexpr double weaker_below = 0.95;
constexpr double much_stiffer_above = 1.5;

double turned_for(job::FabricKind kind, double axis) {
    if (kind == job::FabricKind::mat) return 0.0;
    return kind == job::FabricKind::biaxial ? axis + 45.0 : axis;
}

const job::Fabric& fabric_of(const job::StackEntry& entry, const job::Job& job) {
    const auto found = job.fabrics.find(entry.fabric);
    if (found == job.fabrics.end())
        throw std::logic_error("a ply of an unknown fabric: " + entry.fabric);
    return found->second;
}

double total(const Layers& layers) {
    double sum = 0.0;
    for (const Layer& layer : layers) sum += layer.thickness;
    return sum;
}

/// What is left of the old laminate under the dish.
Layers floor_of(const Layers& old, const job::Job& job) {
    const double left = total(old) - job.damage.depth;
    return left > tolerance::level ? lowest(old, left) : Layers{};
}

Ratios ratios_of(const Behaviour& patch, const Behaviour& before) {
    const auto least = [&](auto part) {
        return std::min(patch.along.*part / before.along.*part,
                        patch.across.*part / before.across.*part);
    };
    return {least(&Directional::membrane_stiffness), least(&Directional::bending_stiffness),
            least(&Directional::tension), least(&Directional::compression),
            least(&Directional::bending)};
}

/// "in the plane", "in bending", or both.
std::string where(bool plane, bool bending) {
    if (plane && bending) return "in its plane and in bending";
    return plane ? "in its plane" : "in bending";
}

std::string percent(double ratio) {
    return fixed(100.0 * ratio, 0) + " %";
}

/// What the bond along the scarf does to a verdict on the laminate.
std::string bond_words(const ScarfCheck& scarf, bool laminate_weaker) {
    if (!scarf.required_ratio)
        return "; whether the bond along the scarf carries as much as the old laminate bore is not "
               "known, since no bond strength is given";
    const std::string chosen = shortest(scarf.ratio) + " : 1";
    if (scarf.too_short())
        return (laminate_weaker ? "; and the scarf of " : "; but the scarf of ") + chosen +
               " is too short to carry what the old laminate bore: "
               "by even shear it needs " +
               fixed(*scarf.required_ratio, 1) + " : 1";
    return "; by even shear the scarf of " + chosen + " carries what the old laminate bore";
}

void judge(const ScarfCheck& scarf, Comparison& out) {
    if (!out.ratios) {
        out.verdict =
            "The job says nothing of the old laminate, so the patch is compared with nothing.";
        return;
    }
    const std::string stays =
        "What stays of the patch once it is sanded fair, topcoat not counted, ";
    const Ratios& r = *out.ratios;
    const bool weak_plane = r.membrane_strength() < weaker_below;
    const bool weak_bending = r.bending_strength < weaker_below;
    const bool stiff_plane = r.membrane_stiffness > much_stiffer_above;
    const bool stiff_bending = r.bending_stiffness > much_stiffer_above;
    out.weaker = weak_plane || weak_bending;
    out.much_stiffer = stiff_plane || stiff_bending;
    if (out.weaker)
        out.verdict = stays + "is weaker than what was there " + where(weak_plane, weak_bending) +
                      ": " + percent(std::min(r.membrane_strength(), r.bending_strength)) +
                      " of the strength at the least, " + percent(r.bending_stiffness) +
                      " of the bending stiffness: add plies, or plies of stronger cloth" +
                      bond_words(scarf, true) + ".";
    if (out.much_stiffer)
        out.verdict = (out.weaker ? out.verdict + " It " : stays) +
                      "is much stiffer than what was there " + where(stiff_plane, stiff_bending) +
                      ", " + percent(std::max(r.membrane_stiffness, r.bending_stiffness)) +
                      " of it" + (out.weaker ? std::string() : bond_words(scarf, false)) +
                      ". It draws load to its edge; taper it wide, and have a designer look where "
                      "the panel works hard.";
    if (out.verdict.empty())
        out.verdict = stays + "is about as strong and as stiff as what was there: " +
                      percent(std::min(r.membrane_strength(), r.bending_strength)) +
                      " of the strength at the least, " + percent(r.bending_stiffness) +
                      " of the bending stiffness" + bond_words(scarf, false) + ".";
}

void note_source(const std::string& name, const std::string& source, Comparison& out) {
    const std::string line = name + ": " + source;
    if (std::find(out.sources.begin(), out.sources.end(), line) == out.sources.end())
        out.sources.push_back(line);
}

void note_sources(const std::vector<job::StackEntry>& stack, const job::Job& job, Comparison& out) {
    for (const job::StackEntry& entry : stack)
        note_source(entry.fabric, lamina_of(fabric_of(entry, job)).source, out);
    if (!job.old_laminate) return;
    for (const job::StackEntry& entry : job.old_laminate->stack)
        note_source(entry.fabric, lamina_of(fabric_of(entry, job)).source, out);
    if (job.old_laminate->kind) {
        const job::Fabric fabric = job::fabric_of_kind(*job.old_laminate->kind);
        note_source("old laminate, " + std::string(job::kind_word(*job.old_laminate->kind)) +
                        " at " + fixed(100.0 * fabric.glass_content, 0) + " % glass",
                    lamina_of(fabric).source, out);
    }
}

}  // namespace

Layers layers_of(const std::vector<job::StackEntry>& stack, const job::Job& job) {
    Layers layers;
    for (const job::StackEntry& entry : stack) {
        const job::Fabric& fabric = fabric_of(entry, job);
        layers.push_back({lamina_of(fabric), ply_thickness(fabric, job.resin),
                          turned_for(fabric.kind, entry.axis)});
    }
    return layers;
}

Layers old_layers(const job::Job& job) {
    if (!job.old_laminate) return {};
    const job::OldLaminate& old = *job.old_laminate;
    if (!old.stack.empty()) return layers_of(old.stack, job);
    if (!old.thickness || !old.kind) return {};
    return {
        {lamina_of(job::fabric_of_kind(*old.kind)), *old.thickness, turned_for(*old.kind, 0.0)}};
}

Layers lowest(const Layers& layers, double thickness) {
    Layers part;
    for (const Layer& layer : layers) {
        if (!(thickness > tolerance::level)) break;
        part.push_back(layer);
        part.back().thickness = std::min(layer.thickness, thickness);
        thickness -= layer.thickness;
    }
    return part;
}

Comparison compare(const std::vector<job::StackEntry>& plies, const job::Job& job,
                   std::optional<double> kept) {
    Comparison out;
    const Layers old = old_layers(job);
    Layers patch = floor_of(old, job);
    out.floor_mm = total(patch);
    const Layers laid = layers_of(plies, job);
    const Layers staying = kept ? lowest(laid, *kept) : laid;
    out.kept_mm = total(staying);
    out.sanded_off_mm = total(laid) - out.kept_mm;
    patch.insert(patch.end(), staying.begin(), staying.end());
    out.patch = behaviour_of(patch);
    if (!old.empty()) {
        out.before = behaviour_of(old);
        out.ratios = ratios_of(out.patch, *out.before);
    }
    note_sources(plies, job, out);
    judge(check_scarf(staying, job), out);
    return out;
}

bool reaches_aim(const std::vector<job::StackEntry>& stack, const job::Job& job) {
    const Comparison found = compare(stack, job);
    if (!found.ratios) throw std::logic_error("an aim without an old laminate to aim at");
    const double enough = 1.0 - tolerance::decimal_rounding;
    if (job.layup.fill_to == job::FillTo::stiffness)
        return found.ratios->membrane_stiffness >= enough &&
               found.ratios->bending_stiffness >= enough;
    return found.ratios->membrane_strength() >= enough && found.ratios->bending_strength >= enough;
}

}  // namespace tearline::laminate

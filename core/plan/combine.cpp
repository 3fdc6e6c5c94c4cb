#include "core/plan/combine.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "core/laminate/compare.h"
#include "core/layout/nest_rolls.h"
#include "core/plan/cut_pieces.h"

namespace tearline::plan {

namespace {

using quantities::Quantities;
using quantities::Totals;

template <class T>
void append(std::vector<T>& all, const std::vector<T>& more) {
    all.insert(all.end(), more.begin(), more.end());
}

/// None plus none stays none: what nobody knows of one part nobody knows of all.
void add(std::optional<double>& sum, const std::optional<double>& part) {
    if (part) sum = sum.value_or(0.0) + *part;
}

void add(Totals& sum, const Totals& part) {
    sum.glass_area_m2 += part.glass_area_m2;
    sum.glass_g += part.glass_g;
    sum.resin_g += part.resin_g;
    add(sum.hardener_g, part.hardener_g);
    add(sum.hardener_mL, part.hardener_mL);
    add(sum.topcoat_g, part.topcoat_g);
    add(sum.topcoat_hardener_g, part.topcoat_hardener_g);
    sum.laid_thickness_mm += part.laid_thickness_mm;
    sum.ground_area_m2 += part.ground_area_m2;
    sum.prime_g += part.prime_g;
    sum.fairing_mL += part.fairing_mL;
}

Quantities sum_of(const std::vector<Plan>& parts, std::size_t main) {
    Quantities sum;
    for (const Plan& part : parts) {
        append(sum.plies, part.quantities.plies);
        add(sum.totals, part.quantities.totals);
        sum.proud.max_mm = std::max(sum.proud.max_mm, part.quantities.proud.max_mm);
        for (quantities::Stage stage : part.quantities.stages) {
            stage.part = part.job.part.name;
            sum.stages.push_back(std::move(stage));
        }
        append(sum.topcoat_cups, part.quantities.topcoat_cups);
    }
    sum.proud.mean_mm = parts[main].quantities.proud.mean_mm;
    sum.sanding = parts[main].quantities.sanding;
    return sum;
}

/// What is said of no ply by a part in the words of a warning, and what in others.
struct SaidBy {
    bool alike = false, otherwise = false;
};

SaidBy said_by(const Plan& part, const Warning& warning) {
    SaidBy said;
    for (const Warning& other : part.warnings) {
        if (other.ply || other.code() != warning.code()) continue;
        (other.words().told == warning.words().told ? said.alike : said.otherwise) = true;
    }
    return said;
}

/// Warnings of all parts; what two parts say in the same words of no ply is told once, what they
/// say with figures of their own by the part's name.
Warnings told_of(const std::vector<Plan>& parts) {
    Warnings all;
    for (std::size_t i = 0; i < parts.size(); ++i)
        for (Warning warning : parts[i].warnings) {
            if (warning.ply) {
                all.push_back(std::move(warning));
                continue;
            }
            bool before = false, otherwise = false;
            for (std::size_t k = 0; k < parts.size(); ++k) {
                if (k == i) continue;
                const SaidBy said = said_by(parts[k], warning);
                before = before || (said.alike && k < i);
                otherwise = otherwise || (said.otherwise && !said.alike);
            }
            if (before) continue;
            if (otherwise) warning.part = parts[i].job.part.name;
            all.push_back(std::move(warning));
        }
    return all;
}

/// Plies of a side in the order of laying, their axes as seen from outside.
std::vector<job::StackEntry> stack_of(const Plan& part, bool covers) {
    const double turn = part.job.damage.side == job::Side::outside ? 1.0 : -1.0;
    std::vector<job::StackEntry> stack;
    for (const templates::LaidPly& ply : part.plies)
        if (covers || !ply.cover)
            stack.push_back({ply.fabric, turn * ply.pieces.front().outline.axis_degrees});
    return stack;
}

/// All sides of a hole as one laminate, from the inside face on, with the old one.
void compare(const job::Job& job, Plan& all) {
    job::Job whole = job;
    whole.damage.depth = job.hull.skin.value();  // no old laminate is left under it
    std::vector<job::StackEntry> stack;
    double kept = 0.0;
    for (const Plan& part : all.parts) {
        const bool outside = part.job.damage.side == job::Side::outside;
        std::vector<job::StackEntry> own = stack_of(part, outside);
        if (!outside) std::reverse(own.begin(), own.end());
        stack.insert(outside ? stack.end() : stack.begin(), own.begin(), own.end());
        double in_dish = 0.0;
        for (const templates::LaidPly& ply : part.plies)
            if (!ply.cover) in_dish += ply.thickness_mm;
        kept += outside ? part.quantities.sanding.kept_mm : in_dish;
    }
    // What the second side grinds off the back of the first is gone.
    kept -= job.scarf.grind_back;
    all.comparison = laminate::compare(stack, whole, kept);
    if (all.comparison->weaker)
        all.warnings.push_back({warn::PatchWeaker{all.comparison->verdict}});
    if (all.comparison->much_stiffer && !all.comparison->weaker)
        all.warnings.push_back({warn::PatchStiffer{all.comparison->verdict}});
}

}  // namespace

Plan combined(const job::Job& job, std::vector<Plan> parts, std::size_t main) {
    Plan all;
    all.job = job;
    all.repair = parts[main].repair;
    all.model_sha256 = parts[main].model_sha256;
    all.place = parts[main].place;
    all.scan = parts[main].scan;
    all.measured = parts[main].measured;
    all.scarf_check = parts[main].scarf_check;
    for (const Plan& part : parts) {
        append(all.plies, part.plies);
        all.dish_mm3 += part.dish_mm3;
    }
    all.quantities = sum_of(parts, main);
    all.warnings = told_of(parts);
    auto nested = layout::nest_rolls(cut_pieces(all.plies), job);
    append(all.warnings, nested.warnings);
    all.rolls = std::move(nested.rolls);
    all.parts = std::move(parts);
    shop_anew(all);
    if (!job.core) compare(job, all);
    return all;
}

quantities::Areas areas_of(const Plan& plan) {
    if (plan.parts.empty()) return plan.place.areas;
    quantities::Areas sum;
    for (const Plan& part : plan.parts) {
        const quantities::Areas& areas = part.place.areas;
        sum.damage_mm2 += areas.damage_mm2;
        sum.damage_perimeter_mm += areas.damage_perimeter_mm;
        sum.scarf_mm2 += areas.scarf_mm2;
        sum.footprint_mm2 += areas.footprint_mm2;
        sum.footprint_perimeter_mm += areas.footprint_perimeter_mm;
        sum.lap_mm2 += areas.lap_mm2;
    }
    return sum;
}

void shop_anew(Plan& plan) {
    plan.shopping = quantities::shopping_of(plan.job, areas_of(plan), plan.quantities, plan.rolls);
    if (!plan.backing) return;
    // On stations it has no template that a nest could take.
    if (plan.backing->plies == 0 || !plan.backing->pieces.empty()) return;
    const job::Fabric& mat = plan.job.fabrics.at(backing_mat);
    quantities::ShoppingItem item;
    item.kind = "cloth";
    item.name = std::string(backing_mat) + ", for the backing";
    item.unit = "m";
    item.amount = plan.job.layup.copies * plan.backing->glass_g / mat.weight.value() /
                  (mat.roll_width / 1000.0);
    plan.shopping.items.push_back(std::move(item));
    plan.shopping.complete = false;
}

}  // namespace tearline::plan

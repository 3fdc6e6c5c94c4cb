#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/base/us_constants.h"
#include "core/formats/svg.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/quantities/consumables.h"
#include "core/quantities/shopping.h"

namespace tearline::job_sheet {

namespace {

std::string needed(const Plan& plan, const quantities::ShoppingItem& item) {
    if (item.unit == "m") {
        constexpr double mm_a_metre = 1000.0, yards_a_metre = mm_a_metre / us::mm_per_yard;
        // Rounded up to the last place shown: a roll cut shorter does not hold its pieces.
        const auto at_least = [](double amount) {
            return fixed(std::ceil(100.0 * amount - tolerance::decimal_rounding) / 100.0, 2);
        };
        for (const layout::Roll& roll : plan.rolls)
            if (roll.fabric == item.name)
                return both(plan, at_least(item.amount) + " m of roll",
                            at_least(item.amount * yards_a_metre) + " yd") +
                       ", " + length(plan, roll.width_mm, 0) + " wide";
        return length(plan, item.amount * mm_a_metre, 0);
    }
    if (item.unit == "mL") return volume(plan, item.amount, 0);
    return mass(plan, item.amount, item.amount < 100.0 ? 1 : 0);
}

std::string amount(const Plan& plan, const quantities::Consumable& item) {
    constexpr double feet_a_metre = 1000.0 / us::mm_per_foot;
    if (item.unit == "mL") return volume(plan, item.amount, 0);
    if (item.unit == "m2") return square(plan, item.amount);
    if (item.unit == "m")
        return both(plan, fixed(item.amount, 1) + " m",
                    fixed(item.amount * feet_a_metre, 0) + " ft");
    return fixed(item.amount, 0);
}

std::string to_buy(const quantities::ShoppingItem& item) {
    if (item.packs == 0) return "";
    const bool one = item.packs == 1;
    const std::string count = std::to_string(item.packs) + " ";
    for (const auto& [as_typed, name] : {std::pair{"1 qt", "quart"}, std::pair{"1 gal", "gallon"}})
        if (item.pack_text == as_typed) return count + name + (one ? "" : "s");
    return count + (one ? "can of " : "cans of ") + formats::escaped(item.pack_text);
}

const char* verdict_class(const laminate::Comparison& comparison) {
    return comparison.weaker || comparison.much_stiffer ? "warning rank-stop" : "verdict";
}

/// How a figure is shown: its unit, and what a N or mm is in it.
struct Shown {
    const char* unit;
    double scale;
    int decimals;
};

std::string behaviour_table(const laminate::Comparison& comparison, Units units) {
    const bool known = comparison.before && comparison.ratios;
    std::string out = "<table width=\"100%\">" +
                      head({"<Along the bow / across it", "Old", "New", "New / old, the lesser"}) +
                      "<tbody>\n";
    const auto line = [&](const std::string& name, auto part, const Shown& shown,
                          const std::string& ratio) {
        const auto words = [&](const laminate::Behaviour& of) {
            return fixed(of.along.*part * shown.scale, shown.decimals) + " / " +
                   fixed(of.across.*part * shown.scale, shown.decimals);
        };
        out += tag("tr", left(name + ", " + shown.unit) +
                             cell(known ? words(*comparison.before) : "not known") +
                             cell(words(comparison.patch)) + cell(ratio)) +
               "\n";
    };
    const auto percent = [&](double laminate::Ratios::*part) {
        return known ? fixed(100.0 * (*comparison.ratios).*part, 0) + " %" : std::string("-");
    };
    using laminate::Directional;
    using laminate::Ratios;
    constexpr double kilo = 1.0 / 1000.0;
    // Pounds are pounds-force: a newton is so many, an inch 25.4 mm.
    constexpr double pound = 1.0 / us::newtons_per_pound, inch = us::mm_per_inch;
    const bool metric = units == Units::metric;
    const Shown stiffness =
        metric ? Shown{"kN/mm", kilo, 1} : Shown{"1000 lb/in", kilo * pound * inch, 1};
    const Shown rigidity = metric ? Shown{"N m", kilo, 0} : Shown{"lb in", pound / inch, 0};
    const Shown strength = metric ? Shown{"N/mm", 1.0, 0} : Shown{"lb/in", pound * inch, 0};
    const Shown moment = metric ? Shown{"N", 1.0, 0} : Shown{"lb", pound, 0};
    line("Membrane stiffness", &Directional::membrane_stiffness, stiffness,
         percent(&Ratios::membrane_stiffness));
    line("Bending stiffness", &Directional::bending_stiffness, rigidity,
         percent(&Ratios::bending_stiffness));
    line("Tension at first failure", &Directional::tension, strength, percent(&Ratios::tension));
    line("Compression at first failure", &Directional::compression, strength,
         percent(&Ratios::compression));
    line("Bending at first failure", &Directional::bending, moment,
         percent(&Ratios::bending_strength));
    return out + "</tbody></table>\n";
}

std::string comparison_words(const Plan& plan) {
    const laminate::Comparison& comparison = *plan.comparison;
    std::string out = section("Old laminate and new");
    out += tag("p", formats::escaped(comparison.verdict),
               "class=\"" + std::string(verdict_class(comparison)) + "\"") +
           "\n" + behaviour_table(comparison, plan.job.display_units);
    std::string sources;
    for (const std::string& source : comparison.sources)
        sources += (sources.empty() ? "" : "; ") + source;
    return out +
           tag("p",
               "Thickness " +
                   (comparison.before ? thickness(plan, comparison.before->thickness) + " before, "
                                      : std::string()) +
                   thickness(plan, comparison.patch.thickness) + " new" +
                   (comparison.floor_mm > 0.0
                        ? ", of it " + thickness(plan, comparison.floor_mm) + " old floor"
                        : std::string()) +
                   (comparison.sanded_off_mm > tolerance::level
                        ? "; " + thickness(plan, comparison.sanded_off_mm) +
                              " more is laid and sanded off"
                        : std::string()) +
                   ", topcoat not counted. Classical lamination theory, first ply to fail; a "
                   "screening "
                   "figure. Ply figures: " +
                   formats::escaped(sources) + ".",
               "class=\"quiet\"") +
           "\n";
}

std::string stress(const Plan& plan, double mpa, int decimals) {
    return both(plan, fixed(mpa, decimals) + " MPa", fixed(mpa / us::mpa_per_psi, 0) + " psi");
}

std::string scarf_words(const Plan& plan) {
    const laminate::ScarfCheck& check = *plan.scarf_check;
    std::string out = section("Scarf check, for screening only") +
                      tag("p", formats::escaped(check.verdict)) + "\n";
    out += "<table width=\"100%\"><tbody>\n";
    out += row("Ratio chosen", fixed(check.ratio, 1) + " : 1");
    out += row("Ratio that even shear asks for",
               check.required_ratio ? fixed(*check.required_ratio, 1) + " : 1"
                                    : "not known: no strength of the bond is given");
    out += row("Strength of " + check.strength_of,
               stress(plan, check.laminate_strength, 1) + ", safety factor " +
                   shortest(check.safety_factor) + " on a bond of " +
                   (check.bond_shear ? stress(plan, *check.bond_shear, 1) : "unknown strength"));
    out += row("Shear and peel in the bond at that strength",
               stress(plan, check.bond_stress, 2) + " and " + stress(plan, check.peel_stress, 2) +
                   "; peel is " + fixed(100.0 * check.peel_share, 1) + " % of the shear");
    return out + "</tbody></table>\n" +
           tag("p", tag("b", formats::escaped(laminate::scarf_check_words()))) + "\n";
}

}  // namespace

std::string shopping_list(const Plan& plan) {
    const quantities::Shopping& shopping = plan.shopping;
    if (shopping.items.empty()) return {};
    const bool priced = shopping.cost.has_value();
    const std::string copies = plan.job.layup.copies > 1
                                   ? ", for " + std::to_string(plan.job.layup.copies) + " copies"
                                   : "";
    std::string out = section("Shopping list" + copies) + of_all_places(plan) +
                      "<table width=\"100%\" class=\"used-up\">" +
                      head({"<Got", "<What", "Needed", "To buy", priced ? "Cost" : "Price"}) +
                      "<tbody>\n";
    for (const quantities::ShoppingItem& item : shopping.items)
        out += tag("tr", left(tick_box()) + left(formats::escaped(item.name)) +
                             cell(needed(plan, item)) + cell(to_buy(item)) +
                             cell(item.cost ? fixed(*item.cost, 2) + " " +
                                                  formats::escaped(shopping.currency)
                                            : blank(8))) +
               "\n";
    if (priced)
        out +=
            tag("tr", left("") + left(tag("b", shopping.complete ? "All" : "Of what has a price")) +
                          cell("") + cell("") +
                          cell(tag("b", fixed(*shopping.cost, 2) + " " +
                                            formats::escaped(shopping.currency)))) +
            "\n";
    out += "</tbody></table>\n";
    return out;
}

std::string consumables_list(const Plan& plan) {
    std::string out = section("Used up, and tools") + "<table width=\"100%\" class=\"used-up\">" +
                      head({"<Got", "<What", "How much", "<Rule, common practice †"}) + "<tbody>\n";
    for (const quantities::Consumable& item :
         quantities::consumables(plan.job, plan.place.areas, plan.quantities))
        out += tag("tr", left(tick_box()) + left(formats::escaped(item.name)) +
                             cell(amount(plan, item)) + left(formats::escaped(item.rule))) +
               "\n";
    const bool epoxy = plan.job.resin.kind == job::ResinKind::epoxy;
    return out + "</tbody></table>\n" +
           tag("p",
               std::string("Tools: goggles, eye wash, mask (") +
                   (epoxy ? "P3 for dust" : "A2-P3 for vapour and dust") +
                   " †), suction; scale to 0.1 g; roller with ribs for the air; depth gauge and "
                   "straightedge; thermometer and hygrometer; long board, soft pad; " +
                   (epoxy ? "metal can with water for rags."
                          : "two metal cans with water for rags, one for those with hardener, one "
                            "for those with acetone."),
               "class=\"quiet\"") +
           "\n";
}

std::string laminate_check(const Plan& plan) {
    return (plan.comparison ? comparison_words(plan) : "") +
           (plan.scarf_check ? scarf_words(plan) : "");
}

std::string records(const Plan& plan) {
    std::string out = section("Record while you work") +
                      "<table width=\"100%\" class=\"records\">" +
                      head({"<Stage", "<Date, time", "<Air, hull", "<Resin lot",
                            "<Hardener lot, amount", "<Gel time seen", "<Barcol after cure"}) +
                      "<tbody>\n";
    const std::size_t least = 4;
    const bool topcoat = quantities::takes_topcoat(plan.job);
    const std::size_t rows = std::max(plan.quantities.stages.size() + (topcoat ? 1 : 0), least);
    for (std::size_t i = 0; i < rows; ++i) {
        const std::string name = i < plan.quantities.stages.size() ? std::to_string(i + 1)
                                 : topcoat && i == plan.quantities.stages.size() ? "topcoat"
                                                                                 : "&#160;";
        out += tag("tr", left(name) + left(blank(9)) + left(blank(9)) + left(blank(9)) +
                             left(blank(13)) + left(blank(7)) + left(blank(9))) +
               "\n";
    }
    return out + "</tbody></table>\n";
}

}  // namespace tearline::job_sheet

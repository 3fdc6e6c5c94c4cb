#include "core/job_sheet/sheet_words.h"

#include <algorithm>
#include <cmath>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/us_units.h"
#include "core/formats/svg.h"
#include "core/quantities/dose_tools.h"
#include "core/quantities/hardener.h"
#include "core/quantities/measuring.h"
#include "core/quantities/reading_words.h"

namespace tearline::job_sheet {

std::string tag(const std::string& name, const std::string& content,
                const std::string& attributes) {
    return "<" + name + (attributes.empty() ? "" : " " + attributes) + ">" + content + "</" + name +
           ">";
}

std::string cell(const std::string& content) {
    return tag("td", content, "class=\"figure\" align=\"right\"");
}

std::string left(const std::string& content) {
    return tag("td", content);
}

std::string head(const std::vector<std::string>& words) {
    std::string out;
    for (const std::string& word : words)
        out += word.starts_with('<') ? tag("th", word.substr(1), "align=\"left\"")
                                     : tag("th", word, "class=\"figure\" align=\"right\"");
    return tag("thead", tag("tr", out)) + "\n";
}

std::string section(const std::string& words, bool fresh) {
    return tag("h2", formats::escaped(words), fresh ? "style=\"page-break-before: always\"" : "") +
           "\n";
}

std::string row(const std::string& name, const std::string& value) {
    return tag("tr", left(name) + cell(value)) + "\n";
}

std::string tick_box() {
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"3.6mm\" height=\"3.6mm\" "
           "viewBox=\"0 0 3.6 3.6\"><rect x=\"0.2\" y=\"0.2\" width=\"3.2\" height=\"3.2\" "
           "fill=\"#fff\" stroke=\"#1c2730\" stroke-width=\"0.3\"/></svg>";
}

std::string to_tick(const std::string& content) {
    return tag("p", tick_box() + "&#160;&#160;" + content, "class=\"tick\"") + "\n";
}

std::string keep(const std::string& words) {
    return tag("span", words, "class=\"keep\"");
}

std::string unbroken(const std::string& figure) {
    std::string out;
    for (std::size_t i = 0; i < figure.size(); ++i)
        if (figure[i] == ' ' && figure.substr(i + 1, 1) != "(")
            out += "&#160;";
        else
            out += figure[i];
    return out;
}

std::string blank(int characters) {
    return tag("span", std::string(static_cast<std::size_t>(characters), '_'), "class=\"blank\"");
}

std::string both(const Plan& plan, const std::string& metric, const std::string& us) {
    return plan.job.display_units == job::Units::metric ? metric + " (" + us + ")"
                                                        : us + " (" + metric + ")";
}

std::string mass(const Plan& plan, double grams, int decimals) {
    constexpr double kilograms_from = 10'000.0, small = 10.0, tiny = 0.1;
    if (grams < small) decimals = std::max(decimals, grams < tiny ? 2 : 1);
    const std::string metric =
        grams >= kilograms_from ? fixed(grams / 1000.0, 2) + " kg" : fixed(grams, decimals) + " g";
    return both(plan, metric, us::mass_text(Grams(grams)));
}

std::string mixture(const Plan& plan, double grams) {
    if (plan.job.resin.hardener_basis != job::Basis::volume)
        return mass(plan, grams, grams < 100.0 ? 1 : 0);
    const Millilitres mL = Grams(grams) / quantities::mixture_density(plan.job.resin);
    return volume(plan, mL.value(), mL.value() < 0.1 ? 2 : mL.value() < 100.0 ? 1 : 0);
}

std::string square(const Plan& plan, double m2) {
    constexpr double small = 0.01, cm2_a_m2 = 1e4, in2_a_ft2 = 144.0;  // a hand's breadth
    if (m2 < small)
        return both(plan, fixed(cm2_a_m2 * m2, 1) + " cm²",
                    fixed(in2_a_ft2 * us::square_feet(SquareMetres(m2)), 2) + " in²");
    return both(plan, fixed(m2, 3) + " m²", fixed(us::square_feet(SquareMetres(m2)), 2) + " ft²");
}

std::string length(const Plan& plan, double mm, int decimals) {
    return both(plan, length_text(mm, decimals, Units::metric),
                length_text(mm, decimals, Units::us));
}

std::string thickness(const Plan& plan, double mm, int decimals) {
    return both(plan, thickness_text(mm, decimals, Units::metric),
                thickness_text(mm, decimals, Units::us));
}

std::string volume(const Plan& plan, double mL, int decimals) {
    return both(plan, fixed(mL, decimals) + " mL", us::volume_text(Millilitres(mL)));
}

std::string warmth(const Plan& plan, Celsius temperature) {
    // Tenths of what the job gives in tenths: a least temperature must not be rounded down.
    constexpr double shown = 0.05;
    const double celsius = temperature.value();
    const int decimals = std::abs(celsius - std::round(celsius)) < shown ? 0 : 1;
    return both(plan, fixed(celsius, decimals) + " °C",
                fixed(us::fahrenheit(temperature), 0) + " °F");
}

std::string measured(const quantities::Measured& dose) {
    const std::string tool(quantities::facts_of(dose.tool).words);
    // The tool's own figure stands first, whatever the units of the sheet.
    return keep(tag("b", quantities::reading_text(dose)) + " (" +
                quantities::reading_in_ounces(dose) + ")") +
           " " + keep(tool);
}

namespace {

/// Hundredths of an ounce, so that either unit gives the resin to a gram or better. The scale's own
/// figure stands first, as that of every tool does.
std::string weighed(double grams) {
    constexpr double two_pounds = 907.18474;  // exact; from there on ounces go with their pounds
    return tag("b", fixed(grams, grams < 100.0 ? 1 : 0) + " g") + " (" +
           (grams < two_pounds ? fixed(us::ounces(Grams(grams)), 2) + " oz wt"
                               : us::mass_text(Grams(grams))) +
           ")";
}

}  // namespace

std::string poured(const Plan& plan, const quantities::Cup& cup) {
    const auto other = quantities::resin_otherwise(plan.job, cup);
    const std::string or_else = other ? "<br/>or " + measured(*other) : "";
    const bool by_volume = cup.resin_by && cup.resin_by->tool != quantities::Tool::scale;
    if (by_volume || !cup.pour_g) {
        if (!cup.resin_by) return cup.pour_mL ? volume(plan, *cup.pour_mL) : std::string();
        return measured(*cup.resin_by) + or_else;
    }
    const std::string scale(quantities::facts_of(quantities::Tool::scale).words);
    return keep(weighed(*cup.pour_g)) + " " + scale + or_else;
}

std::string in_line(std::string ways) {
    const std::string line_break = "<br/>";
    for (std::size_t at = ways.find(line_break); at != std::string::npos;
         at = ways.find(line_break))
        ways.replace(at, line_break.size(), " ");
    return ways;
}

std::string of_all_places(const Plan& plan) {
    if (plan.repair.empty()) return {};
    return tag("p",
               tag("b", "This place alone.") +
                   " The boat's sheet cuts and buys for all places together: use the one or the "
                   "other, not both.") +
           "\n";
}

std::string boat_cup_words(int cup) {
    return "Boat sheet, cup " + std::to_string(cup);
}

std::string mixture_words(const Plan& plan) {
    return plan.job.resin.kind == job::ResinKind::epoxy ? "resin and hardener together" : "resin";
}

std::string dose(const quantities::Cup& cup) {
    if (!cup.hardener_by) return "by the data sheet";
    std::string text = measured(*cup.hardener_by);
    if (cup.hardener_or) text += "<br/>or " + measured(*cup.hardener_or);
    // Drops differ by 2.5 times between bottles: only the user's own count makes them.
    if (cup.drops) text += "<br/>or " + keep(tag("b", std::to_string(*cup.drops) + " drops"));
    return text;
}

}  // namespace tearline::job_sheet

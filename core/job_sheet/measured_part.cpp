#include "core/job_sheet/measured_part.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/us_constants.h"
#include "core/formats/svg.h"
#include "core/job/figure_words.h"

namespace tearline::job_sheet {

namespace {

std::string figures_row(const std::string& name, const std::vector<std::string>& cells) {
    std::string out = "<tr><td class=\"left\">" + name + "</td>";
    for (const std::string& cell : cells) out += "<td>" + cell + "</td>";
    return out + "</tr>\n";
}

std::string figures_head(const std::string& name, const std::vector<std::string>& cells) {
    std::string out = "<table><thead><tr><th class=\"left\">" + name + "</th>";
    for (const std::string& cell : cells) out += "<th>" + cell + "</th>";
    return out + "</tr></thead><tbody>\n";
}

constexpr const char* table_end = "</tbody></table>\n";

/// An error of reading: 1 mm, or 1/16 in.
std::string error_words(Units units) {
    return units == Units::metric ? "1 mm" : "1/16 in";
}

/// What that error does, by a rate in mm for each mm.
std::string rate_words(double rate, Units units) {
    constexpr double sixteenth = 1.0 / 16.0, tells_nothing = 20.0;
    if (rate > tells_nothing) return "more than " + rate_words(tells_nothing, units);
    return units == Units::metric ? fixed(rate, 2) + " mm" : fixed(sixteenth * rate, 3) + " in";
}

std::string figures(const Plan& plan) {
    if (plan.measured.empty()) return {};
    const Units units = plan.job.display_units;
    constexpr std::size_t most_rows = 12;
    std::vector<plan::MeasuredCheck> shown = plan.measured;
    const auto off = [](const plan::MeasuredCheck& c) {
        return std::abs(c.figure_mm - c.passes_mm);
    };
    std::string left_out;
    if (shown.size() > most_rows) {
        // Those that move an edge most first, then those farthest off.
        std::stable_sort(shown.begin(), shown.end(), [&](const auto& a, const auto& b) {
            if (a.edge_mm_per_mm.has_value() != b.edge_mm_per_mm.has_value())
                return a.edge_mm_per_mm.has_value();
            if (a.edge_mm_per_mm) return *a.edge_mm_per_mm > *b.edge_mm_per_mm;
            return off(a) > off(b);
        });
        left_out = "<p class=\"quiet\">The " + std::to_string(most_rows) + " that matter most of " +
                   std::to_string(shown.size()) + "; all are in plan.json.</p>\n";
        shown.resize(most_rows);
    }
    std::string greatest;
    const auto most = std::max_element(
        plan.measured.begin(), plan.measured.end(), [](const auto& a, const auto& b) {
            return a.edge_mm_per_mm.value_or(0.0) < b.edge_mm_per_mm.value_or(0.0);
        });
    if (most->edge_mm_per_mm)
        greatest = "<p>" + error_words(units) +
                   " of error in one figure moves an edge of the widest template by " +
                   (*most->edge_mm_per_mm < 0.005 ? "less than " + rate_words(0.01, units)
                                                  : rate_words(*most->edge_mm_per_mm, units)) +
                   " at most: " + formats::escaped(job::figure_words(most->place)) + ".</p>\n";
    std::string out = figures_head(
        "Figure of the hull",
        {"Measured", "Surface has", error_words(units) + " of error moves a template edge by"});
    for (const plan::MeasuredCheck& check : shown)
        out += figures_row(formats::escaped(job::figure_words(check.place)),
                   {length_text(check.figure_mm, 1, units), length_text(check.passes_mm, 1, units),
                    check.edge_mm_per_mm ? rate_words(*check.edge_mm_per_mm, units) : ""});
    return greatest + out + table_end + left_out;
}

std::string marks(const Plan& plan) {
    if (plan.job.marks.empty()) return {};
    std::string names;
    for (const job::Mark& mark : plan.job.marks)
        names += (names.empty() ? "" : ", ") + formats::escaped(mark.name);
    const std::string first = formats::escaped(plan.job.marks.front().name);
    return "<p>Marks on the hull: " + names + ". A short tick on a template with " + first +
           " and a length says how far mark " + first +
           " is by tape from that place of the edge, on the hull as it was before it was ground: "
           "cloth goes back in its place by two of them.</p>\n";
}

/// How well the hull is known where a scan tells it.
std::string scan(const Plan& plan) {
    if (!plan.scan) return {};
    const plan::ScanTold& told = *plan.scan;
    const Units units = plan.job.display_units;
    double least = 0.0, most = 0.0;
    for (const templates::LaidPly& ply : plan.plies) {
        const double edge = ply.edge_error_mm.value_or(0.0);
        least = least > 0.0 ? std::min(least, edge) : edge;
        most = std::max(most, edge);
    }
    const std::string edges = length_text(least, 1, units) + " to " + length_text(most, 1, units);
    return figures_head("The hull, by its scan", {""}) +
           figures_row("Points about the damage, and of them believed",
               {std::to_string(told.points) + ", " + std::to_string(told.used)}) +
           figures_row("They scatter by", {length_text(told.noise_mm, 2, units)}) +
           figures_row("Waves shorter than this are taken for noise",
               {length_text(told.fairness_mm, 0, units)}) +
           figures_row("The surface over the damage may be off by",
               {length_text(told.middle_mm, 2, units)}) +
           figures_row("Edges of templates may be off by", {edges}) +
           figures_row("The scan's coordinates were taken times", {fixed(told.scale, 4)}) + table_end;
}

std::string volumes(const Plan& plan) {
    if (!plan.volumes) return {};
    const auto mL = [&plan](double v) {
        const std::string metric = fixed(v, 0) + " mL";
        const std::string us = fixed(v / us::millilitres_per_fluid_ounce, 1) + " fl oz";
        return plan.job.display_units == job::Units::metric ? metric + " (" + us + ")"
                                                            : us + " (" + metric + ")";
    };
    return figures_head("To fill, by the soundings", {""}) + figures_row("The dish", {mL(plan.volumes->dish_mL)}) +
           figures_row("of it laminate", {mL(plan.volumes->laminate_mL)}) +
           figures_row("of it fairing compound", {mL(plan.volumes->fairing_mL)}) +
           figures_row("Laminate above the surface, to sand off", {mL(plan.volumes->proud_mL)}) + table_end;
}

std::string built(const Plan& plan) {
    if (!plan.built) return {};
    const Units units = plan.job.display_units;
    std::string out = "<p>Laid so far: " + std::to_string(plan.built->plies) +
                      (plan.built->plies == 1 ? " ply, " : " plies, ") +
                      thickness_text(plan.built->built_mm, 2, units) + " thick; planned were " +
                      thickness_text(plan.built->planned_mm, 2, units) + ".</p>\n" +
                      figures_head("Ply laid", {"Thickness built", "Glass by mass"});
    for (const plan::BuiltSoFar::Ply& ply : plan.built->each)
        out += figures_row(std::to_string(ply.number), {thickness_text(ply.thickness_mm, 2, units),
                                                fixed(100.0 * ply.glass_content, 0) + " %"});
    return out + table_end;
}

}  // namespace

std::string measured_part(const Plan& plan) {
    const std::string parts =
        figures(plan) + scan(plan) + volumes(plan) + built(plan) + marks(plan);
    return parts.empty() ? parts : "<h2>What was measured</h2>\n" + parts;
}

}  // namespace tearline::job_sheet

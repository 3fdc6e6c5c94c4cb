#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/version.h"
#include "core/formats/svg.h"
#include "core/job/sides.h"
#include "core/job/title_of.h"
#include "core/job_sheet/cautions.h"
#include "core/job_sheet/place_picture.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/laminate/scarf_check.h"
#include "core/quantities/cup_shares.h"
#include "core/warnings/warning.h"

namespace tearline::job_sheet {

namespace {

std::string heading(const Plan& plan) {
    const std::string title = job::title_of(plan.job);
    return tag("h1", formats::escaped(title)) + "\n" +
           tag("p",
               "Job sheet · " + std::string(plan.job.hull.by_hand() ? "" : "hull model ") +
                   formats::escaped(plan.job.hull.model.filename().string()) + " · SHA-256 " +
                   plan.model_sha256.substr(0, 12) + "… · tearline " + std::string(version()),
               "class=\"quiet\"") +
           "\n" +
           tag("p", "Date " + blank(16) + " &#160; By " + blank(22) + " &#160; Boat " + blank(22)) +
           "\n";
}

std::string repair(const Plan& plan) {
    const job::Job& job = plan.job;
    const double width = plan.place.dish.empty()
                             ? laminate::scarf_width(job.scarf.ratio, job.damage.depth)
                             : plan.place.dish.back().x();
    std::string out = section("The repair") + "<table width=\"100%\"><tbody>\n";
    const auto two = [&out](const std::string& a, const std::string& b, const std::string& c,
                            const std::string& d) {
        out += tag("tr", left(a) + cell(b) + left(c) + cell(d)) + "\n";
    };
    two("Damage", square(plan, square_metres_from_mm2(plan.place.areas.damage_mm2).value()),
        "Round it", length(plan, plan.place.areas.damage_perimeter_mm, 0));
    two("Depth to grind", thickness(plan, job.damage.depth), "Scarf",
        fixed(job.scarf.ratio, 1) + " : 1, " + length(plan, width) + " wide");
    two("Ground area", square(plan, square_metres_from_mm2(plan.place.areas.ground_mm2()).value()),
        "All that is touched",
        square(plan, square_metres_from_mm2(plan.place.areas.touched_mm2()).value()));
    two("Laid from", job.damage.side == job::Side::outside ? "outside" : "inside", "Order",
        job.layup.order == job::Order::smallest_first ? "smallest piece first"
                                                      : "largest piece first");
    std::string resin = mixture_words(plan);
    resin.front() = 'R';
    two("Thickness laid", thickness(plan, plan.quantities.totals.laid_thickness_mm),
        resin + ", needed", mass(plan, plan.quantities.totals.resin_g));
    two("Plies", std::to_string(plan.plies.size()), resin + ", mixed in cups",
        mass(plan, quantities::mixed_in_all(plan.quantities).value()));
    if (job.layup.copies > 1)
        out +=
            tag("tr", left("Copies") + cell(std::to_string(job.layup.copies)) +
                          left("Figures are of one copy,") + cell("the shopping list is of all"));
    return out + "</tbody></table>\n" + tag("p", inch_rule, "class=\"quiet\"") + "\n";
}

std::string heed_of(const Plan& plan) {
    std::string heed;
    if (!plan.warnings.empty())
        heed = tag("p",
                   "This plan warns of " + std::to_string(plan.warnings.size()) + ": " +
                       tag("b", counted_by_rank(plan.warnings)) +
                       ". They stand on the page of cautions: read them before any work.",
                   "class=\"warning rank-" + std::string(rank_key(highest_rank(plan.warnings))) +
                       "\"") +
               "\n";
    return heed;
}

std::string picture(const Plan& plan) {
    return tag("p", place_picture(plan), "class=\"picture\"") + "\n";
}

std::string order_of_work(const Plan& plan) {
    std::string out = section("In this order") + "<ol>\n";
    out += tag("li", plan.core
                         ? tag("b", "open") +
                               ": the skin under the hand cut away and the core taken back, by the "
                               "rings under Core, until the skin behind lies free as far as its "
                               "own plies and their torn bands reach; then that skin is ground."
                         : tag("b", "cut out") +
                               ": the damaged laminate along the outline, right through, before "
                               "anything is backed.") +
           "\n";
    for (const Plan& part : plan.parts) {
        const bool last = &part == &plan.parts.back();
        std::string words = tag("b", formats::escaped(part.job.part.name)) + ", laid from " +
                            job::side_word(part.job.damage.side) + ": ground to " +
                            thickness(plan, part.job.damage.depth) + ", plies " +
                            std::to_string(part.plies.front().number) + " to " +
                            std::to_string(part.plies.back().number) + ", " +
                            thickness(plan, part.quantities.totals.laid_thickness_mm) + " laid.";
        if (!last) words += plan.core ? " Then cure, and the core." : " Then cure, and turn over.";
        out += tag("li", words) + "\n";
    }
    return out + "</ol>\n" +
           tag("p",
               "Plies are numbered on over all parts. Each part has its own grind guide, pieces, "
               "stages and cups, on pages of its own; cloth and shopping are of all.",
               "class=\"quiet\"") +
           "\n";
}

}  // namespace

std::string ask_first_box() {
    std::string out = section("Ask first");
    out += tag("p", tag("b", "The maker's data sheet comes first.") +
                        " Where it and this sheet differ, follow the data sheet: mixing, "
                        "temperatures, times, protection.");
    out +=
        tag("p", tag("b",
                     "Whether and how a structure may be repaired is decided by licensed "
                     "practice,") +
                     " not by this sheet: a surveyor, the designer or the class. Tick what holds, "
                     "and ask them before any work if one is ticked.");
    const auto items = ask_first();
    out += "\n<table width=\"100%\" class=\"first\"><tbody>\n";
    for (std::size_t i = 0; i < items.size(); i += 2) {
        std::string cells;
        for (std::size_t k = i; k < std::min(i + 2, items.size()); ++k)
            cells +=
                tag("td", tick_box() + "&#160; " + formats::escaped(items[k]), "width=\"50%\"");
        out += tag("tr", cells) + "\n";
    }
    return out + "</tbody></table>\n" +
           tag("p", "Asked: " + blank(28) + " &#160; Answer, date: " + blank(36)) + "\n";
}

std::string place_page(const Plan& plan) {
    return heading(plan) + heed_of(plan) + picture(plan) + repair(plan) + ask_first_box();
}

std::string front_page(const Plan& plan) {
    return heading(plan) + heed_of(plan) + order_of_work(plan) + ask_first_box();
}

std::string part_page(const Plan& part, std::size_t number) {
    return section("Part " + std::to_string(number) + ": " + part.job.part.name, true) +
           picture(part) + repair(part);
}

}  // namespace tearline::job_sheet

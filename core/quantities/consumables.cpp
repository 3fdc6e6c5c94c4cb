#include "core/quantities/consumables.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/quantities/cup_shares.h"
#include "core/quantities/dose_tools.h"
#include "core/quantities/measuring.h"
#include "core/quantities/shopping.h"

namespace tearline::quantities {

namespace {

// Common practice, every one of them.
constexpr int cups_a_pair_of_gloves = 2;
constexpr int gloves_for_grinding_and_finish = 4;
constexpr double solvent_mL_a_stage = 250.0;
constexpr double solvent_mL_a_m2_wiped = 200.0;
constexpr double ground_m2_a_disc = 0.1;
constexpr double footprint_m2_a_sheet = 0.25;
constexpr int least_discs = 2, least_sheets = 2;
constexpr int rags_a_stage = 5;
constexpr double film_for_area = 1.3;  // film laid over beyond the edge

/// Whole things for an amount, at least so many.
int whole(double amount, double each, int least) {
    return std::max(least,
                    static_cast<int>(std::ceil(amount / each - tolerance::decimal_rounding)));
}

/// Stages that are laid and cleaned up after: those with cloth, and a topcoat.
int cleanings(const job::Job& job, const std::vector<Stage>& stages) {
    const auto laid = std::count_if(stages.begin(), stages.end(),
                                    [](const Stage& stage) { return !stage.plies.empty(); });
    return static_cast<int>(laid) + (takes_topcoat(job) ? 1 : 0);
}

/// Syringes and jugs by size, each for one liquid: what has held hardener never goes into resin.
void add_dose_tools(const std::vector<ToolUse>& uses, std::vector<Consumable>& list) {
    for (const auto& [tool, liquid] : uses) {
        if (tool == Tool::scale) continue;
        const bool jug = tool == Tool::jug;
        list.push_back({std::string(facts_of(tool).words) + (jug ? "" : "s") + " for " +
                            liquid_words(liquid) + ", in nothing else",
                        jug ? 1.0 : 2.0, "", jug ? "one a liquid" : "one and a spare"});
    }
}

}  // namespace

std::vector<int> sanding_grits(const job::Job& job) {
    // Laminate, filler, then what the finish wants under it and on it.
    std::vector<int> grits = {40, 80, 120, 180};
    if (job.resin.kind == job::ResinKind::epoxy)
        grits.insert(grits.end(), {240, 320});
    else
        grits.insert(grits.end(), {320, 400, 600, 800, 1200});
    return grits;
}

int cups_in_all(const Quantities& quantities) {
    std::size_t cups = 1 + quantities.topcoat_cups.size();
    for (std::size_t i = 0; i < quantities.stages.size(); ++i) cups += cups_mixed(quantities, i);
    return static_cast<int>(cups);
}

std::vector<Consumable> consumables(const job::Job& job, const Areas& areas,
                                    const Quantities& quantities) {
    constexpr double mm_a_metre = 1000.0;
    const bool epoxy = job.resin.kind == job::ResinKind::epoxy;
    const int copies = std::max(job.layup.copies, 1);
    const int cups = cups_in_all(quantities), cleaned = cleanings(job, quantities.stages);
    const double footprint = square_metres_from_mm2(areas.touched_mm2()).value();
    const double ground = quantities.totals.ground_area_m2;
    const auto grits = static_cast<int>(sanding_grits(job).size());
    std::vector<Consumable> list;
    const auto add = [&](const char* name, double amount, const char* unit, const char* rule) {
        if (amount > 0.0) list.push_back({name, copies * amount, unit, rule});
    };
    const bool us = job.display_units == Units::us;
    add("mixing cups and stirring sticks", cups, "", "one a cup, one for the test cup");
    add("pairs of gloves", whole(cups, cups_a_pair_of_gloves, 1) + gloves_for_grinding_and_finish,
        "", "one for two cups, four for grinding and finish");
    add("brushes and roller sleeves, of each", cleaned, "",
        epoxy ? "one a stage" : "one a stage, one for the topcoat");
    add_dose_tools(dose_tools(job, quantities), list);
    add(epoxy ? "cleaning solvent that the resin's maker names" : "acetone",
        solvent_mL_a_stage * cleaned + solvent_mL_a_m2_wiped * footprint, "mL",
        us ? "8 1/2 fl oz a stage for tools, 5/8 fl oz a square foot wiped"
           : "250 mL a stage for tools, 200 mL a square metre wiped");
    add("rags", rags_a_stage * cleaned, "", "five a stage");
    add(us ? "grinding discs P36, 5 in" : "grinding discs P36, 125 mm",
        whole(ground, ground_m2_a_disc, least_discs), "",
        us ? "one for 1.1 square feet of ground, two at least"
           : "one for 0.1 square metre of ground, two at least");
    add("sheets of abrasive, all grits of the finish",
        grits * whole(footprint, footprint_m2_a_sheet, least_sheets), "",
        us ? "of each grit one for 2.7 square feet, two at least"
           : "of each grit one for 0.25 square metre, two at least");
    if (!epoxy)
        add("film to seal with, clear", film_for_area * footprint, "m2",
            "all that is touched and 30 % more, if you seal by film");
    add("masking tape", 2.0 * areas.footprint_perimeter_mm / mm_a_metre, "m",
        "twice round all that is touched");
    return list;
}

}  // namespace tearline::quantities

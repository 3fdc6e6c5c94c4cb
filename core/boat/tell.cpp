#include "core/boat/tell.h"

#include <algorithm>
#include <utility>

#include "core/quantities/resin_warnings.h"

namespace tearline::boat {

namespace {

/// Whether a warning is of the cups that are mixed, and of nothing else.
bool is_of_cups(const Warning& warning) {
    return is<warn::DoseSmall>(warning) || is<warn::DoseWithoutTool>(warning) ||
           is<warn::DoseOverCup>(warning) || is<warn::DoseMoved>(warning) ||
           is<warn::CupHeats>(warning) || is<warn::CupOverGelMass>(warning);
}

Warnings cup_warnings(const job::Job& job, const std::vector<quantities::Cup>& cups,
                      const std::vector<quantities::Cup>& topcoat) {
    Warnings all = quantities::mixing_warnings(job, cups, topcoat);
    std::erase_if(all, [](const Warning& warning) { return !is_of_cups(warning); });
    return all;
}

}  // namespace

ToldOf footprints_meet(const std::string& first, const std::string& second) {
    return {"footprints-meet",
            WarningRank::act,
            "covers or torn bands of " + first + " and " + second + " lie on one another: lay " +
                second + " when the covers of " + first +
                " have cured and are abraded where the two meet, or make one repair of them" +
                plainly(" ([[repair]] with one outline round both)", ""),
            {first, second}};
}

ToldOf no_cup_shared() {
    return {"no-cup-shared",
            WarningRank::know,
            "no cup is shared between places: how long a cup may be used is not known" +
                plainly(" (resin.gel_minutes with resin.gel_at at this temperature)", " here"),
            {}};
}

ToldOf remnant_not_used(const layout::CutRemnant& remnant, bool wanted) {
    return {"remnant-not-used",
            WarningRank::know,
            "remnant \"" + remnant.name + "\" of " + remnant.fabric + " is not used: " +
                (wanted ? "no piece has room on it" : "no place lays that cloth"),
            {}};
}

ToldOf repair_refused(const Repair& repair) {
    return {"repair-refused",
            WarningRank::stop,
            "is not planned and has no templates: " + repair.refused,
            {repair.name}};
}

ToldOf told_of(const Warning& warning, std::vector<std::string> repairs) {
    return {std::string(warning.code()),
            warning.rank(),
            warning.words(),
            std::move(repairs),
            warning.ply,
            warning.piece,
            warning.at};
}

void warn_of_cups_anew(Plan& plan) {
    std::vector<quantities::Cup> cups;
    for (const quantities::Stage& stage : plan.quantities.stages)
        if (stage.boat_cup == 0) cups.insert(cups.end(), stage.cups.begin(), stage.cups.end());
    std::erase_if(plan.warnings, is_of_cups);
    for (Warning& warning : cup_warnings(plan.job, cups, plan.quantities.topcoat_cups))
        plan.warnings.push_back(std::move(warning));
}

std::vector<ToldOf> shared_cup_warnings(const job::Job& job, const std::vector<SharedCup>& cups) {
    std::vector<quantities::Cup> all;
    for (const SharedCup& cup : cups) all.push_back(cup.cup);
    std::vector<ToldOf> out;
    if (all.empty()) return out;
    for (const Warning& warning : cup_warnings(job, all, {})) out.push_back(told_of(warning, {}));
    return out;
}

void add_warnings_of(const std::vector<Repair>& repairs, std::vector<ToldOf>& all) {
    for (const Repair& repair : repairs) {
        if (!repair.plan) continue;
        for (const Warning& warning : repair.plan->warnings) {
            ToldOf told = told_of(warning, {repair.name});
            const auto same = std::find_if(all.begin(), all.end(), [&](const ToldOf& other) {
                return !other.repairs.empty() && other.repairs.back() != repair.name && !told.ply &&
                       !other.ply && !told.at && !other.at && other.code == told.code &&
                       other.words.told == told.words.told;
            });
            if (same == all.end())
                all.push_back(std::move(told));
            else
                same->repairs.push_back(repair.name);
        }
    }
}

}  // namespace tearline::boat

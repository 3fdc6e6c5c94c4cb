#include "core/boat/plan_boat.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/boat/order_of_work.h"
#include "core/boat/places_that_meet.h"
#include "core/boat/plan_places.h"
#include "core/boat/tell.h"
#include "core/job/in_file.h"
#include "core/job/watched_files.h"
#include "core/layout/read_dxf_outline.h"
#include "core/plan/combine.h"
#include "core/plan/cut_pieces.h"
#include "core/plane/crossings.h"
#include "core/quantities/hardener.h"

namespace tearline::boat {

namespace {

void add(std::optional<double>& sum, const std::optional<double>& part, double copies) {
    if (part) sum = sum.value_or(0.0) + copies * *part;
}

double copies_of(const Plan& plan) {
    return std::max(plan.job.layup.copies, 1);
}

Totals totals_of(const std::vector<Repair>& repairs) {
    Totals sum;
    for (const Repair& repair : repairs) {
        if (!repair.plan) continue;
        const quantities::Totals& one = repair.plan->quantities.totals;
        const double copies = copies_of(*repair.plan);
        sum.glass_area_m2 += copies * one.glass_area_m2;
        sum.glass_g += copies * one.glass_g;
        sum.resin_g += copies * one.resin_g;
        add(sum.hardener_g, one.hardener_g, copies);
        add(sum.hardener_mL, one.hardener_mL, copies);
        add(sum.topcoat_g, one.topcoat_g, copies);
        add(sum.topcoat_hardener_g, one.topcoat_hardener_g, copies);
        sum.ground_area_m2 += copies * one.ground_area_m2;
        sum.prime_g += copies * one.prime_g;
        sum.fairing_mL += copies * one.fairing_mL;
    }
    return sum;
}

Error of_remnant(const job::BoatJob& job, const job::Remnant& remnant, Error error,
                 const char* key) {
    error.what = "of \"" + remnant.name + "\": " + (error.file.empty() ? "" : error.file + ": ") +
                 error.what;
    error.key = key;
    error.file = job.file.string();
    error.line = remnant.line;
    return error;
}

/// A remnant 25 times as large as it is, or as small, would be cut by.
Error no_unit(const std::string& unit) {
    return bad_input("its file has the unit \"" + unit + "\" in its header: write unit = \"" +
                     unit + "\", or unit = \"mm\" where that is wrong")
        .value();
}

/// The drawings of a boat's remnants, as they were before they were read.
class WatchedRemnants {
public:
    explicit WatchedRemnants(const job::BoatJob& job)
        : job_(job), files_(job.remnants.begin(), job.remnants.end()) {}

    [[nodiscard]] Result<void> unchanged() const {
        for (std::size_t i = 0; i < files_.size(); ++i)
            if (const auto same = files_[i].unchanged(); !same)
                return tl::unexpected(
                    of_remnant(job_, job_.remnants[i], same.error(), "remnant.model"));
        return {};
    }

private:
    const job::BoatJob& job_;
    std::vector<job::WatchedFiles> files_;
};

/// Outlines of DXF files, and that each is one that pieces can be cut from.
Result<void> find_outlines(job::BoatJob& job) {
    for (job::Remnant& remnant : job.remnants) {
        const char* key = remnant.model.empty() ? "remnant.outline" : "remnant.model";
        if (!remnant.model.empty()) {
            auto outline = layout::read_dxf_outline(remnant.model);
            if (!outline) return tl::unexpected(of_remnant(job, remnant, outline.error(), key));
            if (!remnant.unit_mm && !outline->unit.empty() && outline->unit != "mm")
                return tl::unexpected(of_remnant(job, remnant, no_unit(outline->unit), key));
            for (Vec2& p : outline->points) p *= remnant.unit_mm.value_or(1.0);
            remnant.outline = std::move(outline->points);
        }
        constexpr double least = 100.0;  // [mm2] nothing that one would keep
        const char* wrong = plane::crosses_itself({remnant.outline, {}})
                                ? "its outline crosses itself; give the points in order, round it"
                            : !(std::abs(signed_area(remnant.outline)) >= least)
                                ? "its outline goes round less than 1 cm2; is it in mm?"
                                : nullptr;
        if (wrong != nullptr)
            return tl::unexpected(of_remnant(job, remnant, bad_input(wrong).value(), key));
    }
    return {};
}

/// Pieces of every repair under the names that they have in the nest of all.
std::vector<layout::CutPiece> all_pieces(const std::vector<Repair>& repairs) {
    std::vector<layout::CutPiece> all;
    for (const Repair& repair : repairs) {
        if (!repair.plan) continue;
        for (layout::CutPiece& piece : plan::cut_pieces(*repair.plan)) {
            piece.id = piece_name(repair.name, piece.id);
            piece.copies *= repair.plan->job.layup.copies;
            all.push_back(std::move(piece));
        }
    }
    return all;
}

/// What a plan buys beside what it is laid of: the cloth of a backing.
void buy_besides(const Boat& boat, quantities::Shopping& shopping) {
    for (const Repair& repair : boat.repairs) {
        if (!repair.plan) continue;
        const auto on_roll = [&](const std::string& name) {
            return std::any_of(repair.plan->rolls.begin(), repair.plan->rolls.end(),
                               [&](const layout::Roll& roll) { return roll.fabric == name; });
        };
        for (quantities::ShoppingItem item : repair.plan->shopping.items) {
            if (item.kind != "cloth" || on_roll(item.name)) continue;
            item.name += " of " + repair.name;
            shopping.items.push_back(std::move(item));
            shopping.complete = false;
        }
    }
}

quantities::Shopping shopping_of(const Boat& boat) {
    std::vector<quantities::RepairToBuy> repairs;
    for (const Repair& repair : boat.repairs)
        if (repair.plan)
            repairs.push_back(
                {repair.plan->job, plan::areas_of(*repair.plan), repair.plan->quantities});
    std::vector<quantities::Cup> shared;
    for (const SharedCup& cup : boat.cups) shared.push_back(cup.cup);
    auto shopping = quantities::shopping_of(repairs, shared, boat.nest.rolls);
    buy_besides(boat, shopping);
    return shopping;
}

/// Several places, of which cups could be shared if their pot life were known.
bool lacks_pot_life(const Boat& boat) {
    return boat.planned() > 1 && !quantities::use_within(boat.any().job);
}

/// Refusals first, then what is of the boat, then what its places warn of.
void tell_all(Boat& boat, std::vector<ToldOf> told) {
    for (const Repair& repair : boat.repairs)
        if (!repair.plan) boat.warnings.push_back(repair_refused(repair));
    const auto add = [&](std::vector<ToldOf> more) {
        for (ToldOf& each : more) boat.warnings.push_back(std::move(each));
    };
    add(std::move(told));
    for (const layout::CutRemnant& remnant : boat.nest.remnants) {
        if (!remnant.placed.empty()) continue;
        const auto lays = [&](const Repair& repair) {
            return repair.plan &&
                   std::any_of(repair.plan->plies.begin(), repair.plan->plies.end(),
                               [&](const auto& ply) { return ply.fabric == remnant.fabric; });
        };
        boat.warnings.push_back(
            remnant_not_used(remnant, std::any_of(boat.repairs.begin(), boat.repairs.end(), lays)));
    }
    if (lacks_pot_life(boat)) boat.warnings.push_back(no_cup_shared());
    add(shared_cup_warnings(boat.any().job, boat.cups));
    add_warnings_of(boat.repairs, boat.warnings);
}

/// Why no place is planned: the first refusal.
tl::unexpected<Error> nothing_planned(const Boat& boat) {
    const Repair& first = boat.repairs.front();
    auto error = no_safe_answer("repair " + first.name,
                                first.refused + "; no place of this boat can be planned");
    error.value().file = boat.job.file.string();
    return error;
}

Result<Boat> planned(const job::BoatJob& job, const PlacesDone& done) {
    Boat boat;
    boat.job = job;
    if (const auto found = find_outlines(boat.job); !found) return tl::unexpected(found.error());
    auto repairs = plan_places(boat.job, done);
    if (!repairs) return tl::unexpected(repairs.error());
    boat.repairs = *std::move(repairs);
    const PairsThatMeet meeting = refuse_overlaps(boat.repairs, job.allow_overlap);
    if (boat.planned() == 0) return nothing_planned(boat);

    const std::vector<layout::CutPiece> pieces = all_pieces(boat.repairs);
    const job::Job& any = boat.any().job;
    auto nest = layout::nest_rolls(
        pieces, layout::Stock{any.fabrics, any.shop.cutting_gap, boat.job.remnants});
    if (!nest) return tl::unexpected(job::in_file(any, nest.error()));
    boat.nest = *std::move(nest);
    boat.rounds = order_of_work(boat.repairs, meeting);
    boat.cups = share_cups(boat.rounds, boat.repairs);
    time_rounds(boat.repairs, boat.cups, boat.rounds);
    if (!boat.cups.empty())
        for (Repair& repair : boat.repairs)
            if (repair.plan) warn_of_cups_anew(*repair.plan);
    boat.totals = totals_of(boat.repairs);
    boat.shopping = shopping_of(boat);

    std::vector<ToldOf> told;
    for (const auto& [first, second] : meeting)
        told.push_back(footprints_meet(boat.repairs[first].name, boat.repairs[second].name));
    tell_all(boat, std::move(told));
    return boat;
}

}  // namespace

Result<Boat> plan_boat(const job::BoatJob& job, const PlacesDone& done) {
    const WatchedRemnants watched(job);
    auto boat = planned(job, done);
    // A refusal too may be of what nobody has any more.
    if (const auto same = watched.unchanged(); !same) return tl::unexpected(same.error());
    return boat;
}

}  // namespace tearline::boat

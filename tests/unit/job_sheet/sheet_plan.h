#pragma once
#include <functional>

#include "core/job/resin_of_kind.h"
#include "core/quantities/layup_warnings.h"
#include "core/quantities/quantities.h"
#include "core/quantities/resin_warnings.h"
#include "core/quantities/shopping.h"
#include "tests/support/flat_plan.h"
#include "tests/support/sheet_tables.h"

/// Plans that the job sheet's tests share.
namespace tearline::job_sheet {

/// The flat panel with its quantities as a job asks for them.
inline Plan planned(const std::function<void(job::Job&)>& change = {}) {
    Plan plan = test_support::FlatPlanMaker({}).make();
    plan.job.resin.cup = Grams(60.0);
    if (change) change(plan.job);
    plan.place.dish = {{0.0, plan.job.damage.depth}, {12.0 * plan.job.damage.depth, 0.0}};
    const quantities::Repair repair{plan.job, plan.plies, plan.place.areas, plan.place.dish, {}, 0};
    plan.quantities = quantities::quantities_of(repair).value();
    for (const Warnings& more : {quantities::layup_warnings(repair, plan.quantities.sanding),
                                 quantities::resin_warnings(repair, plan.quantities)})
        plan.warnings.insert(plan.warnings.end(), more.begin(), more.end());
    plan.rolls = {{"mat 450", 1250.0, 420.0, 0.5, 0.0, 0.0, {}}};
    plan.shopping =
        quantities::shopping_of(plan.job, plan.place.areas, plan.quantities, plan.rolls);
    return plan;
}

inline void make_epoxy(job::Job& job) {
    const Grams cup = job.resin.cup;
    job.resin = job::resin_of_kind(job::ResinKind::epoxy);
    job.resin.cup = cup;
    job.resin.hardener_parts = {{5.0, 1.0}};
    job.resin.hardener_basis = job::Basis::mass;
}

/// A ply that is only a number and a cloth, with one piece of its own.
inline templates::LaidPly bare_ply(int number, const std::string& fabric,
                                   job::FabricKind kind = job::FabricKind::mat) {
    templates::LaidPly ply;
    ply.number = number;
    ply.fabric = fabric;
    ply.kind = kind;
    ply.pieces.resize(1);
    ply.pieces[0].piece.id = std::to_string(number) + "A";
    return ply;
}

/// A stage of some plies in equal cups, each of so much resin that is all used.
inline quantities::Stage stage_of(std::vector<int> plies, int cups, double grams_each) {
    quantities::Stage stage;
    stage.plies = std::move(plies);
    quantities::Cup cup;
    cup.resin_g = cup.mix_resin_g = grams_each;
    cup.pour_g = grams_each;
    stage.cups.assign(static_cast<std::size_t>(cups), cup);
    return stage;
}

/// The one table whose head or first row says a word.
inline const test::SheetTable& table_with(const test::SheetReader& sheet, const std::string& word) {
    for (const test::SheetTable& table : sheet.tables) {
        for (const std::string& cell : table.head)
            if (cell.find(word) != std::string::npos) return table;
        if (!table.rows.empty())
            for (const std::string& cell : table.rows[0])
                if (cell.find(word) != std::string::npos) return table;
    }
    throw std::runtime_error("no table of " + word);
}

}  // namespace tearline::job_sheet

#pragma once
#include <string>
#include <utility>

#include "core/boat/boat.h"
#include "tests/support/flat_plan.h"

/// A boat made by hand, for tests of what is written from one.
namespace tearline::boat {

/// A repair of the flat panel, laid in three stages: primed, two plies, a cover.
inline Repair flat_repair(const std::string& name) {
    static const Plan made = test_support::flat_plan();
    Repair repair;
    repair.name = name;
    repair.plan = made;
    Plan& plan = *repair.plan;
    plan.job.title = "Curlew refit · " + name + ": below the rail";
    plan.warnings.clear();
    quantities::Stage prime, plies, cover;
    prime.of = quantities::Stage::Of::ground;
    prime.then = "Prime.";
    plies.plies = {1, 2};
    plies.then = "Wait to tack.";
    cover.plies = {3};
    plan.quantities.stages = {prime, plies, cover};
    plan.quantities.totals.prime_g = 5.0;
    return repair;
}

inline Repair refused_repair(const std::string& name, const std::string& why) {
    Repair repair;
    repair.name = name;
    repair.refused = why;
    return repair;
}

inline Boat boat_of(std::vector<Repair> repairs) {
    Boat boat;
    boat.job.title = "Curlew refit";
    boat.job.file = "refit.toml";
    for (const Repair& repair : repairs) {
        job::Job job = repair.plan ? repair.plan->job : job::Job();
        if (!repair.plan) job.title = "Curlew refit · " + repair.name + ": by the stem";
        boat.job.repairs.push_back({repair.name, std::move(job)});
    }
    boat.repairs = std::move(repairs);
    return boat;
}

}  // namespace tearline::boat

#include "core/boat/plan_places.h"

#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <utility>

#include "core/base/side_by_side.h"
#include "core/ground/find_ground.h"
#include "core/ground/job_hull.h"
#include "core/job/in_file.h"
#include "core/job/watched_files.h"
#include "core/plan/plan_repair.h"

namespace tearline::boat {

namespace {

/// Hulls of the boat by the face that glass is laid from, which picks the skin of a model that has
/// two.
using SharedHull = std::shared_ptr<const hull::Hull>;
using Hulls = std::map<job::Side, SharedHull>;

/// A hull that fits a job, read for another of the same boat; null where each reads its own: of a
/// scan the surface about its own place.
SharedHull hull_for(const Hulls& hulls, const job::Job& job) {
    if (job.hull.scan || ground::asks_for_ground(job)) return nullptr;
    const auto found = hulls.find(job.damage.side);
    if (found != hulls.end()) return found->second;
    // A model of one face serves both sides.
    return hulls.empty() || !hulls.begin()->second->other_face.empty() ? nullptr
                                                                       : hulls.begin()->second;
}

Result<Hulls> read_hulls(const job::BoatJob& boat) {
    Hulls hulls;
    for (const auto& [name, job] : boat.repairs) {
        if (job.hull.scan || ground::asks_for_ground(job) || hull_for(hulls, job) != nullptr)
            continue;
        auto hull = ground::read_shared_hull(job);
        if (!hull) return tl::unexpected(job::in_file(job, hull.error()));
        hulls.emplace(job.damage.side, std::make_shared<const hull::Hull>(*std::move(hull)));
    }
    return hulls;
}

struct PlanOnHull {
    Plan plan;
    SharedHull hull;
};

Result<PlanOnHull> plan_on(const Hulls& hulls, const job::Repair& repair) {
    job::Job job = repair.job;
    SharedHull hull = hull_for(hulls, job);
    const auto take = [&](hull::Hull&& own) {
        hull = std::make_shared<const hull::Hull>(std::move(own));
    };
    if (hull == nullptr) {
        auto own = ground::read_job_hull(job);
        if (!own) return tl::unexpected(job::in_file(job, own.error()));
        job = std::move(own->job);
        take(std::move(own->hull));
    } else if (ground::has_dish_scan(job)) {
        auto own = ground::with_dish_scan(job, *hull);
        if (!own) return tl::unexpected(job::in_file(job, own.error()));
        take(*std::move(own));
    }
    auto plan = plan_place(repair.name, job, *hull);
    if (!plan) return tl::unexpected(plan.error());
    return PlanOnHull{*std::move(plan), std::move(hull)};
}

/// The places, worked on side by side.
std::vector<std::optional<Result<PlanOnHull>>> plans_on(const Hulls& hulls,
                                                        const job::BoatJob& boat,
                                                        const PlacesDone& done) {
    std::vector<std::optional<Result<PlanOnHull>>> plans(boat.repairs.size());
    std::mutex mutex;
    std::size_t finished = 0;
    side_by_side(plans.size(), [&](std::size_t i) {
        plans[i] = plan_on(hulls, boat.repairs[i]);
        const std::lock_guard lock(mutex);
        ++finished;
        if (done) done(finished, plans.size());
    });
    return plans;
}

Error named(Error error, const std::string& name) {
    error.key = "repair " + name + (error.key.empty() ? "" : ", " + error.key);
    return error;
}

}  // namespace

Result<std::vector<Repair>> plan_places(const job::BoatJob& job, const PlacesDone& done) {
    std::vector<job::WatchedFiles> watched;
    for (const job::Repair& repair : job.repairs) watched.emplace_back(repair.job);
    const auto hulls = read_hulls(job);
    if (!hulls) return tl::unexpected(hulls.error());
    auto plans = plans_on(*hulls, job, done);
    for (std::size_t i = 0; i < watched.size(); ++i)
        if (const auto same = watched[i].unchanged(); !same)
            return tl::unexpected(job::in_file(job.repairs[i].job, same.error()));
    std::vector<Repair> out;
    for (std::size_t i = 0; i < plans.size(); ++i) {
        Repair repair;
        repair.name = job.repairs[i].name;
        Result<PlanOnHull>& plan = *plans[i];
        if (plan) {
            repair.plan = std::move(plan->plan);
            repair.hull = std::move(plan->hull);
        } else if (plan.error().kind == ErrorKind::no_safe_answer) {
            repair.refused = plan.error().without_file();
        } else {
            return tl::unexpected(named(plan.error(), repair.name));
        }
        plans[i].reset();
        out.push_back(std::move(repair));
    }
    return out;
}

}  // namespace tearline::boat

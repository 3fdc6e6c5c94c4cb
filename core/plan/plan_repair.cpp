#include "core/plan/plan_repair.h"

#include <iterator>
#include <optional>
#include <utility>

#include "core/closing/dish_volume.h"
#include "core/ground/ground.h"
#include "core/ground/job_hull.h"
#include "core/ground/place_points.h"
#include "core/ground/skin_thickness.h"
#include "core/ground/sounded_depth.h"
#include "core/hull/read_hull.h"
#include "core/job/effective_json.h"
#include "core/job/in_file.h"
#include "core/job/watched_files.h"
#include "core/plan/built_so_far.h"
#include "core/plan/check_laminate.h"
#include "core/plan/check_measurements.h"
#include "core/plan/close_hole.h"
#include "core/plan/combine.h"
#include "core/plan/label_plies.h"
#include "core/plan/laid_place.h"
#include "core/plan/merge_warnings.h"
#include "core/plan/part_words.h"
#include "core/plan/parts.h"
#include "core/plan/scan_errors.h"
#include "core/plan/ways_of.h"
#include "core/quantities/layup_warnings.h"
#include "core/quantities/resin_warnings.h"
#include "core/rates/edge_rates.h"

namespace tearline {

namespace {

void add(Warnings& all, Warnings more) {
    all.insert(all.end(), std::make_move_iterator(more.begin()),
               std::make_move_iterator(more.end()));
}

/// What a plan is made with, beside its job and its hull.
struct How {
    Progress progress;
    std::string repair;               ///< its name among the places of a boat; or ""
    plan::KeptPlace* kept = nullptr;  ///< of who plans again and again
};

/// Volumes of a dish that was measured, and what was built in it so far.
struct Known {
    std::optional<quantities::DishVolumes> volumes;
    std::optional<plan::BuiltSoFar> built;
};

Result<Known> known_of(const job::Job& job, const ground::Ground& ground) {
    Known out;
    if (!ground.dish->measured()) return out;
    const auto volumes = quantities::dish_volumes(job, ground);
    if (!volumes) return tl::unexpected(volumes.error());
    out.volumes = *volumes;
    if (job.after_ply == 0) return out;
    const auto built = plan::built_so_far(job, ground);
    if (!built) return tl::unexpected(built.error());
    out.built = *built;
    return out;
}

/// What is to be told before anything is laid.
Warnings of_the_place(const hull::Hull& hull, const ground::PlacedJob& placed,
                      const ground::Ground& ground) {
    Warnings all = hull.warnings;
    add(all, placed.warnings);
    add(all, ground::depth_taken(placed.job, ground));
    add(all, ground.outline.warnings);
    add(all, ground.levels.warnings);
    if (const auto& wrap = ground.wrap) {
        warn::RoundTube round{{}, wrap->apart};
        for (std::size_t i = 0; i < wrap->seams.size(); ++i)
            if (!wrap->seams[i].empty()) round.plies.push_back(ground.levels.plies[i].number);
        if (!round.plies.empty()) all.push_back({std::move(round)});
    }
    if (const auto& lap = ground.lap)
        all.push_back({warn::LapsOverHullEnd{lap->bend().radius, lap->ground_radius(),
                                             placed.job.damage.edge_turn, lap->longest}});
    else if (placed.job.damage.at_end == job::AtEnd::lap)
        all.push_back({warn::LapWithoutEnd{}});
    add(all, ground::check_skin(placed.job, hull, ground.outline.points.front().position));
    return all;
}

/// What a planned dish holds [mm3].
double ground_out(const ground::Ground& ground, const job::Job& job,
                  const quantities::Areas& areas) {
    return closing::dish_volume(job.damage.depth, ground.scarf_offset, areas.damage_mm2,
                                areas.damage_perimeter_mm, areas.scarf_mm2);
}

/// The plan of what was laid: what is mixed, what stands on the templates, what is to be bought.
Result<Plan> plan_on(const rates::PlannedGround& on, plan::LaidPlace made, const How& how) {
    const job::Job& job = on.placed.job;
    plan::Place& place = made.place;
    plan::LaidPlies& laid = made.laid;
    Warnings warnings = of_the_place(on.hull, on.placed, on.ground);
    add(warnings, std::move(laid.warnings));
    const auto known = known_of(job, on.ground);
    if (!known) return tl::unexpected(known.error());
    if (known->built) add(warnings, plan::judged(*known->built));
    const double built_mm = known->built ? known->built->built_mm : 0.0;

    const quantities::Repair repair{job,        laid.plies,     place.areas,
                                    place.dish, known->volumes, built_mm};
    auto quantities = quantities::quantities_of(repair);
    if (!quantities) return tl::unexpected(quantities.error());
    add(warnings, quantities::layup_warnings(repair, quantities->sanding));
    add(warnings, quantities::resin_warnings(repair, *quantities));
    auto measured = plan::check_measurements(on, laid.plies);
    add(warnings, std::move(measured.warnings));
    auto scan = plan::scan_errors(on.ground, on.hull, job, laid.plies);
    if (!scan) return tl::unexpected(scan.error());
    add(warnings, std::move(scan->warnings));
    for (std::size_t k = 0; k < scan->edge_mm.size(); ++k)
        laid.plies[k].edge_error_mm = scan->edge_mm[k];
    auto laminate =
        plan::check_laminate(on.ground.levels, job, quantities->sanding.kept_mm, built_mm);
    if (!job.part.name.empty()) {  // the parts together are compared with the old laminate
        laminate.comparison.reset();
        std::erase_if(laminate.warnings,
                      [](const Warning& told) { return !is<warn::ScarfShort>(told); });
    }
    if (job.part.covered)  // the core lies on it: nothing is sanded back there
        std::erase_if(warnings, [](const Warning& told) { return is<warn::FewFreshLayers>(told); });
    add(warnings, std::move(laminate.warnings));
    add(warnings, std::move(made.nested.warnings));
    const quantities::Areas areas = place.areas;
    auto shopping = quantities::shopping_of(job, areas, *quantities, made.nested.rolls);
    auto plies = plan::labelled(std::move(laid.plies), quantities->plies, warnings,
                                {job, how.repair}, place.frame);
    return Plan{.job = job,
                .repair = how.repair,
                .model_sha256 = on.hull.sha256,
                .place = std::move(place),
                .plies = std::move(plies),
                .quantities = std::move(*quantities),
                .rolls = std::move(made.nested.rolls),
                .shopping = std::move(shopping),
                .measured = std::move(measured.figures),
                .scan = std::move(scan->hull),
                .volumes = known->volumes,
                .built = known->built,
                .comparison = std::move(laminate.comparison),
                .scarf_check = std::move(laminate.scarf),
                .warnings = plan::merged(std::move(warnings)),
                .dish_mm3 = on.ground.dish->measured() ? 0.0 : ground_out(on.ground, job, areas),
                .parts = {},
                .backing = {},
                .core = {},
                .ways = {},
                .flat = {}};
}

/// A plan of a job that is one: on one ground.
Result<Plan> plan_one(const job::Job& asked, const ground::PlacedJob& placed,
                      const hull::Hull& hull, const How& how) {
    auto made = plan::lay_place(placed, hull, how.progress);
    if (!made) return tl::unexpected(made.error());
    const auto ground = made->ground;
    return plan_on({asked, placed, hull, **ground}, *std::move(made), how);
}

/// What a plan of one part is laid from; or, where it was laid before, that.
Result<plan::LaidPlace> laid_for(const job::Job& shape, const hull::Hull& hull, const How& how) {
    if (how.kept)
        if (const plan::LaidPlace* kept = how.kept->of(shape)) return *kept;
    auto placed = ground::place_points(shape, hull);
    if (!placed) return tl::unexpected(placed.error());
    auto deep = ground::with_depth(std::move(placed->job), hull);
    if (!deep) return tl::unexpected(deep.error());
    placed->job = std::move(*deep);
    auto made = plan::lay_place(*std::move(placed), hull, how.progress);
    if (made && how.kept) return how.kept->keep(shape, *std::move(made));
    return made;
}

/// A plan of one part: its shape is laid without what is mixed, so that it cannot hang on that.
Result<Plan> plan_single(const job::Job& asked, const hull::Hull& hull, const How& how) {
    auto made = laid_for(plan::shape_of(asked), hull, how);
    if (!made) return tl::unexpected(made.error());
    const auto ground = made->ground;
    ground::PlacedJob placed = std::move(made->placed);
    const bool as_asked = placed.job.effective_json.empty();
    plan::take_mixing(placed.job, asked);
    placed.job.effective_json = as_asked ? asked.effective_json : job::effective_json(placed.job);
    return plan_on({asked, placed, hull, **ground}, *std::move(made), how);
}

/// A part of a repair on the face that it is laid on: of a model that holds both, its own.
Result<Plan> plan_part(const job::Job& job, const ground::PlacedJob& placed, const hull::Hull& hull,
                       const How& how) {
    const ground::PlacedJob part{job, placed.about_marks, placed.warnings};
    if (hull.other_face.empty() || job.damage.side == placed.job.damage.side)
        return plan_one(job, part, hull, how);
    const auto other = hull::read_hull(job.hull, job.damage.side);
    if (!other) return tl::unexpected(other.error());
    return plan_one(job, part, *other, how);
}

/// Every part of a repair of several, then all of them together.
Result<Plan> plan_all_parts(const ground::PlacedJob& placed, const hull::Hull& hull,
                            const How& how) {
    auto jobs = plan::parts_of(placed.job, hull);
    if (!jobs) return tl::unexpected(jobs.error());
    std::vector<Plan> parts;
    int plies = 0;
    std::size_t main = 0;
    for (std::size_t i = 0; i < jobs->size(); ++i) {
        job::Job& job = (*jobs)[i];
        job.part.plies_before = plies;
        auto part = plan_part(job, placed, hull, how);
        if (!part) return part;
        if (i + 1 < jobs->size()) plan::tell_what_comes_between(*part, (*jobs)[i + 1]);
        plies += static_cast<int>(part->plies.size());
        if (job.damage.side == placed.job.damage.side && job.part.below == 0.0) main = i;
        parts.push_back(std::move(*part));
    }
    if (parts.size() == 1) {
        Plan one = std::move(parts.front());
        one.job.effective_json = placed.job.effective_json;
        return one;
    }
    return plan::combined(placed.job, std::move(parts), main);
}

Result<Plan> plan_placed(const job::Job& asked, const hull::Hull& hull, const How& how) {
    if (how.progress && !how.progress("meshing the place", 0.1)) return no_safe_answer("stopped");
    if (!asked.damage.through && !asked.core) return plan_single(asked, hull, how);
    auto placed = ground::place_points(asked, hull);
    if (!placed) return tl::unexpected(placed.error());
    auto plan = plan_all_parts(*placed, hull, how);
    if (!plan) return plan;
    if (asked.damage.through && !asked.core)
        plan->ways = plan::ways_of(*plan, placed->job, [&](const job::Job& way) {
            const ground::PlacedJob other{way, placed->about_marks, placed->warnings};
            return plan_all_parts(other, hull, {{}, how.repair});
        });
    if (auto closed = plan::close_hole(*plan, *placed, hull); !closed)
        return tl::unexpected(closed.error());
    return plan;
}

}  // namespace

Result<Plan> plan_repair(const job::Job& job, const Progress& progress) {
    if (progress && !progress("reading the hull", 0.0)) return no_safe_answer("stopped");
    const job::WatchedFiles files(job);
    const auto read = ground::read_job_hull(job);
    if (!read) return tl::unexpected(job::in_file(job, read.error()));
    return job::of_unchanged(job, files, plan_repair(read->job, read->hull, progress));
}

Result<Plan> plan_repair(const job::Job& asked, const hull::Hull& hull, const Progress& progress) {
    auto plan = plan_placed(asked, hull, {progress, {}});
    if (!plan) return tl::unexpected(job::in_file(asked, plan.error()));
    return plan;
}

Result<Plan> plan_repair(const job::Job& asked, const hull::Hull& hull, plan::KeptPlace& kept,
                         const Progress& progress) {
    auto plan = plan_placed(asked, hull, {progress, {}, &kept});
    if (!plan) return tl::unexpected(job::in_file(asked, plan.error()));
    return plan;
}

Result<Plan> plan_place(const std::string& repair, const job::Job& job, const hull::Hull& hull) {
    auto plan = plan_placed(job, hull, {{}, repair});
    if (!plan) return tl::unexpected(job::in_file(job, plan.error()));
    return plan;
}

}  // namespace tearline

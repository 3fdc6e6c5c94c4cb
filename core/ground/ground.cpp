#include "core/ground/ground.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/side_by_side.h"
#include "core/base/tolerances.h"
#include "core/dish/offset_sweep.h"
#include "core/dish/planned_dish.h"
#include "core/ground/measured_ground.h"
#include "core/ground/tolerances.h"
#include "core/ground/untold_end.h"
#include "core/patch/build_patch.h"
#include "core/plane/nearest_on_line.h"
#include "core/plies/centreline_cut.h"
#include "core/plies/depth_kinks.h"
#include "core/surface/locate_near.h"
#include "core/surface/surface_behind.h"

namespace tearline::ground {

namespace {

std::string point_text(const Vec3& at) {
    return "[" + fixed(at.x(), 1) + ", " + fixed(at.y(), 1) + ", " + fixed(at.z(), 1) + "] mm";
}

/// How far outside the damage outline the cloth reaches: each net line, and the torn band of mat.
double footprint_offset(const job::Job& job, const plies::PlyLevels& levels) {
    const double scarf = levels.dish.back().x();
    double offset = scarf, widest_band = 0.0, covers = 0.0;
    for (const plies::PlyLevel& ply : levels.plies) {
        const job::Fabric& fabric = job.fabrics.at(ply.entry.fabric);
        const double band = fabric.kind == job::FabricKind::mat ? fabric.tear_margin : 0.0;
        offset = std::max(offset, ply.edge_offset + band);
        widest_band = std::max(widest_band, band);
        if (ply.cover) covers += job.layup.cover_step;
    }
    // Plies of a dish that was measured may reach to the end of the scarf, and covers lie outside
    // that.
    const bool planned = job.damage.soundings.empty() && !job.damage.scanned(job.hull.scan);
    return planned ? offset : std::max(offset, scarf + covers + widest_band);
}

std::vector<double> all_offsets(const Ground& ground) {
    std::vector<double> offsets{0.0, ground.scarf_offset, ground.footprint_offset};
    for (const plies::PlyLevel& ply : ground.levels.plies) {
        offsets.push_back(ply.edge_offset);
        const auto kinks = plies::depth_kinks(ground.levels.dish, ply);
        offsets.insert(offsets.end(), kinks.begin(), kinks.end());
    }
    std::sort(offsets.begin(), offsets.end());
    offsets.erase(std::unique(offsets.begin(), offsets.end()), offsets.end());
    return offsets;
}

/// How far outside the damage outline a straightedge may reach [mm].
double straightedge_reach(const job::Job& job, const plies::PlyLevels& levels) {
    // A tip half the length away along a chord is farther along the hull: by a fifth under an edge
    // five sixths of the diameter of a round hollow.
    constexpr double arc = 1.2;
    double longest = 0.0;
    for (const job::Sounding& sounding : job.damage.soundings)
        if (sounding.from == job::Sounding::From::straightedge)
            longest = std::max(longest, sounding.length);
    return longest > 0.0 ? levels.dish.back().x() + 0.5 * arc * longest : 0.0;
}

/// The hull as far as straightedges reach; none where the repair needs as much, or where so much of
/// it cannot be laid out: a reading that needs it is refused then.
std::optional<surface::Patch> patch_around(const job::Job& job, const hull::Hull& hull,
                                           const plies::PlyLevels& levels,
                                           patch::PatchRequest request) {
    const double reach = straightedge_reach(job, levels);
    if (!(reach > request.reach)) return std::nullopt;
    request.reach = reach + tolerance::patch_margin;
    request.triangles = 2000;  // its places are those of the surface behind it, however coarse
    auto patch = patch::build_patch(hull, request);
    if (!patch) return std::nullopt;
    return std::move(*patch);
}

/// Whether a place lies in a plane that the hull's open edge follows along its centreline.
bool on_centreline(const hull::Hull& hull, const Vec3& at) {
    for (const hull::CentrelinePlane& plane : hull.centreline)
        if (std::abs(plane.normal.dot(at) - plane.offset) <= tolerance::centreline) return true;
    return false;
}

Error mirror_wanted(const std::string& what, const Vec3& near) {
    return {
        .kind = ErrorKind::no_safe_answer,
        .key = "hull.mirror",
        .what = what + " near " + point_text(near) +
                "; say mirror = true if the model is half a hull, or mirror = false if it really "
                "ends there",
        .place = near};
}

/// A damage that has no place on the model because it reaches over a centreline that may be
/// missing its other half.
std::optional<Error> mirror_missing(const job::Job& job, const hull::Hull& hull,
                                    const patch::PatchRequest& request) {
    if (job.hull.mirror) return std::nullopt;
    for (const hull::CentrelinePlane& plane : hull.centreline) {
        const double body = plane.normal.dot(hull.report.extent_min + hull.report.extent_max) / 2.0;
        for (const Vec3& seed : request.seeds) {
            const double inside =
                (plane.normal.dot(seed) - plane.offset) * (body > plane.offset ? 1.0 : -1.0);
            if (inside > request.damage_radius + tolerance::centreline) continue;
            return mirror_wanted("the damage reaches over the hull's centreline", seed);
        }
    }
    return std::nullopt;
}

/// A net line cut at a centreline that may be missing its other half: only the user knows.
Result<void> ask_for_mirror(const job::Job& job, const hull::Hull& hull, const Ground& ground) {
    if (job.hull.mirror) return {};
    const auto cut =
        plies::centreline_cut(ground.patch, ground.regions.back(), job.hull.bow, job.hull.up);
    if (!cut || !on_centreline(hull, cut->at)) return {};
    return tl::unexpected(mirror_wanted("the repair is cut at the hull's centreline", cut->at));
}

/// How far points lie apart at most [mm].
double extent(const std::vector<Vec3>& points) {
    double most = 0.0;
    for (const Vec3& a : points)
        for (const Vec3& b : points) most = std::max(most, (a - b).norm());
    return most;
}

/// A damage may run off the end of the boat, but not off what was measured of it.
Result<void> check_end_of_damage(const job::Job& job, const surface::Patch& patch,
                                 const damage::DamageOutline& outline) {
    const bool scan = job.hull.scan.has_value();
    auto off = untold_end(job, patch, {Region2{outline.chart, {}}});
    if (!off && scan && job.damage.end.empty()) off = outline.points.front().position;
    if (!off) return {};
    return bad_input("damage",
                     "the outline leaves " +
                         std::string(scan ? "the scan" : "what was measured of the hull") +
                         " near " + point_text(*off) + "; " +
                         (scan ? "scan farther out, keep the outline inside what was scanned"
                               : "measure farther out, keep the outline inside it") +
                         ", or tell the hull's own end by points along it, damage.end",
                     *off);
}

/// Refuses an opening that neither the dish nor any ply reaches.
Result<void> openings_in_reach(const Ground& ground) {
    for (const damage::KeptOpening& opening : ground.openings) {
        double off = std::numeric_limits<double>::infinity();
        for (const Vec2& p : opening.edge.chart)
            off = std::min(off, contains(ground.outline.chart, p)
                                    ? 0.0
                                    : plane::distance_to_loop(ground.outline.chart, p));
        constexpr double slack = 1.02;  // [-] a chart is a little wrong in lengths
        if (off > slack * (ground.footprint_offset + opening.clear))
            return damage::out_of_reach(opening.asked, off, opening.middle);
    }
    return {};
}

Result<Ground> bare(const job::Job& job, plies::PlyLevels levels, surface::Patch patch,
                    damage::DamageOutline outline, std::optional<surface::Patch> around) {
    Ground ground;
    ground.levels = std::move(levels);
    ground.patch = std::move(patch);
    ground.outline = std::move(outline);
    ground.around = std::move(around);
    ground.scarf_offset = ground.levels.dish.back().x();
    ground.footprint_offset = footprint_offset(job, ground.levels);
    auto openings =
        damage::kept_openings(ground.patch, ground.outline, job.damage, job.hull.bow, job.hull.up);
    if (!openings) return tl::unexpected(openings.error());
    ground.openings = std::move(*openings);
    if (auto near = openings_in_reach(ground); !near) return tl::unexpected(near.error());
    std::vector<Loop2> edges;
    for (const damage::KeptOpening& opening : ground.openings) edges.push_back(opening.edge.chart);
    ground.frame =
        damage::flat_frame(ground.patch, ground.outline, job.hull.bow, job.hull.up, edges);
    return ground;
}

/// How far from an opening's edge an offset outside the outline answers to: where the scarf rises
/// to it, the same depth lies so far back from it.
double back_from(const Ground& ground, const damage::KeptOpening& opening, double offset) {
    return opening.scarf_to == job::ScarfTo::opening ? std::max(0.0, ground.scarf_offset - offset)
                                                     : 0.0;
}

/// The hole of a ply: nothing within `clear` of the opening, and as its edge outside lies on the
/// scarf.
double hole_of(const Ground& ground, const damage::KeptOpening& opening,
               const plies::PlyLevel& ply) {
    return std::max(opening.clear, back_from(ground, opening, ply.edge_offset));
}

/// Takes what is kept out of every region.
Result<void> take_out_openings(Ground& ground, std::span<const double> offsets) {
    for (const damage::KeptOpening& opening : ground.openings) {
        std::vector<double> distances;
        for (const double offset : offsets) distances.push_back(back_from(ground, opening, offset));
        for (const plies::PlyLevel& ply : ground.levels.plies)
            distances.push_back(hole_of(ground, opening, ply));
        auto levels = plies::opening_levels(ground.patch, opening, distances);
        if (!levels) return tl::unexpected(levels.error());
        ground.opening_levels.push_back(std::move(*levels));
    }
    return {};
}

std::vector<Loop2> loops_round_openings(
    const Ground& ground, const std::function<double(const damage::KeptOpening&)>& distance) {
    std::vector<Loop2> loops;
    for (std::size_t i = 0; i < ground.openings.size(); ++i)
        loops.push_back(ground.opening_levels[i].at(distance(ground.openings[i])));
    return loops;
}

/// Refuses what cannot go together yet.
Result<void> goes_together(const job::Job& job, const Ground& ground) {
    const bool winds = ground.patch.behind->winding() != nullptr;
    if (winds && (is_measured(job, ground) || !ground.openings.empty()))
        return no_safe_answer("damage",
                              "the repair goes right round a tube, and neither soundings, scans of "
                              "the dish nor openings can be told of one yet; make it smaller",
                              ground.frame.middle);
    if (!is_measured(job, ground)) return {};
    if (!ground.openings.empty())
        return bad_input("damage.opening",
                         "cannot go with soundings or a scan of the dish yet: plan the dish by "
                         "damage.depth");
    // Its depth is told from zero all round: no dish that is deep at the hull's end.
    if (job.damage.at_end == job::AtEnd::lap)
        return bad_input("damage.at_end",
                         "\"lap\" cannot go with soundings or a scan of the dish yet: say "
                         "\"cut\", and lap the hull's end by hand, or plan the dish by "
                         "damage.depth");
    if (!ground.dish_points && ground.outline.cut_at_hull_end)
        return bad_input("damage.sounding",
                         "soundings tell a dish that comes out to zero all round, and the "
                         "hull's end cuts this one where it is deep: plan it by damage.depth");
    return {};
}

/// Draws every net line on bare ground.
Result<Ground> laid(const job::Job& job, Ground ground) {
    if (const auto together = goes_together(job, ground); !together)
        return tl::unexpected(together.error());
    if (is_measured(job, ground)) return lay_measured_ground(job, std::move(ground));
    const std::vector<double> offsets = all_offsets(ground);
    if (auto taken = take_out_openings(ground, offsets); !taken)
        return tl::unexpected(taken.error());
    const auto sweep = dish::sweep_offsets(ground.patch, ground.outline, offsets);
    std::vector<dish::OffsetSweep> rising;
    for (std::size_t i = 0; i < ground.openings.size(); ++i)
        if (ground.openings[i].scarf_to == job::ScarfTo::opening)
            rising.push_back(ground.opening_levels[i].sweep);
    std::optional<Result<std::vector<plies::NetRegion>>> regions;
    side_by_side([&] { regions = plies::net_regions(ground.patch, sweep, offsets); },
                 [&] {
                     ground.dish =
                         std::make_unique<dish::PlannedDish>(ground.levels.dish, sweep, rising);
                 });
    if (!*regions) return tl::unexpected(regions->error());
    ground.regions = **std::move(regions);
    for (const plies::PlyLevel& ply : ground.levels.plies)
        ground.ply_regions.push_back(
            plies::without(ground.patch, ground.region_at(ply.edge_offset),
                           loops_round_openings(ground, [&](const damage::KeptOpening& opening) {
                               return hole_of(ground, opening, ply);
                           })));
    for (plies::NetRegion& region : ground.regions)
        region = plies::without(ground.patch, region,
                                loops_round_openings(ground, [&](const auto& opening) {
                                    return back_from(ground, opening, region.offset);
                                }));
    for (std::size_t i = 0; i < ground.levels.plies.size(); ++i)
        if (ground.ply_regions[i].chart.empty())
            return no_safe_answer("damage.opening",
                                  "nothing is left of ply " +
                                      std::to_string(ground.levels.plies[i].number) +
                                      " between the openings and its edge; make the damage outline "
                                      "larger, or say scarf_to = \"none\"");
    if (auto wrapped = wrap_tube(ground); !wrapped) return tl::unexpected(wrapped.error());
    if (job.damage.at_end == job::AtEnd::lap)
        if (auto lapped = lap_over_end(job, ground); !lapped) return tl::unexpected(lapped.error());
    return ground;
}

}  // namespace

const plies::NetRegion& Ground::region_at(double offset) const {
    for (const plies::NetRegion& region : regions)
        if (region.offset == offset) return region;
    throw std::logic_error("Ground::region_at: no region of that offset was asked for");
}

const plies::NetRegion& Ground::region_of(const plies::PlyLevel& ply) const {
    for (std::size_t i = 0; i < levels.plies.size(); ++i)
        if (levels.plies[i].number == ply.number) return ply_regions[i];
    throw std::logic_error("Ground::region_of: a ply of another repair");
}

std::vector<std::vector<Vec2>> Ground::bend_lines(double offset) const {
    plies::NetRegion region = region_at(offset);
    if (lap)
        for (Region2& part : region.chart) part = lap->carried_over(part);
    std::vector<std::vector<Vec2>> lines = plies::edge_lines(region);
    for (std::size_t i = 0; i < openings.size(); ++i) {
        if (openings[i].scarf_to != job::ScarfTo::opening) continue;
        Loop2 line = opening_levels[i].at(back_from(*this, openings[i], offset));
        line.push_back(line.front());
        lines.push_back(std::move(line));
    }
    return lines;
}

Result<double> reach_beyond_outline(const job::Job& asked) {
    job::Job job = asked;
    // A depth that only soundings will tell: the scarf of the deepest dish that there can be.
    if (!(job.damage.depth > 0.0))
        job.damage.depth = job.hull.skin.value_or(tolerance::thickest_skin);
    const auto levels = plies::ply_levels(job);
    if (!levels) return tl::unexpected(levels.error());
    return std::max(footprint_offset(job, *levels), straightedge_reach(job, *levels)) +
           2.0 * tolerance::patch_margin;
}

namespace {

/// @param round  what goes round a tube is rolled out though it has a chart in one ring
Result<Ground> bare_on(const job::Job& job, const hull::Hull& hull, plies::PlyLevels levels,
                       bool round) {
    const double reach = footprint_offset(job, levels);
    patch::PatchRequest request = patch::patch_request(job, reach + tolerance::patch_margin);
    request.model_surface = hull.surface;
    const auto without_place = [&](const Error& error) {
        return tl::unexpected(mirror_missing(job, hull, request).value_or(error));
    };
    request.round = round;
    auto patch = patch::build_patch(hull, request);
    // Round a tube the margin alone may close what the repair leaves open.
    for (const double part : {0.3, 0.05}) {
        if (patch || patch.error().kind != ErrorKind::no_safe_answer) break;
        request.reach = reach + part * tolerance::patch_margin;
        if (auto narrower = patch::build_patch(hull, request)) patch = std::move(narrower);
    }
    if (!patch && patch.error().kind == ErrorKind::no_safe_answer) {
        request.reach = reach + tolerance::patch_margin;
        request.round = true;
        if (auto rolled = patch::build_patch(hull, request)) patch = std::move(rolled);
    }
    if (!patch) return without_place(patch.error());
    // Places picked on the model lie off the other face by the skin.
    job::Damage picked = job.damage;
    if (job.damage.side != hull.surface)
        picked.carried = std::max(picked.carried, job.hull.skin.value_or(0.0));
    auto outline = damage::damage_outline(*patch, picked, job.hull.bow, job.hull.up);
    // A line from end to end bounds what the hull's end closes, however far off that is.
    for (const double times : {1.0, 3.0}) {
        const bool runs_on = !outline && outline.error().kind == ErrorKind::no_safe_answer;
        if (!runs_on || request.round || job.damage.outline.empty()) break;
        request.reach = reach + times * extent(job.damage.outline);
        auto wider = patch::build_patch(hull, request);
        if (!wider) break;
        patch = std::move(wider);
        outline = damage::damage_outline(*patch, picked, job.hull.bow, job.hull.up);
    }
    // On a tube that was rolled out the damage itself must not go round.
    if (!outline && patch->behind->winding() != nullptr)
        return no_safe_answer(
            "damage",
            "the damage reaches right round a tube or past the end of it: make it "
            "smaller, or lay each half of the tube as a repair of its own",
            outline.error().place);
    if (!outline) return without_place(outline.error());
    if (outline->cut_at_hull_end)
        if (auto known = check_end_of_damage(job, *patch, *outline); !known)
            return tl::unexpected(known.error());
    auto around = patch_around(job, hull, levels, request);
    auto ground =
        bare(job, std::move(levels), std::move(*patch), std::move(*outline), std::move(around));
    if (!ground) return ground;
    ground->dish_points = hull.dish;
    ground->dish_before = hull.dish_before;
    return ground;
}

/// How far a closed line turns to its left on the hull, all in all [rad].
double turn_of(const surface::Patch& patch, const Loop2& loop) {
    std::vector<Vec3> place, normal;
    for (const Vec2& p : loop) {
        const auto sample = patch.sample(surface::locate_near(patch, p).at);
        if (!place.empty() && (sample.position - place.back()).norm() < tolerance::weld)
            continue;
        place.push_back(sample.position);
        normal.push_back(sample.normal);
    }
    const std::size_t n = place.size();
    double turn = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        const Vec3 in = place[i] - place[(i + n - 1) % n], out = place[(i + 1) % n] - place[i];
        turn += std::atan2(normal[i].dot(in.cross(out)), in.dot(out));
    }
    return turn;
}

/// Whether a ply goes right round a tube, in a chart that shows it as a ring: the hole in it hardly
/// turns on the tube, where that of a ring on a panel turns right round.
bool rings_a_tube(const Ground& ground) {
    if (ground.patch.behind->winding() != nullptr || !ground.openings.empty()) return false;
    for (const plies::NetRegion& net : ground.ply_regions)
        for (const Region2& region : net.chart)
            for (const Loop2& hole : region.holes)
                if (std::abs(turn_of(ground.patch, hole)) < std::numbers::pi) return true;
    return false;
}

}  // namespace

Result<Ground> bare_ground(const job::Job& job, const hull::Hull& hull, plies::PlyLevels levels) {
    return bare_on(job, hull, std::move(levels), false);
}

Result<void> check_cured_work(const job::Job& job, const hull::Hull& hull) {
    if (job.after_ply == 0 || !job.damage.soundings.empty() || hull.dish) return {};
    const std::string after = std::to_string(job.after_ply);
    if (!job.damage.scanned(job.hull.scan))
        return bad_input("damage.sounding", "missing: to plan on after ply " + after +
                                                ", sound the cured work and give each sounding "
                                                "after = " +
                                                after);
    return bad_input("damage.scan_after",
                     "missing: to plan on after ply " + after +
                         ", scan the cured work and give it with ply = " + after);
}

Result<Ground> lay_ground(const job::Job& job, const hull::Hull& hull) {
    if (auto known = check_cured_work(job, hull); !known) return tl::unexpected(known.error());
    auto levels = plies::ply_levels(job);
    if (!levels) return tl::unexpected(levels.error());
    auto ground = bare_on(job, hull, *levels, false);
    if (!ground) return ground;
    ground = laid(job, std::move(*ground));
    if (!ground) return ground;
    if (rings_a_tube(*ground)) {
        auto rolled = bare_on(job, hull, *std::move(levels), true);
        if (rolled) rolled = laid(job, *std::move(rolled));
        if (rolled) ground = std::move(rolled);
    }
    if (auto known = ask_for_mirror(job, hull, *ground); !known)
        return tl::unexpected(known.error());
    return ground;
}

Result<Ground> lay_ground(const job::Job& job, plies::PlyLevels levels, surface::Patch patch,
                          damage::DamageOutline outline, std::optional<surface::Patch> around,
                          std::shared_ptr<const hull::DishPoints> dish) {
    auto ground =
        bare(job, std::move(levels), std::move(patch), std::move(outline), std::move(around));
    if (!ground) return ground;
    ground->dish_points = std::move(dish);
    return laid(job, std::move(*ground));
}

}  // namespace tearline::ground

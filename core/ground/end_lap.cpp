#include "core/ground/end_lap.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/ground/ground.h"
#include "core/ground/loops_on_end.h"
#include "core/ground/tolerances.h"
#include "core/ground/untold_end.h"
#include "core/plies/mesh_region.h"
#include "core/surface/curved_area.h"

namespace tearline::ground {
namespace {

/// [mm] from the end of one ply's lap to the next one's, so that no two end on one line
/// (DEFINITIONS.md, End of the hull).
constexpr double lap_step = 25.0;

/// [degrees] a face that turns by this lies behind the skin.
constexpr double turned_back = 175.0;

/// A dish that comes to the hull's end as deep as it is there, and through the bend to the far
/// face, which is flat: as far below the finished one everywhere as where the dish is deepest.
class DishOverEnd final : public dish::DepthField {
public:
    DishOverEnd(std::unique_ptr<const dish::DepthField> on_hull,
                std::shared_ptr<const patch::LappedPatch> over, double far_face)
        : on_hull_(std::move(on_hull)), over_(std::move(over)), far_face_(far_face) {}

    [[nodiscard]] double depth(const Vec2& chart_point) const override {
        const auto beyond = over_->beyond(chart_point);
        if (!beyond) return on_hull_->depth(chart_point);
        const double turned = std::min(1.0, beyond->way / over_->bend().girth());
        return (1.0 - turned) * on_hull_->depth(beyond->foot) + turned * far_face_;
    }
    [[nodiscard]] double deepest() const override { return on_hull_->deepest(); }
    [[nodiscard]] std::span<const Vec2> profile() const override { return on_hull_->profile(); }
    [[nodiscard]] bool measured() const override { return on_hull_->measured(); }
    [[nodiscard]] const dish::SoundedDish* soundings() const override {
        return on_hull_->soundings();
    }
    [[nodiscard]] const dish::ScannedDish* scan() const override { return on_hull_->scan(); }

private:
    std::unique_ptr<const dish::DepthField> on_hull_;
    std::shared_ptr<const patch::LappedPatch> over_;
    double far_face_;  ///< [mm]
};

/// A scan or figures taken by hand have to say where the boat itself ends.
Result<void> end_is_known(const job::Job& job, const Ground& ground) {
    const auto off = untold_end(job, ground.patch, ground.region_at(ground.footprint_offset).chart);
    if (!off) return {};
    const std::string hull = job.hull.scan ? "scan" : "hull measured by hand";
    if (job.damage.end.empty())
        return bad_input("damage.end",
                         "missing: a " + hull +
                             " ends where nobody measured on; to lap cloth over the boat's own "
                             "end near " +
                             place_text(*off) +
                             " mm give points along it, such as end = [[x, y, z], [x, y, z], ...], "
                             "farther than the cloth reaches",
                         *off);
    return no_safe_answer("damage.end",
                          "the cloth runs off what was measured near " + place_text(*off) +
                              " mm, away from the end that these points tell: measure farther out, "
                              "tell the end on farther there, or make the repair smaller",
                          *off);
}

Result<void> can_lap(const job::Job& job, const Ground& ground) {
    const auto refused = [](const std::string& with) {
        return bad_input("damage.at_end", "\"lap\" cannot go with " + with +
                                              ": say \"cut\", and lap the hull's end by hand");
    };
    if (auto known = end_is_known(job, ground); !known) return known;
    if (job.damage.through && job.damage.edge_turn >= turned_back)
        return bad_input("damage.edge_turn",
                         "turned back by " + shortest(job.damage.edge_turn) +
                             " degrees the cloth would lie on the face that the hole is backed "
                             "on: give an edge_turn less than " +
                             shortest(turned_back) +
                             ", or say at_end = \"cut\" and lap the hull's end by hand when the "
                             "backing is off");
    if (ground.wrap)
        return refused(
            "a repair that goes right round a tube: its ends would have to lap both ways");
    return {};
}

/// What of the runs the footprint lies on: a stretch of each.
std::vector<patch::EndSpan> spans_of(const std::vector<LoopOnEnd>& stretches) {
    std::vector<patch::EndSpan> spans;
    for (const LoopOnEnd& stretch : stretches) {
        const auto same = std::find_if(spans.begin(), spans.end(), [&](const auto& span) {
            return span.run == stretch.span.run;
        });
        if (same == spans.end()) {
            spans.push_back(stretch.span);
            continue;
        }
        same->from = std::min(same->from, stretch.span.from);
        same->to = std::max(same->to, stretch.span.to);
    }
    return spans;
}

double deepest_at_end(const dish::DepthField& dish, const std::vector<patch::EndRun>& runs,
                      const std::vector<patch::EndSpan>& spans) {
    double deepest = 0.0;
    constexpr double step = 0.125;  // [-] of the way between two points of a run
    for (const patch::EndSpan& span : spans)
        for (double u = span.from; u <= span.to; u += step) {
            const auto& chart = runs[span.run].chart;
            const auto i = std::min(static_cast<std::size_t>(u), chart.size() - 2);
            const double part = u - static_cast<double>(i);
            deepest = std::max(deepest, dish.depth((1.0 - part) * chart[i] + part * chart[i + 1]));
        }
    return deepest;
}

/// [mm] of the finished face: given, or such that every ply lies down over the ground edge.
Result<double> edge_radius(const job::Job& job, const plies::PlyLevels& levels, double depth) {
    if (job.damage.edge_radius) {
        const double given = *job.damage.edge_radius;
        if (!(given >= depth) || !(given > 0.0))
            return bad_input("damage.edge_radius",
                             "value " + shortest(given) + ": the end is ground " + fixed(depth, 1) +
                                 " mm deep, and the finished face's radius must be at least that, "
                                 "better by the least radius of the cloth more");
        return given;
    }
    double least = 0.0;
    for (const plies::PlyLevel& ply : levels.plies)
        least = std::max(least, job.fabrics.at(ply.entry.fabric).least_radius);
    return depth + least;
}

/// A face that is turned right back lies behind the skin: twice the radius from the front, as thick
/// as the skin and what is laid on it.
Result<void> fits_the_skin(const job::Job& job, const plies::PlyLevels& levels, double radius) {
    constexpr double slack = 1.0;  // [mm]: what a file takes off
    if (!(job.damage.edge_turn >= turned_back) || !job.hull.skin) return {};
    const double most = *job.hull.skin + levels.laid_thickness + slack;
    if (2.0 * radius <= most) return {};
    return bad_input("damage.edge_radius",
                     "turned back by " + shortest(job.damage.edge_turn) +
                         " degrees round a radius of " + fixed(radius, 1) +
                         " mm the cloth would lie " + fixed(2.0 * radius, 1) +
                         " mm behind the finished face, and the skin with all plies is " +
                         fixed(*job.hull.skin + levels.laid_thickness, 1) +
                         " mm thick: give edge_radius = half of the edge's thickness, or an "
                         "edge_turn less");
}

double torn_band(const job::Job& job, const plies::PlyLevel& ply) {
    const job::Fabric& fabric = job.fabrics.at(ply.entry.fabric);
    return fabric.kind == job::FabricKind::mat ? fabric.tear_margin : 0.0;
}

/// Area of the finished face beyond the end that the footprint takes [mm2].
double area_beyond(const surface::Patch& over, const std::vector<Region2>& footprint,
                   double on_hull) {
    double area = 0.0;
    for (const Region2& region : footprint)
        if (const auto mesh = plies::mesh_region(over, region))
            area += surface::curved_area(mesh->mesh);
    return std::max(0.0, area - on_hull);
}

/// Lays the laps on a ground, stretch by stretch of the end.
class EndLapper {
public:
    EndLapper(const job::Job& job, Ground& ground)
        : job_(job), ground_(ground), runs_(patch::end_runs(ground.patch, ground.frame.middle)) {}

    Result<void> run() {
        const auto footprint = stretches(ground_.region_at(ground_.footprint_offset).chart);
        if (!footprint) return tl::unexpected(footprint.error());
        std::vector<LoopOnEnd> reached;
        for (const auto& of_region : *footprint)
            reached.insert(reached.end(), of_region.begin(), of_region.end());
        if (reached.empty()) return {};
        if (auto may = can_lap(job_, ground_); !may) return may;
        auto laps = laps_of_plies();
        if (!laps) return tl::unexpected(laps.error());
        const std::vector<patch::EndSpan> spans = spans_of(reached);
        lap_.depth = deepest_at_end(*ground_.dish, runs_, spans);
        const auto radius = edge_radius(job_, ground_.levels, lap_.depth);
        if (!radius) return tl::unexpected(radius.error());
        if (auto fits = fits_the_skin(job_, ground_.levels, *radius); !fits) return fits;
        const patch::EndBend bend{*radius, job_.damage.edge_turn * std::numbers::pi / 180.0};
        auto over = patch::lapped_patch(ground_.patch, runs_, spans, bend, lines(bend));
        if (!over) return tl::unexpected(over.error());
        lap_.over = std::make_shared<const patch::LappedPatch>(std::move(*over));
        extend_plies(*laps);
        extend_footprint(*footprint);
        ground_.dish =
            std::make_unique<DishOverEnd>(std::move(ground_.dish), lap_.over, lap_.depth);
        ground_.lap = std::move(lap_);
        return {};
    }

private:
    using Stretches = std::vector<std::vector<LoopOnEnd>>;  ///< by region

    [[nodiscard]] Result<Stretches> stretches(const std::vector<Region2>& regions) const {
        Stretches out;
        for (const Region2& region : regions) {
            auto found = loops_on_end(region, runs_, ground_.patch, tolerance::narrowest_lap);
            if (!found) return tl::unexpected(found.error());
            out.push_back(std::move(*found));
        }
        return out;
    }

    /// Where each ply lies on the end; and how far it goes over it.
    [[nodiscard]] Result<std::vector<Stretches>> laps_of_plies() {
        std::vector<Stretches> all;
        for (std::size_t i = 0; i < ground_.levels.plies.size(); ++i) {
            const plies::PlyLevel& ply = ground_.levels.plies[i];
            auto found = stretches(ground_.ply_regions[i].chart);
            if (!found) return tl::unexpected(found.error());
            const bool reaches = std::any_of(found->begin(), found->end(),
                                             [](const auto& of) { return !of.empty(); });
            const int before = job_.part.plies_before;  // of a side or a skin that does not lap
            const double lap = job_.damage.lap_over + (ply.number - before - 1) * lap_step;
            lap_.laps.push_back(reaches ? lap : 0.0);
            if (reaches) lap_.longest = std::max(lap_.longest, lap + torn_band(job_, ply));
            all.push_back(std::move(*found));
        }
        return all;
    }

    [[nodiscard]] std::vector<double> lines(const patch::EndBend& bend) const {
        std::vector<double> out{bend.girth() + lap_.longest};
        for (const double lap : lap_.laps)
            if (lap > 0.0) out.push_back(bend.girth() + lap);
        return out;
    }

    void extend_plies(const std::vector<Stretches>& stretches) {
        for (std::size_t i = 0; i < stretches.size(); ++i) {
            if (!(lap_.laps[i] > 0.0)) continue;
            plies::NetRegion& net = ground_.ply_regions[i];
            for (std::size_t k = 0; k < net.chart.size(); ++k)
                net.chart[k] = over_end(net.chart[k], stretches[i][k], *lap_.over,
                                        lap_.bend().girth() + lap_.laps[i]);
            net.cut_at_hull_end = false;
        }
    }

    void extend_footprint(const Stretches& stretches) {
        lap_.footprint = ground_.region_at(ground_.footprint_offset).chart;
        const double on_hull = area_beyond(lap_.over->patch, lap_.footprint, 0.0);
        for (std::size_t k = 0; k < lap_.footprint.size(); ++k)
            lap_.footprint[k] = over_end(lap_.footprint[k], stretches[k], *lap_.over,
                                         lap_.bend().girth() + lap_.longest);
        lap_.area_mm2 = area_beyond(lap_.over->patch, lap_.footprint, on_hull);
    }

    const job::Job& job_;
    Ground& ground_;
    std::vector<patch::EndRun> runs_;
    EndLap lap_;
};

}  // namespace

std::vector<std::vector<Vec3>> EndLap::lines_3d(double v) const {
    std::vector<std::vector<Vec3>> lines;
    constexpr int between = 4;  // points a mesh edge of the end
    for (const patch::EndSpan& span : over->spans()) {
        const int parts = static_cast<int>(std::ceil((span.to - span.from) * between));
        auto& line = lines.emplace_back();
        for (int k = 0; k <= parts; ++k)
            line.push_back(
                over->place_at(span.run, span.from + (span.to - span.from) * k / parts, v));
    }
    return lines;
}

Region2 EndLap::carried_over(const Region2& region) const {
    // Where the footprint itself goes over there is neither corner nor opening under a part of it.
    const auto stretches = loops_on_end(region, over->runs(), over->patch, 0.0);
    return stretches ? over_end(region, *stretches, *over, over->across()) : region;
}

double EndLap::lap_of(const plies::PlyLevels& levels, const plies::PlyLevel& ply) const {
    for (std::size_t i = 0; i < levels.plies.size(); ++i)
        if (levels.plies[i].number == ply.number) return laps[i];
    return 0.0;
}

Result<void> lap_over_end(const job::Job& job, Ground& ground) {
    return EndLapper(job, ground).run();
}

}  // namespace tearline::ground

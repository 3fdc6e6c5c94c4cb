#include "core/plan/lay_plies.h"

#include <algorithm>
#include <cmath>
#include <mutex>
#include <optional>
#include <utility>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/side_by_side.h"
#include "core/ground/ends_met.h"
#include "core/ground/untold_end.h"
#include "core/pieces/lay_down.h"
#include "core/plan/check_limits.h"
#include "core/plan/count_strips.h"
#include "core/plan/fold_lines.h"
#include "core/plane/nearest_on_line.h"
#include "core/plies/depth_kinks.h"
#include "core/plies/lay_surface.h"
#include "core/plies/mesh_region.h"
#include "core/plies/tightest_radius.h"
#include "core/templates/directions.h"
#include "core/templates/fold_lines.h"
#include "core/templates/hull_end.h"
#include "core/templates/joints.h"
#include "core/templates/make_template.h"
#include "core/templates/opening_slit.h"

namespace tearline::plan {

namespace {

/// Names the ply in an error of a stage that knows only its piece.
Error of_ply(Error error, const plies::PlyLevel& level) {
    error.ply = level.number;
    error.fabric = level.entry.fabric;
    return error;
}

/// Keeps the tighter of a ply's radius so far and that of another part of it.
void keep_least(std::optional<double>& radius, const std::optional<plies::TightPlace>& place) {
    if (place) radius = std::min(radius.value_or(place->radius), place->radius);
}

/// A piece with its template.
struct MadePiece {
    templates::LaidPiece laid;
    Warnings warnings;  ///< of its limits
};

/// A ply's part in one region on its way.
struct RegionWork {
    plies::LaySurface lay;
    plies::TightestRadii radii;
    pieces::PlyShape shape;
    std::optional<Result<pieces::Piece>> whole;  ///< in one piece; unset: not tried yet
    pieces::LaidDown down;
    std::vector<Result<MadePiece>> made;
};

/// A ply on its way.
struct PlyWork {
    std::vector<RegionWork> regions;  ///< as far as they went well
    std::optional<Error> failed;      ///< at the region after them
};

/// Lays plies on common ground. What a ply needs of no other is done for several at once: its mesh,
/// its surface, the cloth in one piece; then templates. In between, one ply after the other, cloth
/// that does not lie down in one piece is helped, clear of the laps and cuts of those before.
class PlyLayer {
public:
    PlyLayer(const ground::Ground& ground, const job::Job& job,
             std::span<const plies::PlyLevel> levels)
        : ground_(ground),
          job_(job),
          levels_(levels),
          directions_(templates::directions(ground.frame, job.hull.bow, job.hull.up)),
          folds_(fold_lines(ground, job.display_units)),
          works_(levels.size()),
          slit_before_(ground.openings.size()),
          slit_now_(ground.openings.size()) {}

    Result<LaidPlies> laid(const Progress& progress) {
        if (const auto few = check_count_of_strips(ground_, job_, levels_); !few)
            return tl::unexpected(few.error());
        const auto started = start_all(progress);
        if (!started) return tl::unexpected(started.error());
        // A ply that has no surface has none however those before it are laid.
        for (std::size_t i = 0; i < works_.size(); ++i)
            if (works_[i].failed) return tl::unexpected(of_ply(*works_[i].failed, levels_[i]));
        const std::size_t count = help_all();
        side_by_side(count, [this](std::size_t i) { make_templates(levels_[i], works_[i]); });
        for (std::size_t i = 0; i < levels_.size(); ++i)
            if (auto added = add(levels_[i], works_[i]); !added)
                return tl::unexpected(of_ply(added.error(), levels_[i]));
        return std::move(laid_);
    }

private:
    /// A torn band cannot go round a fitting that the ply's edge runs into: its line would be drawn
    /// over it.
    [[nodiscard]] Result<void> band_off_fittings(const plies::PlyLevel& level) const {
        const job::Fabric& cloth = fabric(level);
        if (cloth.kind != job::FabricKind::mat || !(cloth.tear_margin > 0.0)) return {};
        for (const damage::KeptOpening& opening : ground_.openings)
            for (const Region2& region : ground_.region_of(level).chart)
                for (const Vec2& place : opening.edge.chart) {
                    if (contains(region.outer, place) ||
                        plane::distance_to_loop(region.outer, place) >= cloth.tear_margin)
                        continue;
                    return no_safe_answer(
                        "damage.opening",
                        "the band of " + cloth.name + " to be torn, " +
                            shortest(cloth.tear_margin) + " mm, would lie over the fitting at " +
                            place_text(opening.middle) +
                            " mm, which the ply's edge runs into or passes close by: give that "
                            "mat tear_margin = 0 and cut it there, or take the fitting out",
                        opening.middle);
                }
        return {};
    }

    /// A cover ply lies outside the scarf, and may end early over one that has all its room. Where
    /// measured figures or a scan end nobody looked whether the hull ends too.
    void warn_of_ends(const plies::PlyLevel& level) {
        const bool whole = level.cover && !ground_.region_at(ground_.scarf_offset).cut_at_hull_end;
        const auto& regions = ground_.region_of(level).chart;
        const bool measured = ground::untold_end(job_, ground_.patch, regions).has_value();
        const auto add = [&](const std::optional<Vec3>& hole) {
            Warning warning{.cause = warn::CutAtHullEnd{measured, hole}, .ply = level.number};
            if (whole) warning.cause = warn::CoverCutAtHullEnd{measured, hole};
            laid_.warnings.push_back(std::move(warning));
        };
        const ground::EndsMet met = ground::ends_met(ground_, regions);
        if (met.outer || (met.holes.empty() && !met.named)) add({});
        for (const Vec3& hole : met.holes) add(hole);
    }

    [[nodiscard]] templates::LaidPly described(const plies::PlyLevel& level) const {
        templates::LaidPly ply;
        ply.number = level.number;
        ply.fabric = level.entry.fabric;
        ply.kind = fabric(level).kind;
        ply.cover = level.cover;
        ply.side = job_.damage.side;
        ply.part = job_.part.name;
        ply.thickness_mm = level.thickness;
        ply.edge_offset_mm = level.edge_offset;
        ply.lay_depth_mm = level.lay_depth;
        if (ground_.lap) ply.lap_mm = ground_.lap->lap_of(ground_.levels, level);
        return ply;
    }

    [[nodiscard]] const job::Fabric& fabric(const plies::PlyLevel& level) const {
        return job_.fabrics.at(level.entry.fabric);
    }

    /// Where the ply's mid-plane lies below the base surface, by place in the chart.
    [[nodiscard]] plies::LayDepth lay_depth(const plies::PlyLevel& level) const {
        if (level.lies == plies::Lies::level)
            return [depth = level.lay_depth](const Vec2&) { return depth; };
        return [&level, &dish = *ground_.dish](const Vec2& chart) {
            return plies::lay_depth_over(level, dish.depth(chart));
        };
    }

    /// Lines where the depth has a kink become edges of the ply's mesh.
    [[nodiscard]] plies::RegionMeshOptions mesh_options(const plies::PlyLevel& level) const {
        plies::RegionMeshOptions options;
        for (const templates::FoldRequest& fold : folds_) options.lines.push_back(fold.chart);
        for (const double kink : plies::depth_kinks(ground_.dish->profile(), level)) {
            const auto lines = ground_.bend_lines(kink);
            options.lines.insert(options.lines.end(), lines.begin(), lines.end());
        }
        if (ground_.wrap) options.lines = plies::without_shared_runs(options.lines);
        return options;
    }

    /// What needs no other ply, of all; told of each as it is begun.
    Result<void> start_all(const Progress& progress) {
        std::mutex mutex;
        std::size_t begun = 0;
        std::optional<std::string> stopped_at;
        side_by_side(levels_.size(), [&](std::size_t i) {
            {
                const std::lock_guard lock(mutex);
                const double done =
                    static_cast<double>(begun++) / static_cast<double>(levels_.size());
                const std::string ply = "ply " + std::to_string(levels_[i].number);
                if (!stopped_at && progress && !progress(ply, 0.2 + 0.7 * done)) stopped_at = ply;
                if (stopped_at) return;
            }
            start(levels_[i], works_[i]);
        });
        if (stopped_at) return no_safe_answer("stopped at " + *stopped_at);
        return {};
    }

    void start(const plies::PlyLevel& level, PlyWork& work) const {
        for (const Region2& region : ground_.region_of(level).chart) {
            auto begun = started(level, region);
            if (!begun) {
                work.failed = begun.error();
                return;
            }
            // Pieces of a further region are numbered after those of the ones before.
            if (work.regions.empty()) begun->whole = pieces::lay_whole(begun->shape, begun->lay);
            work.regions.push_back(*std::move(begun));
        }
    }

    [[nodiscard]] Result<RegionWork> started(const plies::PlyLevel& level,
                                             const Region2& region) const {
        const auto mesh = plies::mesh_region(ground_.under_cloth(), region, mesh_options(level));
        if (!mesh) return tl::unexpected(mesh.error());
        const auto depth = lay_depth(level);
        auto lay = plies::lay_surface(ground_.under_cloth(), *mesh, depth, ground_.frame.chart);
        if (!lay) return tl::unexpected(lay.error());
        RegionWork work;
        work.lay = *std::move(lay);
        work.radii = plies::tightest_radii(*mesh, depth);
        work.shape = shape_of(level, region);
        return work;
    }

    /// How far plies were helped.
    struct Helped {
        std::size_t count = 0;  ///< plies gone on with, the one that failed among them
        std::optional<pieces::NotLaid> failed;
        [[nodiscard]] bool crowded() const { return failed && failed->crowded; }
    };

    /// As many pieces as it takes, ply by ply in the order of laying. Where a ply finds no room
    /// beside the laps and cuts of the one before, that one is laid anew in pieces, then the one
    /// before it too: cuts run inward from all sides, laps leave room between them.
    /// @return  how many plies are to be gone on with: the others come after one that failed
    std::size_t help_all() {
        constexpr std::size_t most_anew = 4;
        Helped helped = help_from(0, 0);
        while (helped.crowded()) {
            const Helped stuck = helped;
            for (std::size_t anew = 1; helped.crowded() && helped.count <= stuck.count &&
                                       anew <= std::min(most_anew, stuck.count - 1);
                 ++anew) {
                const std::size_t first = stuck.count - 1 - anew;
                if (is_cut(first)) helped = help_from(first, stuck.count - 1);
            }
            if (helped.count > stuck.count || !helped.failed) continue;
            helped = stuck;
            break;
        }
        if (helped.failed) works_[helped.count - 1].failed = helped.failed->error;
        return helped.count;
    }

    /// @param uncut  plies before this one are laid in pieces, not cut
    Helped help_from(std::size_t first, std::size_t uncut) {
        for (std::size_t i = first; i < works_.size(); ++i) {
            auto failed = help(i, i >= uncut);
            if (failed || works_[i].failed) return {i + 1, std::move(failed)};
        }
        return {works_.size(), {}};
    }

    /// Lays one ply clear of those before it.
    std::optional<pieces::NotLaid> help(std::size_t i, bool cuts) {
        const std::vector<pieces::Band> before = bands_before(i, 1),
                                        two_before = bands_before(i, 2);
        std::size_t pieces = 0;
        for (RegionWork& region : works_[i].regions) {
            region.shape.first_piece = pieces;
            if (!region.whole) region.whole = pieces::lay_whole(region.shape, region.lay);
            auto down = pieces::lay_down_beside(region.shape, region.lay, *std::move(region.whole),
                                                {before, two_before, cuts});
            region.whole.reset();
            region.down = {};
            if (!down) return std::move(down.error());
            region.down = *std::move(down);
            pieces += region.down.pieces.size();
        }
        return std::nullopt;
    }

    [[nodiscard]] bool is_cut(std::size_t i) const {
        const auto bands = bands_before(i + 1, 1);
        return std::any_of(bands.begin(), bands.end(),
                           [](const pieces::Band& band) { return band.half_width == 0.0; });
    }

    /// Laps and cuts of the ply so many before one.
    [[nodiscard]] std::vector<pieces::Band> bands_before(std::size_t i, std::size_t so_many) const {
        std::vector<pieces::Band> bands;
        if (i < so_many) return bands;
        for (const RegionWork& region : works_[i - so_many].regions)
            bands.insert(bands.end(), region.down.bands.begin(), region.down.bands.end());
        return bands;
    }

    void make_templates(const plies::PlyLevel& level, PlyWork& work) const {
        for (RegionWork& region : work.regions)
            for (pieces::Piece& piece : region.down.pieces) {
                const auto joints = joints_of(level);
                piece.seams.insert(piece.seams.end(), joints.begin(), joints.end());
                region.made.push_back(made_piece(level, std::move(piece)));
                if (!region.made.back()) return;
            }
    }

    Result<void> add(const plies::PlyLevel& level, PlyWork& work) {
        if (auto clear = band_off_fittings(level); !clear) return clear;
        templates::LaidPly ply = described(level);
        ply.outlines_3d = ground_.region_of(level).on_base;
        for (RegionWork& region : work.regions)
            if (auto added = add_region(level, region, ply); !added) return added;
        if (work.failed) return tl::unexpected(*work.failed);
        slit_before_ = slit_now_;
        if (ground_.region_of(level).cut_at_hull_end) warn_of_ends(level);
        laid_.plies.push_back(std::move(ply));
        work = {};
        return {};
    }

    Result<void> add_region(const plies::PlyLevel& level, RegionWork& work,
                            templates::LaidPly& ply) {
        warn(level, work.lay.warnings);
        warn(level, plies::radius_warnings(work.radii, fabric(level).least_radius, level.number,
                                           level.entry.fabric));
        keep_least(ply.convex_radius_mm, work.radii.convex);
        keep_least(ply.concave_radius_mm, work.radii.concave);
        ply.surface_area_mm2 += work.lay.area;
        warn(level, work.down.warnings);
        for (Result<MadePiece>& made : work.made) {
            if (!made) return tl::unexpected(made.error());
            warn(level, made->warnings);
            if (auto slit = add_slits(made->laid); !slit) return slit;
            ply.pieces.push_back(std::move(made->laid));
        }
        return {};
    }

    /// The ends of a ply that goes right round are seams like any other.
    [[nodiscard]] std::vector<std::vector<Vec2>> joints_of(const plies::PlyLevel& level) const {
        if (!ground_.wrap) return {};
        for (std::size_t i = 0; i < ground_.levels.plies.size(); ++i)
            if (ground_.levels.plies[i].number == level.number) return ground_.wrap->seams[i];
        return {};
    }

    [[nodiscard]] pieces::PlyShape shape_of(const plies::PlyLevel& level,
                                            const Region2& region) const {
        pieces::PlyShape shape;
        shape.patch = &ground_.under_cloth();
        shape.region = region;
        shape.depth = lay_depth(level);
        shape.kinks = mesh_options(level).lines;
        shape.middle = ground_.frame.chart;
        shape.y = ground_.frame.y;
        shape.axis_from = ground_.frame.axis_from;
        shape.normal = ground_.frame.normal;
        shape.ply = level.number;
        shape.fabric = fabric(level);
        shape.entry = level.entry;
        if (const auto& press = job_.layup.press_first)
            shape.press_first = ground_.patch.chart_point(ground_.patch.nearest(*press).at);
        return shape;
    }

    [[nodiscard]] Result<MadePiece> made_piece(const plies::PlyLevel& level,
                                               pieces::Piece piece) const {
        MadePiece made;
        templates::LaidPiece& laid = made.laid;
        laid.piece = std::move(piece);
        auto within = check_limits(fabric(level), laid.piece);
        if (!within) return tl::unexpected(within.error());
        made.warnings = *std::move(within);
        laid.outline =
            templates::make_template({laid.piece, fabric(level), level.entry.axis, ground_.frame,
                                      directions_, next_edges(level), !ground_.openings.empty()});
        if (ground_.region_of(level).cut_at_hull_end)
            templates::add_hull_ends(laid.piece, ground_.patch, laid.outline.marks);
        templates::add_folds(laid.piece, folds_, laid.outline.marks);
        templates::add_joints(laid.piece, joints_of(level), laid.outline.marks);
        templates::add_tape_ticks(laid.piece, ground_.mark_ways, laid.outline.marks,
                                  job_.display_units);
        return made;
    }

    /// Slits of successive plies lie apart: one ply after the other.
    Result<void> add_slits(templates::LaidPiece& laid) {
        for (std::size_t i = 0; i < ground_.openings.size(); ++i) {
            if (!ground_.openings[i].slit) continue;
            const auto slit = templates::opening_slit(laid.piece, laid.outline,
                                                      ground_.openings[i].middle, slit_before_[i]);
            if (!slit) return tl::unexpected(slit.error());
            if (!*slit) continue;
            laid.outline.relief_cuts.push_back((*slit)->cut);
            slit_now_[i] = (*slit)->degrees;
        }
        return {};
    }

    void warn(const plies::PlyLevel& level, const Warnings& warnings) {
        for (Warning warning : warnings) {
            warning.ply = level.number;
            laid_.warnings.push_back(std::move(warning));
        }
    }

    /// Edges of the next smaller ply, to be seen through the cloth or marked on it.
    [[nodiscard]] std::vector<Loop2> next_edges(const plies::PlyLevel& level) const {
        const plies::PlyLevel* smaller = nullptr;
        for (const plies::PlyLevel& other : ground_.levels.plies)
            if (other.edge_offset < level.edge_offset &&
                (smaller == nullptr || other.edge_offset > smaller->edge_offset))
                smaller = &other;
        std::vector<Loop2> edges;
        if (smaller == nullptr) return edges;
        for (const Region2& region : ground_.region_of(*smaller).chart) {
            edges.push_back(region.outer);
            edges.insert(edges.end(), region.holes.begin(), region.holes.end());
        }
        return edges;
    }

    const ground::Ground& ground_;
    const job::Job& job_;
    std::span<const plies::PlyLevel> levels_;
    templates::Directions directions_;
    std::vector<templates::FoldRequest> folds_;
    std::vector<PlyWork> works_;  ///< by place in levels_
    /// Where the slits of the ply before lie, and of this one, by opening.
    std::vector<std::optional<double>> slit_before_, slit_now_;
    LaidPlies laid_;
};

}  // namespace

Result<LaidPlies> lay_plies(const ground::Ground& ground, const job::Job& job,
                            std::span<const plies::PlyLevel> levels, const Progress& progress) {
    return PlyLayer(ground, job, levels).laid(progress);
}

}  // namespace tearline::plan

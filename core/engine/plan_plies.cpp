#include "core/engine/plan_plies.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/engine/check_limits.h"
#include "core/pieces/make_piece.h"
#include "core/pieces/piece_frame.h"
#include "core/plies/depth_kinks.h"
#include "core/plies/lay_surface.h"
#include "core/plies/mesh_region.h"
#include "core/plies/tightest_radius.h"
#include "core/templates/directions.h"
#include "core/templates/make_template.h"

namespace tearline::engine {

namespace {

/// Names the ply in an error of a stage that knows only its piece.
Error of_ply(Error error, const plies::PlyLevel& level) {
    error.message =
        "ply " + std::to_string(level.number) + " (" + level.entry.fabric + "): " + error.message;
    return error;
}

/// Carries out one ply after the other on common ground.
class PlyPlanner {
public:
    PlyPlanner(const Ground& ground, Plan& plan)
        : ground_(ground),
          plan_(plan),
          directions_(templates::directions(ground.frame, plan.job.hull.bow, plan.job.hull.up)) {}

    Result<void> add(const plies::PlyLevel& level) {
        PlannedPly ply = described(level);
        const plies::NetRegion& net = ground_.region_of(level);
        ply.outlines_3d = net.on_base;
        for (const Region2& region : net.chart) {
            auto piece = planned_piece(level, region, ply);
            if (!piece) return tl::unexpected(of_ply(piece.error(), level));
            ply.pieces.push_back(std::move(*piece));
        }
        if (net.cut_at_hull_end)
            plan_.warnings.push_back({"cut-at-hull-end",
                                      "ply " + std::to_string(level.number) +
                                          " ends where the hull ends: the scarf has no room there",
                                      level.number,
                                      {},
                                      {}});
        plan_.plies.push_back(std::move(ply));
        return {};
    }

private:
    [[nodiscard]] PlannedPly described(const plies::PlyLevel& level) const {
        PlannedPly ply;
        ply.number = level.number;
        ply.fabric = level.entry.fabric;
        ply.kind = fabric(level).kind;
        ply.cover = level.cover;
        ply.thickness_mm = level.thickness;
        ply.edge_offset_mm = level.edge_offset;
        ply.lay_depth_mm = level.lay_depth;
        return ply;
    }

    [[nodiscard]] const job::Fabric& fabric(const plies::PlyLevel& level) const {
        return plan_.job.fabrics.at(level.entry.fabric);
    }

    /// Where the ply's mid-plane lies below the base surface, by place in the chart.
    [[nodiscard]] plies::DepthField depth_field(const plies::PlyLevel& level) const {
        const bool flat = plan_.job.layup.order == job::Order::smallest_first || level.cover;
        if (ground_.sounded && !flat)
            return [this, &level](const Vec2& chart) {
                return ground_.sounded->depth(chart) - level.height_below - 0.5 * level.thickness;
            };
        if (ground_.sounded ||
            (plan_.job.layup.order == job::Order::smallest_first && !level.cover))
            return [depth = level.lay_depth](const Vec2&) { return depth; };
        return [this, &level](const Vec2& chart) {
            return plies::lay_depth_at(ground_.levels, plan_.job, level,
                                       ground_.dish->offset(chart));
        };
    }

    /// Lines where the depth has a kink become edges of the ply's mesh.
    [[nodiscard]] plies::RegionMeshOptions mesh_options(const plies::PlyLevel& level) const {
        plies::RegionMeshOptions options;
        if (ground_.sounded) return options;  // a smooth field has none
        for (const double kink : plies::depth_kinks(ground_.levels, plan_.job, level)) {
            const auto lines = plies::edge_lines(ground_.region_at(kink));
            options.lines.insert(options.lines.end(), lines.begin(), lines.end());
        }
        return options;
    }

    Result<PlannedPiece> planned_piece(const plies::PlyLevel& level, const Region2& region,
                                       PlannedPly& ply) {
        const auto mesh = plies::mesh_region(ground_.patch, region, mesh_options(level));
        if (!mesh) return tl::unexpected(mesh.error());
        const auto depth = depth_field(level);
        auto lay = plies::lay_surface(ground_.patch, *mesh, depth, ground_.frame.chart);
        if (!lay) return tl::unexpected(lay.error());
        warn(level, lay->warnings);
        warn(level,
             plies::radius_warnings(plies::tightest_radii(*mesh, depth), fabric(level).least_radius,
                                    level.number, level.entry.fabric));
        ply.surface_area_mm2 += lay->area;

        PlannedPiece planned;
        auto piece =
            laid_flat(level, *lay, std::to_string(level.number) + piece_letters(ply.pieces.size()));
        if (!piece) return tl::unexpected(piece.error());
        planned.piece = std::move(*piece);
        pieces::turn_to_frame(planned.piece, ground_.frame.chart, ground_.frame.x);
        auto within = check_limits(fabric(level), planned.piece);
        if (!within) return tl::unexpected(within.error());
        warn(level, *within);
        planned.outline =
            templates::make_template({planned.piece,
                                      fabric(level),
                                      planned.piece.warp_degrees.value_or(level.entry.axis),
                                      ground_.frame,
                                      directions_,
                                      next_edges(level),
                                      {}});
        templates::add_tape_ticks(planned.piece, ground_.mark_ways, planned.outline.marks);
        return planned;
    }

    /// Mat as an elastic membrane, cloth as a net of yarns pressed down at one place first.
    Result<pieces::Piece> laid_flat(const plies::PlyLevel& level, const plies::LaySurface& lay,
                                    std::string id) const {
        if (fabric(level).kind == job::FabricKind::mat)
            return pieces::make_piece(lay, std::move(id));
        pieces::ClothLaying laying;
        laying.press_first = ground_.frame.chart;
        if (const auto& press = plan_.job.layup.press_first)
            laying.press_first = ground_.patch.chart_point(ground_.patch.nearest(*press).at);
        laying.x = ground_.frame.x;
        laying.axis_degrees = level.entry.axis;
        laying.biaxial = fabric(level).kind == job::FabricKind::biaxial;
        return pieces::make_cloth_piece(lay, std::move(id), laying);
    }

    void warn(const plies::PlyLevel& level, const Warnings& warnings) {
        for (Warning warning : warnings) {
            warning.ply = level.number;
            plan_.warnings.push_back(std::move(warning));
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

    const Ground& ground_;
    Plan& plan_;
    templates::Directions directions_;
};

}  // namespace

std::string piece_letters(std::size_t index) {
    std::string letters;
    for (std::size_t rest = index + 1; rest > 0; rest = (rest - 1) / 26)
        letters.insert(letters.begin(), static_cast<char>('A' + (rest - 1) % 26));
    return letters;
}

Result<void> plan_plies(const Ground& ground, Plan& plan, const Progress& progress) {
    PlyPlanner planner(ground, plan);
    const double count = static_cast<double>(ground.levels.plies.size());
    for (const plies::PlyLevel& level : ground.levels.plies) {
        const double done = static_cast<double>(plan.plies.size()) / count;
        if (progress && !progress("ply " + std::to_string(level.number), 0.2 + 0.7 * done))
            return no_safe_answer("stopped at ply " + std::to_string(level.number));
        if (auto added = planner.add(level); !added) return added;
    }
    return {};
}

Result<void> plan_ply(const Ground& ground, const plies::PlyLevel& level, Plan& plan) {
    return PlyPlanner(ground, plan).add(level);
}

}  // namespace tearline::engine

#include "core/rates/edge_rates.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/base/tolerances.h"
#include "core/flattening/flatten_membrane.h"
#include "core/flattening/membrane_response.h"
#include "core/pieces/seams.h"
#include "core/plane/nearest_on_line.h"
#include "core/rates/moved_surface.h"
#include "core/rates/outline_shift.h"
#include "core/rates/sounded_shift.h"

namespace tearline::rates {

namespace {

/// A place of a template's edge with the ways that lead out of it.
struct EdgePlace {
    std::int32_t vertex = -1;
    Vec2 outward{0, 0};      ///< unit, on the flat piece
    Vec3 conormal{0, 0, 0};  ///< unit, in the tangent plane of the base surface
    bool on_net = true;      ///< else on a seam: it stays on its place of the surface
};

/// One piece followed through every movement of the surface that a pole can cause.
class FollowedPiece {
public:
    FollowedPiece(const PlannedGround& on, const MovedSurface& surface, const pieces::Piece& piece,
                  std::vector<Vec2> flat)
        : on_(on), surface_(surface), piece_(piece), flat_(std::move(flat)) {
        normal_.resize(piece.base.size());
        for (std::size_t t = 0; t < piece.lay.triangle.size(); ++t)
            for (std::size_t i = 0; i < 3; ++i)
                normal_[index(piece.lay.triangle[t][i])] = piece.lay.corner_normal[t][i];
        find_edge();
    }

    /// Movement square to the edge, a row for each place and a column for each pole [mm/mm].
    Result<Eigen::MatrixXd> movement(const OutlineShift& outline,
                                     const std::optional<SoundedShift>& sounded) const {
        Eigen::MatrixXd rows =
            Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(edge_.size()), surface_.poles());
        if (auto flat = add_flat(rows); !flat) return tl::unexpected(flat.error());
        for (std::size_t k = 0; k < edge_.size(); ++k) {
            if (!edge_[k].on_net) continue;
            const Vec2& chart = piece_.chart[index(edge_[k].vertex)];
            rows.row(static_cast<Eigen::Index>(k)) +=
                sounded ? sounded->outward(chart) : outline.outward(chart, edge_[k].conormal);
        }
        take_off_rigid(rows);
        return rows;
    }

private:
    static std::size_t index(std::int32_t vertex) { return static_cast<std::size_t>(vertex); }

    void find_edge() {
        constexpr std::size_t most_places = 120;  // on all loops, but for one a loop
        std::vector<bool> cut(piece_.base.size(), false);
        for (const pieces::PieceCut& each : piece_.cuts)
            for (const auto& sides : each.sides)
                for (const std::int32_t v : sides) cut[index(v)] = true;
        const auto loops = surface::boundary_loops(piece_.lay);
        std::size_t count = 0;
        for (const auto& loop : loops) count += loop.size();
        const std::size_t stride =
            std::max<std::size_t>(1, (count + most_places - 1) / most_places);
        for (const auto& loop : loops)
            for (std::size_t i = 0; i < loop.size(); i += stride) {
                const std::int32_t v = loop[i];
                if (cut[index(v)]) continue;
                const std::int32_t before = loop[(i + loop.size() - 1) % loop.size()];
                const std::int32_t after = loop[(i + 1) % loop.size()];
                const Vec2 along = flat_[index(after)] - flat_[index(before)];
                const Vec3 on_base = piece_.base[index(after)] - piece_.base[index(before)];
                edge_.push_back({v, Vec2(along.y(), -along.x()).normalized(),
                                 on_base.cross(normal_[index(v)]).normalized(), !held(v)});
            }
    }

    /// Whether a vertex of the edge lies on a seam or where the hull ends.
    [[nodiscard]] bool held(std::int32_t vertex) const {
        const Vec2& chart = piece_.chart[index(vertex)];
        std::vector<std::vector<Vec2>> lines = piece_.seams;
        const auto add = [&lines](std::vector<Vec2> loop) {
            loop.push_back(loop.front());
            lines.push_back(std::move(loop));
        };
        add(on_.ground.patch.domain().outer);
        for (const Loop2& hole : on_.ground.patch.domain().holes) add(hole);
        return plane::distance_to_lines(lines, chart) <= tolerance::on_chart_line;
    }

    /// What each pole moves of the lay surface, laid flat again.
    Result<void> add_flat(Eigen::MatrixXd& rows) const {
        struct Hit {
            std::size_t vertex;
            Vec3 by, turn;
        };
        std::vector<std::vector<Hit>> hits(static_cast<std::size_t>(surface_.poles()));
        for (std::size_t v = 0; v < piece_.base.size(); ++v) {
            const double height = (piece_.lay.position[v] - piece_.base[v]).dot(normal_[v]);
            for (const auto& move : surface_.moves({piece_.base[v], normal_[v]}, height))
                hits[static_cast<std::size_t>(move.pole)].push_back({v, move.by, move.turn});
        }
        auto response = flattening::MembraneResponse::of(piece_.lay, flat_);
        if (!response) return tl::unexpected(response.error());
        surface::SurfaceMesh changed = piece_.lay;
        for (std::size_t pole = 0; pole < hits.size(); ++pole) {
            if (hits[pole].empty()) continue;
            std::vector<Vec3> place = piece_.lay.position, normal = normal_;
            std::vector<bool> moved(place.size(), false);
            for (const Hit& hit : hits[pole]) {
                place[hit.vertex] += hit.by;
                normal[hit.vertex] = (normal[hit.vertex] + hit.turn).normalized();
                moved[hit.vertex] = true;
            }
            set_lengths(place, normal, moved, changed);
            const auto flat = response->moved(changed);
            if (!flat) return tl::unexpected(flat.error());
            for (std::size_t k = 0; k < edge_.size(); ++k)
                rows(static_cast<Eigen::Index>(k), static_cast<Eigen::Index>(pole)) +=
                    flat->col(edge_[k].vertex).dot(edge_[k].outward);
        }
        return {};
    }

    /// Arc lengths as before, each by as much longer as the arc over its moved ends.
    void set_lengths(const std::vector<Vec3>& place, const std::vector<Vec3>& normal,
                     const std::vector<bool>& moved, surface::SurfaceMesh& changed) const {
        for (std::size_t t = 0; t < changed.triangle.size(); ++t)
            for (std::size_t i = 0; i < 3; ++i) {
                const std::size_t a = index(changed.triangle[t][i]);
                const std::size_t b = index(changed.triangle[t][(i + 1) % 3]);
                changed.edge_length[t][i] = piece_.lay.edge_length[t][i];
                if (!moved[a] && !moved[b]) continue;
                changed.edge_length[t][i] +=
                    surface::arc_length(place[a], place[b], normal[a], normal[b]) -
                    surface::arc_length(piece_.lay.position[a], piece_.lay.position[b], normal_[a],
                                        normal_[b]);
            }
    }

    /// Takes off what moves or turns the piece as a whole, by least squares.
    void take_off_rigid(Eigen::MatrixXd& rows) const {
        Eigen::MatrixXd rigid(rows.rows(), 3);
        for (std::size_t k = 0; k < edge_.size(); ++k)
            rigid.row(static_cast<Eigen::Index>(k)) << edge_[k].outward.transpose(),
                cross2(flat_[index(edge_[k].vertex)], edge_[k].outward);
        rows -= rigid * rigid.completeOrthogonalDecomposition().solve(rows);
    }

    const PlannedGround& on_;
    const MovedSurface& surface_;
    const pieces::Piece& piece_;
    std::vector<Vec2> flat_;
    std::vector<Vec3> normal_;  ///< per vertex
    std::vector<EdgePlace> edge_;
};

}  // namespace

std::optional<std::vector<double>> edge_rates(const PlannedGround& on,
                                              const templates::LaidPly& ply) {
    const auto& by_hand = on.hull.by_hand;
    if (!by_hand || !by_hand->influence) return std::nullopt;
    if (on.ground.lap)
        return std::nullopt;  // what lies over the hull's end is no place of the table
    const job::Job& job = on.placed.job;
    const double above = job.damage.side == on.hull.surface ? 0.0 : job.hull.skin.value_or(0.0);
    const MovedSurface surface(*by_hand->influence, above);
    const OutlineShift outline(on, surface);
    std::optional<SoundedShift> sounded;
    if (const dish::SoundedDish* dish = on.ground.dish->soundings())
        sounded.emplace(on, *dish, surface, outline);
    Eigen::RowVectorXd most = Eigen::RowVectorXd::Zero(surface.poles());
    for (const templates::LaidPiece& planned : ply.pieces) {
        std::vector<Vec2> flat = planned.piece.flat;
        if (ply.kind != job::FabricKind::mat) {
            const auto laid = flattening::flatten_membrane(planned.piece.lay, planned.piece.chart);
            if (!laid) return std::nullopt;
            flat = laid->flat;
        }
        const auto rows =
            FollowedPiece(on, surface, planned.piece, std::move(flat)).movement(outline, sounded);
        if (!rows) return std::nullopt;
        const Eigen::MatrixXd figures = by_hand->influence->per_figure(*rows);
        most = most.cwiseMax(figures.cwiseAbs().colwise().maxCoeff());
    }
    return std::vector<double>(most.data(), most.data() + most.size());
}

}  // namespace tearline::rates

#include "core/plan/closing_piece.h"

#include <algorithm>
#include <utility>

#include "core/ground/grown_outline.h"
#include "core/plan/lay_plies.h"

namespace tearline::plan {

namespace {

/// A job of one ply whose edge and whose mid-plane lie where they are asked for: a dish of depth D
/// and a ply of thickness T put them at ratio min(T, D) and D - T / 2.
job::Job job_of_one_ply(const job::Job& asked, const ClosingRequest& request) {
    const double depth = 1.0 + std::max(request.mid_plane, 0.0);
    const double thickness = 2.0 * (depth - request.mid_plane);
    job::Job job = asked;
    job::Fabric fabric;
    fabric.name = request.name;
    fabric.kind = job::FabricKind::mat;
    fabric.thickness = thickness;
    fabric.tear_margin = request.band;
    fabric.strain_limit = request.strain_limit;
    fabric.least_radius = 0.0;
    fabric.roll_width = 1e5;
    job.fabrics[fabric.name] = fabric;
    job.layup = {};
    job.layup.stack = {{fabric.name}};
    job.damage.side = request.side;
    job.damage.depth = depth;
    job.damage.at_end = job::AtEnd::cut;  // what closes a hole ends with the skin
    job.scarf = {};
    job.scarf.ratio = request.offset / std::min(thickness, depth);
    job.topcoat.final_coat = false;
    job.part.name = request.name;
    job.part.below = request.below;
    job.part.on_new = true;
    return job;
}

/// Cut, not torn: what reaches beyond the edge is the other face.
void cut_it(templates::Template& outline) {
    outline.cut = std::move(outline.tear);
    outline.tear.reset();
}

}  // namespace

Result<Closing> lay_closing(const job::Job& asked, const hull::Hull& hull,
                            const ClosingRequest& request) {
    const job::Job job = job_of_one_ply(asked, request);
    auto ground = ground::lay_ground(job, hull);
    if (!ground) return tl::unexpected(ground.error());
    auto laid = lay_plies(*ground, job, ground->levels.plies);
    if (!laid) return tl::unexpected(laid.error());
    Closing out{std::move(*ground), std::move(laid->plies.front())};
    out.ply.number = 0;
    out.ply.part = request.name;
    for (std::size_t i = 0; i < out.ply.pieces.size(); ++i) {
        templates::LaidPiece& piece = out.ply.pieces[i];
        piece.piece.id =
            request.name + (out.ply.pieces.size() > 1 ? "-" + std::to_string(i + 1) : "");
        cut_it(piece.outline);
    }
    return out;
}

}  // namespace tearline::plan

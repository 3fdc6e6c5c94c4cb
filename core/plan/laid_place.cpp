#include "core/plan/laid_place.h"

#include <iterator>
#include <optional>
#include <utility>

#include "core/base/side_by_side.h"
#include "core/ground/mark_ways.h"
#include "core/job/effective_json.h"
#include "core/plan/cut_pieces.h"
#include "core/templates/line_names.h"

namespace tearline::plan {

namespace {

/// Every key that a shape hangs on, and what is no key of the file.
std::string name_of(const job::Job& shape) {
    return std::to_string(shape.after_ply) + " " + job::effective_json(shape);
}

}  // namespace

Result<LaidPlace> lay_place(ground::PlacedJob placed, const hull::Hull& hull,
                            const Progress& progress) {
    LaidPlace out;
    out.placed = std::move(placed);
    const job::Job& job = out.placed.job;
    const std::shared_ptr<Result<ground::Ground>> made(
        new Result<ground::Ground>(ground::lay_ground(job, hull)));
    if (!*made) return tl::unexpected(made->error());
    ground::Ground& ground = **made;
    auto marks = ground::mark_ways(out.placed, ground);
    ground.mark_ways = std::move(marks.ways);
    ground.levels.warnings.insert(ground.levels.warnings.end(),
                                  std::make_move_iterator(marks.warnings.begin()),
                                  std::make_move_iterator(marks.warnings.end()));
    std::optional<Result<Place>> described;
    std::optional<Result<LaidPlies>> laid;
    side_by_side([&] { laid = lay_plies(ground, job, ground.levels.plies, progress); },
                 [&] { described = describe_ground(ground, hull, job); });
    if (!*described) return tl::unexpected(described->error());
    if (!ground.openings.empty() && !((*described)->areas.damage_mm2 > 0.0))
        return no_safe_answer(
            "damage.opening",
            "scarf_to = \"opening\": the scarves that rise to the openings and to the outline meet "
            "before the depth is reached, and damage would stay; say scarf_to = \"none\", or take "
            "the fitting out");
    if (!*laid) return tl::unexpected(laid->error());
    out.place = **std::move(described);
    out.laid = **std::move(laid);
    // Beside the nest, which asks for outlines alone.
    side_by_side([&] { out.nested = layout::nest_rolls(cut_pieces(out.laid.plies), job); },
                 [&] {
                     for (templates::LaidPly& ply : out.laid.plies)
                         for (templates::LaidPiece& piece : ply.pieces)
                             templates::name_lines(piece.outline);
                 });
    out.ground = made;
    return out;
}

job::Job shape_of(const job::Job& job) {
    job::Job shape = job;
    take_mixing(shape, {});
    shape.file = job.file;
    shape.lines = job.lines;
    // A ply is as thick as its resin is dense, the roll is cut with a gap.
    shape.resin.kind = job.resin.kind;
    shape.resin.cured_density = job.resin.cured_density;
    shape.shop.cutting_gap = job.shop.cutting_gap;
    shape.effective_json.clear();
    return shape;
}

void take_mixing(job::Job& into, const job::Job& from) {
    into.file = from.file;
    into.lines = from.lines;
    into.title = from.title;
    into.resin = from.resin;
    into.laminator = from.laminator;
    into.shop = from.shop;
    into.prices = from.prices;
}

const LaidPlace* KeptPlace::of(const job::Job& shape) const {
    return laid_ && of_ == name_of(shape) ? laid_.get() : nullptr;
}

const LaidPlace& KeptPlace::keep(const job::Job& shape, LaidPlace laid) {
    of_ = name_of(shape);
    laid_ = std::make_unique<const LaidPlace>(std::move(laid));
    return *laid_;
}

}  // namespace tearline::plan

#include "core/plan/fit_core.h"

#include <algorithm>
#include <utility>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sheet_words.h"
#include "core/closing/ring_stack.h"
#include "core/ground/grown_outline.h"
#include "core/job/fabric_catalogue.h"
#include "core/job/sides.h"
#include "core/laminate/compare.h"
#include "core/plan/closing_piece.h"
#include "core/plan/plug_outline.h"
#include "core/templates/kerf_lines.h"
#include "core/templates/label_template.h"
#include "core/templates/line_names.h"

namespace tearline::plan {

namespace {

/// The new stack of a skin, or nothing where that skin is whole.
std::vector<job::StackEntry> new_stack(const Plan& plan, const std::string& skin) {
    std::vector<job::StackEntry> stack;
    const auto add = [&](const Plan& part) {
        if (part.job.part.name != skin) return;
        for (const templates::LaidPly& ply : part.plies)
            if (!ply.cover) stack.push_back({ply.fabric, ply.pieces.front().outline.axis_degrees});
    };
    if (plan.parts.empty()) add(plan);
    for (const Plan& part : plan.parts) add(part);
    return stack;
}

/// An old skin: of the kind that the job says, else mat.
closing::Face old_face(const job::Job& job, double thickness) {
    const job::FabricKind kind =
        job.old_laminate && job.old_laminate->kind ? *job.old_laminate->kind : job::FabricKind::mat;
    const laminate::Layer layer{laminate::lamina_of(job::fabric_of_kind(kind)), thickness, 0.0};
    return closing::face_of({&layer, 1}, false);
}

closing::Face new_face(const Plan& plan, const job::Job& job, const std::string& skin, double old) {
    const auto stack = new_stack(plan, skin);
    if (stack.empty()) return old_face(job, old);
    return closing::face_of(laminate::layers_of(stack, job), false);
}

double new_thickness(const Plan& plan, const std::string& skin, double old) {
    double sum = 0.0;
    const auto add = [&](const Plan& part) {
        if (part.job.part.name != skin) return;
        for (const templates::LaidPly& ply : part.plies)
            if (!ply.cover) sum += ply.thickness_mm;
    };
    if (plan.parts.empty()) add(plan);
    for (const Plan& part : plan.parts) add(part);
    return sum > 0.0 ? sum : old;
}

void label(templates::LaidPly& ply, const CorePlan& plug, const job::Job& job,
           const std::string& repair) {
    const job::Units units = job.display_units;
    const job::Core& core = *job.core;
    const auto capital = [&](double mm, int decimals) {
        return in_capitals(length_text(mm, decimals, units));
    };
    for (templates::LaidPiece& piece : ply.pieces) {
        templates::Words words;
        words.lines = {
            {"CORE PLUG", 2.2},
            {in_capitals(shortened(core.material, 32)), 1.3},
            {face_words, 1.3},
            {"LAID " + in_capitals(std::string("from ") + job::side_word(ply.side)), 1.3},
            {"THICKNESS " + in_capitals(thickness_text(plug.plug_mm, 1, units)), 1.3}};
        if (plug.chamfer_mm > 0.0)
            words.lines.push_back({"CUT LINE: THE FACE TOWARDS YOU. NET LINE: THE BED. CHAMFER " +
                                       fixed(core.chamfer, 1) + " : 1",
                                   0.8});
        else
            words.lines.push_back({"CUT SQUARE", 0.8});
        if (core.kerf_pitch)
            words.lines.push_back({"FINE DASHES: KERFS " + capital(core.kerf_width.value(), 1) +
                                       " WIDE EVERY " + capital(*core.kerf_pitch, 0) +
                                       ", NEVER RIGHT THROUGH",
                                   0.8});
        if (plug.filled_mm2 > 0.0)
            words.lines.push_back({"ENDS " + capital(core.edge_fill, 0) +
                                       " SHORT OF THE HULL'S END: FILLED SOLID THERE",
                                   0.8});
        if (!repair.empty()) words.lines.insert(words.lines.begin(), {repair, 2.2});
        templates::name_lines(piece.outline);
        templates::label_template(piece.outline, words);
    }
}

double across(const Loop2& loop) {
    double most = 0.0;
    for (const Vec2& a : loop)
        for (const Vec2& b : loop) most = std::max(most, (a - b).norm());
    return most;
}

/// A plug as its templates are.
closing::Plug measured(const templates::LaidPly& ply, const CorePlan& of) {
    closing::Plug plug{{}, {}, of.plug_mm, of.chamfer_mm};
    const auto add = [](const Region2& region, closing::PlugFace& face) {
        face.area_mm2 += area(region);
        face.perimeter_mm += perimeter(region.outer);
    };
    for (const templates::LaidPiece& piece : ply.pieces) {
        add(piece.outline.net, plug.bed);
        add(piece.outline.parting_region(), plug.top);
    }
    return plug;
}

/// Fits the plug's templates into its hole.
/// @param inside  [mm] >= 0: that they are larger than the plug
/// @return        the plug before it is cut back where the place is filled solid
Result<closing::Plug> fit_templates(Closing& plug, double inside, double edge_fill, CorePlan& out) {
    if (inside > 0.0)
        for (templates::LaidPiece& piece : plug.ply.pieces)
            if (auto fits = shrink_plug(inside, piece.outline); !fits)
                return tl::unexpected(fits.error());
    const closing::Plug whole = measured(plug.ply, out);
    for (templates::LaidPiece& piece : plug.ply.pieces) {
        const auto filled = cut_back_plug(edge_fill, piece.outline);
        if (!filled) return tl::unexpected(filled.error());
        out.filled_mm2 += *filled;
    }
    const closing::Plug left = measured(plug.ply, out);
    out.bed = left.bed;
    out.top = left.top;
    return whole;
}

/// The grid of kerfs on the template, along and across the way in which the hull bends most.
void add_kerfs(Closing& plug, const job::Core& core, double thick, CorePlan& out) {
    const auto sample = plug.ground.patch.sample(plug.ground.frame.at);
    double flat = across(plug.ply.pieces.front().outline.parting_region().outer);
    if (core.kerf_pitch) {
        const auto kerf = [&](double curvature) {
            return closing::kerf_move(*core.kerf_pitch, core.kerf_width.value(), thick, curvature);
        };
        out.along = kerf(sample.curvature_max);
        out.across = kerf(sample.curvature_min);
        const double turn = direction_of_most_bend(plug.ply, plug.ground.frame);
        for (templates::LaidPiece& piece : plug.ply.pieces)
            templates::add_kerfs(*core.kerf_pitch, turn, piece.outline);
        flat = *core.kerf_pitch;
    }
    out.stand_off_mm = closing::stand_off(flat, sample.curvature_max, sample.curvature_min);
}

void fill_amounts(const job::Job& job, const closing::Plug& whole, CorePlan& out) {
    const job::Core& core = *job.core;
    const double share =
        out.along && out.across ? closing::kerf_share(out.along->share, out.across->share) : 0.0;
    // Paste in place of the plug: a cubic centimetre is a mL.
    constexpr double mm3_per_mL = 1000.0;
    out.paste_mL = closing::paste_mL(core, whole, share) +
                   (1.0 - share) * out.filled_mm2 * out.plug_mm / mm3_per_mL;
    if (!core.seal) return;
    const SquareMetres faces = square_metres_from_mm2(
        closing::plug_surface({out.bed, out.top, out.plug_mm, out.chamfer_mm}));
    out.seal_g = (faces * *core.seal * (1.0 + job.resin.waste)).value();
}

}  // namespace

Result<CorePlan> fit_core(const Plan& plan, const job::Job& job, const hull::Hull& hull) {
    const job::Core& core = *job.core;
    const job::Side side = job.damage.side;
    const bool outside = side == job::Side::outside;
    const std::string far_name = outside ? "inner skin" : "outer skin";
    const double near = closing::near_skin(core, side), far = closing::far_skin(core, side);
    const auto rings = closing::ring_stack(job.damage.reaches.value(), side, core, job.scarf.ratio);

    CorePlan out;
    out.plug_mm = closing::plug_thickness(core, new_thickness(plan, far_name, far), far);
    if (!(out.plug_mm > 0.0))
        return no_safe_answer("core.thickness",
                              "no room for a plug: " + shortest(core.thickness) +
                                  " mm less its bed and what the new skin is thicker than the old "
                                  "one leaves " +
                                  fixed(out.plug_mm, 1) + " mm; use a thinner stack there");
    out.depth_mm = near + core.thickness - core.bed - 0.5 * out.plug_mm;
    // Its edge is parallel to that of the hole: as far in as it lies above the far skin.
    out.chamfer_mm = core.chamfer * out.plug_mm;
    const double below = near + core.thickness;
    const double offset = rings.core_top - out.chamfer_mm - core.gap;
    job::Job on_far = job;
    on_far.damage.carried = below;
    if (job.damage.centre) {
        auto points = ground::grown_outline(job, hull, 0.0);
        if (!points) return tl::unexpected(points.error());
        on_far.damage = ground::carried_to(on_far.damage, std::move(*points), below);
    }
    auto plug = lay_closing(on_far, hull,
                            {"core", side, below, std::max(offset, 0.0), out.chamfer_mm,
                             -(core.bed + 0.5 * out.plug_mm)});
    if (!plug) return tl::unexpected(plug.error());
    const auto whole = fit_templates(*plug, std::max(-offset, 0.0), core.edge_fill, out);
    if (!whole) return tl::unexpected(whole.error());
    add_kerfs(*plug, core, out.plug_mm, out);
    fill_amounts(job, *whole, out);
    label(plug->ply, out, job, plan.repair);
    out.pieces.push_back(std::move(plug->ply));

    out.before =
        closing::sandwich_of(old_face(job, core.outer), core.thickness, old_face(job, core.inner));
    const double between = out.plug_mm + core.bed;
    out.after = closing::sandwich_of(new_face(plan, job, "outer skin", core.outer), between,
                                     new_face(plan, job, "inner skin", core.inner));
    return out;
}

}  // namespace tearline::plan

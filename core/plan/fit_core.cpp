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
#include "core/plan/tolerances.h"
#include "core/plane/offset_region.h"
#include "core/quantities/cups.h"
#include "core/templates/label_template.h"

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

/// A line or loop on the table as a region, which has an outside: a line as a sliver.
Region2 as_region(std::vector<Vec2> line, bool closed) {
    if (closed) {
        if (signed_area(line) < 0.0) std::reverse(line.begin(), line.end());
        return {std::move(line), {}};
    }
    Region2 out{line, {}};
    for (std::size_t i = line.size(); i-- > 0;) {
        const Vec2 along = i > 0 ? line[i] - line[i - 1] : line[1] - line[0];
        out.outer.push_back(line[i] + tolerance::line_sliver * turned_left(along.normalized()));
    }
    if (signed_area(out.outer) < 0.0) std::reverse(out.outer.begin(), out.outer.end());
    return out;
}

/// Where the plug comes to an opening or the hull's end: its core is taken back there and the
/// place filled solid (DEFINITIONS.md, Sides, backing, cores).
std::vector<Region2> solid_edges(const templates::Template& outline, double width) {
    std::vector<Region2> beside;
    const auto add = [&](const std::vector<Vec2>& line, bool closed) {
        if (line.size() < 2) return;
        for (Region2& near : plane::offset_region(as_region(line, closed), width))
            beside.push_back(std::move(near));
    };
    for (const templates::Mark& mark : outline.marks)
        if (const auto* end = std::get_if<templates::HullEnd>(&mark)) add(end->run, false);
    for (const Loop2& hole : outline.net.holes) add(hole, true);
    if (beside.empty()) return {};
    return plane::common_region({outline.net}, plane::united_regions(beside));
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
            {in_capitals(core.material.substr(0, 32)), 1.3},
            {face_words, 1.3},
            {"LAID " + in_capitals(std::string("from ") + job::side_word(ply.side)), 1.3},
            {"THICKNESS " + in_capitals(thickness_text(plug.plug_mm, 1, units)), 1.3}};
        if (plug.cut_inside)
            words.lines.push_back(
                {"THE LINE IS THE HOLE: CUT " + capital(core.gap, 1) + " INSIDE IT", 0.8});
        if (plug.chamfer_mm > 0.0)
            words.lines.push_back({"CUT LINE: THE FACE TOWARDS YOU. NET LINE: THE BED. CHAMFER " +
                                       fixed(core.chamfer, 1) + " : 1",
                                   0.8});
        else
            words.lines.push_back({"CUT SQUARE", 0.8});
        if (core.kerf_pitch)
            words.lines.push_back({"KERFS " + capital(core.kerf_width.value(), 1) + " WIDE EVERY " +
                                       capital(*core.kerf_pitch, 0) + ", BOTH WAYS FROM THE CROSS",
                                   0.8});
        if (core.edge_fill > 0.0 && !solid_edges(piece.outline, core.edge_fill).empty())
            words.lines.push_back({"CUT BACK " + capital(core.edge_fill, 0) +
                                       " FROM THE HULL'S END AND EVERY HOLE: FILLED SOLID THERE",
                                   0.8});
        if (!repair.empty()) words.lines.insert(words.lines.begin(), {repair, 2.2});
        templates::label_template(piece.outline, words);
    }
}

double across(const Loop2& loop) {
    double most = 0.0;
    for (const Vec2& a : loop)
        for (const Vec2& b : loop) most = std::max(most, (a - b).norm());
    return most;
}

void fill_amounts(const Closing& plug, const job::Job& job, CorePlan& out) {
    const job::Core& core = *job.core;
    for (const templates::LaidPiece& piece : plug.ply.pieces) {
        out.area_mm2 += area(piece.outline.net);
        out.perimeter_mm += perimeter(piece.outline.net.outer);
    }
    const auto sample = plug.ground.patch.sample(plug.ground.frame.at);
    double solid = 0.0;  // [mm2]
    if (core.edge_fill > 0.0)
        for (const templates::LaidPiece& piece : plug.ply.pieces)
            for (const Region2& part : solid_edges(piece.outline, core.edge_fill))
                solid += area(part);
    double share = 0.0;
    double flat = across(plug.ply.pieces.front().outline.net.outer);
    if (core.kerf_pitch) {
        const auto kerf = [&](double curvature) {
            return closing::kerf_move(*core.kerf_pitch, core.kerf_width.value(), out.plug_mm,
                                      curvature);
        };
        out.along = kerf(sample.curvature_max);
        out.across = kerf(sample.curvature_min);
        share = closing::kerf_share(out.along->share, out.across->share);
        flat = *core.kerf_pitch;
    }
    out.stand_off_mm = closing::stand_off(flat, sample.curvature_max, sample.curvature_min);
    // Paste in place of the plug: a cubic centimetre is a mL.
    constexpr double mm3_per_mL = 1000.0;
    out.paste_mL = closing::paste_mL(core, out.area_mm2, out.perimeter_mm, out.plug_mm, share) +
                   (1.0 - share) * solid * out.plug_mm / mm3_per_mL;
    if (!core.seal) return;
    const SquareMetres faces =
        square_metres_from_mm2(2.0 * out.area_mm2 + out.perimeter_mm * out.plug_mm);
    const Grams grams = faces * *core.seal * (1.0 + job.resin.waste);
    out.seal_g = grams.value();
    out.seal_cups = quantities::cups_for({grams, faces}, job);
}

}  // namespace

Result<CorePlan> fit_core(const Plan& plan, const job::Job& job, const hull::Hull& hull) {
    const job::Core& core = *job.core;
    const job::Side side = job.damage.side;
    const bool outside = side == job::Side::outside;
    const std::string near_name = outside ? "outer skin" : "inner skin";
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
    out.chamfer_mm = rings.core_top - rings.core_bottom;
    const double below = near + core.thickness;
    const double offset = rings.core_bottom - core.gap;
    out.cut_inside = offset < 0.0;
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
    fill_amounts(*plug, job, out);
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

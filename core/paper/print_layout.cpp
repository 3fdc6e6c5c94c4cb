#include "core/paper/print_layout.h"

#include <algorithm>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sheet_words.h"
#include "core/paper/draw_plan.h"
#include "core/paper/pack_pages.h"

namespace tearline::paper {

namespace {

Drawing template_drawing(Drawing drawing, bool mirror) {
    if (!mirror) return drawing;
    drawing = mirrored(drawing);
    for (Words& words : drawing.words) {
        // In the room of the words it stands for: the painter squeezes it.
        if (words.text == face_words) words.text = mirrored_face_words;
    }
    drawing.line_word = "MIRRORED " + drawing.line_word;
    return drawing;
}

/// The lines to part the cloth by that these templates have.
std::string line_words(const PrintPlan& plan) {
    const auto any = [&](bool mat) {
        return std::any_of(plan.pieces.begin(), plan.pieces.end(),
                           [&](const PrintPiece& piece) { return (piece.kind == "mat") == mat; });
    };
    return std::string(any(true) ? "TEAR lines, heavy and dashed: tear the mat, do not cut it. "
                                 : "") +
           (any(false) ? "CUT lines, heavy: cut." : "");
}

std::vector<std::string> note_lines(const PrintPlan& plan, const PrintChoice& choice,
                                    const std::vector<Drawing>& drawings) {
    const bool us = plan.units == Units::us;
    const std::string bar = fixed(check_bar(choice.paper, choice.print_scale, plan.units), 0) +
                            " " + length_unit(plan.units);
    std::vector<std::string> lines = {
        "PRINT AT 100 % (actual size): no \"fit to page\", no borderless enlarging.",
        "Measure the bars on the first sheet: " + bar + " on paper is " + bar + " within " +
            (us ? "1/64 in" : "0.5 mm") + ", or correct it:",
        "print scale = " + bar + " / what that bar measures (now " + fixed(choice.print_scale, 4) +
            "); paper grows and shrinks, so keep it dry.",
        "Pages of one letter grid belong together: trim the side marked TRIM, glue it over the "
        "neighbour's dashed",
        "line, and let the numbered ticks meet; they count from one corner of the whole, so errors "
        "do "
        "not add up.",
        line_words(plan),
        "NET lines, thin: edge of the full ply. Dotted: edge of the next smaller ply.",
        "Templates show the face towards you when you lay the glass" +
            std::string(choice.mirrored ? ", but these are MIRRORED." : "."),
        "Before grinding look behind the skin: tanks, wiring, seacocks. Dust mask, goggles, "
        "gloves.",
        plan.epoxy
            ? "Epoxy sensitises and its hardener burns: none of it on the skin or in the eyes."
            : "Styrene vapour: fresh air. Peroxide hardener blinds: goggles, eye wash at hand.",
        "Mix, gel time and hardener come from the data sheets of your resin; they rule over any "
        "figure here.",
        "Not for keel, rudder, rig or chainplate zones, stringers, frames, coded or classed craft "
        "without their surveyor.",
    };
    std::string ids;
    for (const Drawing& drawing : drawings) ids += (ids.empty() ? "" : ", ") + drawing.id;
    lines.push_back("Here: " + ids + ".");
    if (const auto sheet = ring_sheet(plan)) {
        std::string plies;
        for (const std::size_t index : sheet->pieces) plies += plan.pieces[index].id + " ";
        lines.push_back(
            (choice.less_paper ? "Less paper: one sheet, for the " : "To save paper: the ") +
            std::string("rings of plies ") + plies + "agree within " +
            length_text(sheet->farthest_mm, 1, plan.units) +
            (choice.less_paper ? "." : "; one ring sheet can serve them all."));
    }
    return lines;
}

}  // namespace

bool Assembly::has(const Tile& tile) const {
    return std::find(tiles.begin(), tiles.end(), tile) != tiles.end();
}

Box Assembly::window_of(const Tile& tile) const {
    const Vec2 low(tile.column * pitch.x(), tile.row * pitch.y());
    return {low, low + frame.window.size()};
}

std::vector<Drawing> drawings_of(const PrintPlan& plan, const PrintChoice& choice) {
    std::vector<Drawing> out;
    if (!plan.guide.rings.empty())
        out.push_back(template_drawing(draw_grind_guide(plan), choice.mirrored));
    const auto sheet = choice.less_paper ? ring_sheet(plan) : std::nullopt;
    if (sheet)
        out.push_back(
            template_drawing(draw_ring_sheet(plan, *sheet, choice.mirrored), choice.mirrored));
    for (std::size_t i = 0; i < plan.pieces.size(); ++i)
        if (!sheet ||
            std::find(sheet->pieces.begin(), sheet->pieces.end(), i) == sheet->pieces.end())
            out.push_back(
                template_drawing(draw_piece(plan.pieces[i], choice.mirrored), choice.mirrored));
    if (!plan.sections.empty()) out.push_back(draw_sections(plan.sections, plan.guide, plan.units));
    // Of mirrored templates there is no table: it is taken on the hull, face towards you.
    if (choice.polar_tables && !choice.mirrored)
        for (const PrintPiece& piece : plan.pieces)
            out.push_back(draw_polar_table(piece, plan.ends, plan.units));
    out.insert(out.begin(), draw_notes(plan, note_lines(plan, choice, out)));
    return out;
}

Result<PrintLayout> lay_out_print(const PrintPlan& plan, const PrintChoice& choice) {
    if (!(choice.print_scale >= least_print_scale) || !(choice.print_scale <= most_print_scale))
        return bad_input("print scale " + shortest(choice.print_scale) + ": a printer is off by " +
                         "less than a tenth (" + fixed(least_print_scale, 1) + " to " +
                         fixed(most_print_scale, 1) +
                         "); print at 100 % (actual size) and measure the bar on the sheet again");
    std::vector<Drawing> drawings = drawings_of(plan, choice);
    for (const std::string& id : choice.only)
        if (std::none_of(drawings.begin(), drawings.end(),
                         [&](const Drawing& drawing) { return drawing.id == id; })) {
            std::string known;
            for (const Drawing& drawing : drawings)
                known += (known.empty() ? "" : ", ") + drawing.id;
            return bad_input("piece '" + id + "' is not in this plan; there is: " + known);
        }
    if (!choice.only.empty())
        std::erase_if(drawings, [&](const Drawing& drawing) {
            return std::find(choice.only.begin(), choice.only.end(), drawing.id) ==
                   choice.only.end();
        });
    PrintLayout layout{choice, plan.title, plan.model, plan.job_id, plan.units, {}, {}};
    layout.assemblies = pack_pages(drawings, choice.paper, choice.print_scale);
    for (std::size_t i = 0; i < layout.assemblies.size(); ++i)
        for (const Tile& tile : layout.assemblies[i].tiles) layout.pages.push_back({i, tile});
    return layout;
}

}  // namespace tearline::paper

#include "core/paper/print_layout.h"

#include <algorithm>

#include "core/base/numbers.h"
#include "core/drawing/guide_drawing.h"
#include "core/drawing/line_style.h"
#include "core/drawing/piece_drawing.h"
#include "core/drawing/polar_drawing.h"
#include "core/drawing/ring_sheet.h"
#include "core/drawing/section_cards.h"
#include "core/paper/notes.h"
#include "core/paper/pack_pages.h"

namespace tearline::paper {

bool Assembly::has(const Tile& tile) const {
    return std::find(tiles.begin(), tiles.end(), tile) != tiles.end();
}

Box Assembly::window_of(const Tile& tile) const {
    const Vec2 low(tile.column * pitch.x(), tile.row * pitch.y());
    return {low, low + frame.window.size()};
}

namespace {

/// The drawings of one part of a repair.
void add_part(const templates::TemplateSet& set, const PrintChoice& choice,
              std::vector<Drawing>& out) {
    const drawing::Look look{choice.mirrored, true};
    if (!set.guide.rings.empty()) out.push_back(drawing::guide_drawing(set, look));
    const auto sheet = choice.less_paper ? drawing::ring_sheet(set) : std::nullopt;
    if (sheet) out.push_back(drawing::ring_sheet_drawing(set, *sheet, choice.mirrored));
    for (std::size_t i = 0; i < set.pieces.size(); ++i)
        if (!sheet ||
            std::find(sheet->pieces.begin(), sheet->pieces.end(), i) == sheet->pieces.end())
            out.push_back(drawing::piece_drawing(set.pieces[i], look));
    if (!set.sections.empty()) out.push_back(drawing::section_cards(set));
    // Of mirrored templates there is no table: it is taken on the hull, face towards you.
    if (choice.polar_tables && !choice.mirrored)
        for (const templates::PieceTemplate& piece : set.pieces)
            out.push_back(drawing::polar_drawing(piece, set));
}

}  // namespace

std::vector<Drawing> drawings_of(const templates::TemplateSet& set, const PrintChoice& choice) {
    std::vector<Drawing> out;
    for (const templates::TemplateSet& part : templates::parts_of(set)) add_part(part, choice, out);
    out.insert(out.begin(), notes_of(set, choice, out));
    for (Drawing& each : out)
        std::erase_if(each.lines, [](const Drawing::Line& line) {
            return !drawing::line_style(line.role);  // for cutters alone
        });
    return out;
}

Result<PrintLayout> lay_out_print(const templates::TemplateSet& set, const PrintChoice& choice) {
    if (!(choice.print_scale >= least_print_scale) || !(choice.print_scale <= most_print_scale))
        return bad_input("print scale " + shortest(choice.print_scale) + ": a printer is off by " +
                         "less than a tenth (" + fixed(least_print_scale, 1) + " to " +
                         fixed(most_print_scale, 1) +
                         "); print at 100 % (actual size) and measure the bar on the sheet again");
    std::vector<Drawing> drawings = drawings_of(set, choice);
    for (const std::string& id : choice.only)
        if (std::none_of(drawings.begin(), drawings.end(),
                         [&](const Drawing& drawing) { return drawing.name == id; })) {
            std::string known;
            for (const Drawing& drawing : drawings)
                known += (known.empty() ? "" : ", ") + drawing.name;
            return bad_input("piece '" + id + "' is not in this plan; there is: " + known);
        }
    if (!choice.only.empty())
        std::erase_if(drawings, [&](const Drawing& drawing) {
            return std::find(choice.only.begin(), choice.only.end(), drawing.name) ==
                   choice.only.end();
        });
    PrintLayout layout{choice, set.title, set.model, set.job_id, set.units, {}, {}};
    layout.assemblies = pack_pages(drawings, choice.paper, choice.print_scale);
    for (std::size_t i = 0; i < layout.assemblies.size(); ++i)
        for (const Tile& tile : layout.assemblies[i].tiles) layout.pages.push_back({i, tile});
    return layout;
}

}  // namespace tearline::paper

#include "core/paper/notes.h"

#include <algorithm>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sheet_words.h"
#include "core/drawing/ring_sheet.h"

namespace tearline::paper {

namespace {

constexpr double notes_width = 176.0;  // [mm] upright on every paper, the room about its words too

/// The lines to part the cloth by that these templates have.
std::string line_words(const templates::TemplateSet& set) {
    const auto any = [&](bool mat) {
        return std::any_of(set.pieces.begin(), set.pieces.end(),
                           [&](const templates::PieceTemplate& piece) { return piece.mat == mat; });
    };
    return std::string(any(true) ? "TEAR lines, heavy and dashed: tear the mat, do not cut it. "
                                 : "") +
           (any(false) ? "CUT lines, heavy: cut." : "");
}

std::vector<std::string> words_of_repair(const templates::TemplateSet& set,
                                         const PrintChoice& choice) {
    return {
        "NET lines, thin: edge of the full ply. Dotted: edge of the next smaller ply.",
        "Templates show the face towards you when you lay the glass" +
            std::string(choice.mirrored ? ", but these are MIRRORED." : "."),
        "Before grinding look behind the skin: tanks, wiring, seacocks. Dust mask, goggles, "
        "gloves.",
        set.epoxy
            ? "Epoxy sensitises and its hardener burns: none of it on the skin or in the eyes."
            : "Styrene vapour: fresh air. Peroxide hardener blinds: goggles, eye wash at hand.",
        "Mix, gel time and hardener come from the data sheets of your resin; they rule over any "
        "figure here.",
        "Not for keel, rudder, rig or chainplate zones, stringers, frames, coded or classed craft "
        "without their surveyor.",
    };
}

std::vector<std::string> words_of_flat(const PrintChoice& choice) {
    return {
        "NET lines, thin: the edge on the model. What lies outside them is margin.",
        "Templates show the face that is towards you when it lies in place" +
            std::string(choice.mirrored ? ", but these are MIRRORED." : "."),
        "Try the paper in place before you cut: the template is as good as the model.",
    };
}

std::vector<std::string> note_lines(const templates::TemplateSet& set, const PrintChoice& choice,
                                    const std::vector<Drawing>& drawings) {
    const bool us = set.units == Units::us;
    const std::string bar = fixed(check_bar(choice.paper, choice.print_scale, set.units), 0) + " " +
                            length_unit(set.units);
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
        line_words(set),
    };
    for (std::string& line : set.flat ? words_of_flat(choice) : words_of_repair(set, choice))
        lines.push_back(std::move(line));
    std::string ids;
    for (const Drawing& drawing : drawings) ids += (ids.empty() ? "" : ", ") + drawing.name;
    constexpr std::size_t letters = 110;
    for (const std::string& line : broken("Here: " + ids + ".", letters)) lines.push_back(line);
    if (const auto sheet = drawing::ring_sheet(set)) {
        std::string plies;
        for (const std::size_t index : sheet->pieces) plies += set.pieces[index].id + " ";
        lines.push_back(
            (choice.less_paper ? "Less paper: one sheet, for the " : "To save paper: the ") +
            std::string("rings of plies ") + plies + "agree within " +
            length_text(sheet->farthest_mm, 1, set.units) +
            (choice.less_paper ? "." : "; one ring sheet can serve them all."));
    }
    return lines;
}

}  // namespace

Drawing notes_of(const templates::TemplateSet& set, const PrintChoice& choice,
                 const std::vector<Drawing>& drawings) {
    Drawing notes;
    notes.name = "notes";
    notes.line_word = "READ FIRST";
    double y = 0.0;
    const auto line = [&](const std::string& text, double height, bool bold) {
        Drawing::Text words{{0.0, y - 0.5 * height}, {0.0, height}, text};
        words.width = notes_width;
        words.from_left = true;
        words.bold = bold;
        notes.texts.push_back(std::move(words));
        y -= 2.4 * height;
    };
    constexpr std::size_t title_letters = 44;  // the widest ones in bold fill the note
    line(shortened(set.title.empty() ? set.model : set.title, title_letters), 3.5, true);
    for (const std::string& text : note_lines(set, choice, drawings)) line(text, 2.1, false);
    notes.lines.push_back({drawing::Role::frame,
                           {{-3.0, y}, {notes_width, y}, {notes_width, 6.0}, {-3.0, 6.0}},
                           true});
    return notes;
}

}  // namespace tearline::paper

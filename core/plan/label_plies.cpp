#include "core/plan/label_plies.h"

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sheet_words.h"
#include "core/base/side_by_side.h"
#include "core/base/us_constants.h"
#include "core/job/sides.h"
#include "core/job/title_of.h"
#include "core/templates/axis_words.h"
#include "core/templates/directions.h"
#include "core/templates/label_template.h"

namespace tearline::plan {

namespace {

constexpr double mm2_per_square_foot = us::mm_per_foot * us::mm_per_foot;

std::string area_text(double mm2, job::Units units) {
    constexpr double small = 1e4, cm2 = 100.0,
                     square_inch = us::mm_per_inch * us::mm_per_inch;  // [mm2]
    if (mm2 < small)
        return units == job::Units::metric ? fixed(mm2 / cm2, 1) + " cm²"
                                           : fixed(mm2 / square_inch, 2) + " in²";
    return units == job::Units::metric ? fixed(square_metres_from_mm2(mm2).value(), 3) + " m²"
                                       : fixed(mm2 / mm2_per_square_foot, 2) + " ft²";
}

/// As many decimals as two figures of an amount take.
std::string two_figures(double amount) {
    return fixed(amount, amount < 0.1 ? 3 : amount < 1.0 ? 2 : amount < 10.0 ? 1 : 0);
}

std::string mass_text(double grams, job::Units units) {
    const std::string metric = two_figures(grams) + " g";
    return units == job::Units::metric
               ? metric
               : two_figures(grams / us::grams_per_ounce) + " oz wt (" + metric + ")";
}

/// Whether the person with this template in hand must know: what the template allows for already
/// (creases) stands on the job sheet only.
bool concerns(const Warning& warning, const templates::LaidPly& ply,
              const templates::LaidPiece& piece) {
    if (is<warn::CreaseTrimmed>(warning) || is<warn::CreaseOpened>(warning)) return false;
    if (warning.piece) return *warning.piece == piece.piece.id;
    return warning.ply && *warning.ply == ply.number;
}

/// Whether the place to press down first was looked for and is not the middle of the damage.
bool ring_was_moved(const templates::LaidPiece& piece, const job::Job& job) {
    constexpr double beside_mm = 3.0;  // half a ring
    for (const templates::Mark& mark : piece.outline.marks) {
        const auto* press = std::get_if<templates::PressFirst>(&mark);
        if (press && !job.layup.press_first) return press->middle.norm() > beside_mm;
    }
    return false;
}

/// What whoever tears or cuts the piece and lays it must know of the cloth: its grain, where it is
/// pressed down first, how its edge is torn.
std::vector<std::string> handling(const templates::LaidPly& ply, const templates::LaidPiece& piece,
                                  const job::Job& job, const templates::Directions& where) {
    if (ply.kind == job::FabricKind::mat)
        return {"MAT HAS NO GRAIN: TEAR IT FROM THE ROLL IN ANY DIRECTION"};
    std::vector<std::string> sentences = {
        in_capitals(templates::axis_words(where, ply.kind, piece.outline.axis_degrees))};
    if (ply.kind == job::FabricKind::biaxial)
        sentences.back() += ", FIBRES 45 DEGREES TO EITHER SIDE OF IT";
    if (piece.piece.press_first)
        sentences.push_back(std::string("PRESS DOWN AT THE RING FIRST, THEN SMOOTH OUT ALONG THE "
                                        "YARNS") +
                            (ring_was_moved(piece, job)
                                 ? "; OFF THE MIDDLE, SINCE FROM THERE THE CLOTH SHEARS LEAST"
                                 : ""));
    return sentences;
}

bool has_torn_band(const templates::Template& outline) {
    return outline.tear && area(*outline.tear) > area(outline.net);
}

/// What stands on a template.
templates::Words words_of(const templates::LaidPly& ply, const templates::LaidPiece& piece,
                          const quantities::PieceAmounts& amounts, const LabelledAs& as,
                          const templates::Directions& where) {
    const job::Job& job = as.job;
    constexpr std::size_t letters = 34;
    const job::Units units = job.display_units;
    templates::Words words;
    if (!as.repair.empty()) words.lines.push_back({as.repair, 2.2});
    words.lines.push_back({"PLY " + std::to_string(ply.number) + " · " + piece.piece.id, 2.2});
    std::vector<std::string> cloth = name_lines(ply.fabric);
    if (ply.cover) cloth.back() += " · COVER PLY";
    for (std::string& line : cloth) words.lines.push_back({std::move(line), 1.3});
    if (job.part.skin_coat && ply.number == job.part.plies_before + 1)
        words.lines.push_back({"SKIN COAT ON THE GEL COAT", 1.3});
    words.lines.push_back({face_words, 1.3});
    if (ply.number == 0 || job.part.on_new) {
        const std::string from = std::string("from ") + job::side_word(ply.side);
        words.lines.push_back({"LAID " + in_capitals(from), 1.3});
        if (!job.part.name.empty() && job.part.name != from)
            words.lines.push_back({in_capitals(job.part.name), 1.3});
    }
    words.lines.push_back({area_text(piece.outline.area_mm2, units), 1.0});
    const std::string glass = "glass " + mass_text(amounts.glass_g, units);
    const std::string resin = "resin " + mass_text(amounts.resin_g, units);
    if (units == job::Units::metric)
        words.lines.push_back({glass + " · " + resin, 1.0});
    else  // two units each: too wide for one line
        words.lines.insert(words.lines.end(), {{glass, 1.0}, {resin, 1.0}});
    if (job.layup.copies > 1)
        words.lines.push_back({"MAKE " + std::to_string(job.layup.copies), 1.3});
    const std::string title = job::title_of(job);
    for (const std::string& line : name_lines(title)) words.lines.push_back({line, 1.0});
    for (const std::string& sentence : handling(ply, piece, job, where))
        for (const std::string& line : broken(sentence, letters))
            words.lines.push_back({line, 0.8});
    if (ply.edge_error_mm)
        words.lines.push_back(
            {"THIS EDGE MAY BE OFF BY " + in_capitals(length_text(*ply.edge_error_mm, 1, units)),
             0.8});
    words.torn_band = has_torn_band(piece.outline);
    return words;
}

}  // namespace

std::vector<templates::LaidPly> labelled(std::vector<templates::LaidPly> plies,
                                         const std::vector<quantities::PlyAmounts>& amounts,
                                         const Warnings& warnings, const LabelledAs& as,
                                         const damage::FlatFrame& frame) {
    const job::Job& job = as.job;
    const templates::Directions where = templates::directions(frame, job.hull.bow, job.hull.up);
    side_by_side(plies.size(), [&](std::size_t k) {
        for (std::size_t i = 0; i < plies[k].pieces.size(); ++i) {
            templates::LaidPiece& piece = plies[k].pieces[i];
            templates::Words words =
                words_of(plies[k], piece, amounts.at(k).pieces.at(i), as, where);
            for (const Warning& warning : warnings)
                if (concerns(warning, plies[k], piece))
                    words.warnings.push_back(warning.words().plain(job.display_units));
            templates::label_template(piece.outline, words);
        }
    });
    return plies;
}

}  // namespace tearline::plan

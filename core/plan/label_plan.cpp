#include "core/plan/label_plan.h"

#include "core/base/numbers.h"
#include "core/base/sheet_words.h"
#include "core/base/us_constants.h"
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
bool concerns(const Warning& warning, const PlannedPly& ply, const PlannedPiece& piece) {
    if (warning.code.starts_with("crease-")) return false;
    if (warning.piece) return *warning.piece == piece.piece.id;
    return warning.ply && *warning.ply == ply.number;
}

/// Whether the place to press down first was looked for and is not the middle of the damage.
bool ring_was_moved(const PlannedPiece& piece, const job::Job& job) {
    constexpr double beside_mm = 3.0;  // half a ring
    for (const templates::Mark& mark : piece.outline.marks) {
        const auto* press = std::get_if<templates::PressFirst>(&mark);
        if (press && !job.layup.press_first) return press->middle.norm() > beside_mm;
    }
    return false;
}

/// What whoever tears or cuts the piece and lays it must know of the cloth: its grain, where it is
/// pressed down first, how its edge is torn.
std::vector<std::string> handling(const PlannedPly& ply, const PlannedPiece& piece,
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

}  // namespace

void label_plan(Plan& plan) {
    const job::Units units = plan.job.display_units;
    const std::string title =
        plan.job.title.empty() ? plan.job.file.stem().string() : plan.job.title;
    const templates::Directions where =
        templates::directions(plan.frame, plan.job.hull.bow, plan.job.hull.up);
    constexpr std::size_t letters = 34;
    for (PlannedPly& ply : plan.plies) {
        for (PlannedPiece& piece : ply.pieces) {
            templates::Words words;
            words.lines.push_back(
                {"PLY " + std::to_string(ply.number) + " · " + piece.piece.id, 2.2});
            words.lines.push_back({ply.fabric + (ply.cover ? " · COVER PLY" : ""), 1.3});
            words.lines.push_back({face_words, 1.3});
            words.lines.push_back({area_text(piece.outline.area_mm2, units), 1.0});
            const std::string glass = "glass " + mass_text(piece.glass_g, units);
            const std::string resin = "resin " + mass_text(piece.resin_g, units);
            if (units == job::Units::metric)
                words.lines.push_back({glass + " · " + resin, 1.0});
            else  // two units each: too wide for one line
                words.lines.insert(words.lines.end(), {{glass, 1.0}, {resin, 1.0}});
            if (plan.job.layup.copies > 1)
                words.lines.push_back({"MAKE " + std::to_string(plan.job.layup.copies), 1.3});
            for (const std::string& line : title_lines(title)) words.lines.push_back({line, 1.0});
            for (const std::string& sentence : handling(ply, piece, plan.job, where))
                for (const std::string& line : broken(sentence, letters))
                    words.lines.push_back({line, 0.8});
            words.torn_band = has_torn_band(piece.outline);
            for (const Warning& warning : plan.warnings)
                if (concerns(warning, ply, piece))
                    words.warnings.push_back(plain_words(warning, units));
            templates::label_template(piece.outline, words);
        }
    }
}

}  // namespace tearline::plan

#include "core/output/job_sheet.h"

#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/base/version.h"
#include "core/output/cautions.h"
#include "core/output/measured_part.h"
#include "core/output/polar_sheet.h"
#include "core/output/roll_picture.h"
#include "core/output/svg.h"
#include "core/output/template_thumbnail.h"
#include "core/templates/room.h"

namespace tearline::output {

namespace {

constexpr double grams_per_ounce = 28.349523125;  // exact
constexpr double square_feet_per_m2 = 1.0 / (0.3048 * 0.3048);
constexpr double mm_per_inch = 25.4;
constexpr double mL_per_fluid_ounce = 29.5735295625;  // exact, US

constexpr std::string_view style = R"(
@page { margin: 14mm; }
body { font: 10.5pt/1.4 Helvetica, Arial, "DejaVu Sans", sans-serif; color: #1c2730; max-width: 180mm; margin: 8mm auto; padding: 0 4mm; }
h1 { font-size: 20pt; margin: 0 0 1mm; color: #12303f; }
h2 { font-size: 12.5pt; margin: 7mm 0 2mm; padding-bottom: 1mm; border-bottom: 0.4mm solid #185c86; color: #12303f; break-after: avoid; }
p { margin: 1.5mm 0; }
.quiet { color: #55636c; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
th, td { padding: 1mm 1.6mm; text-align: right; border-bottom: 0.2mm solid #ccd5da; vertical-align: top; }
th { font-size: 8.5pt; color: #44525c; text-align: right; }
th.left, td.left { text-align: left; }
tr { break-inside: avoid; }
tfoot td { font-weight: bold; border-top: 0.4mm solid #1c2730; }
.warning { border-left: 1.5mm solid #a3250b; background: #fdf1ee; padding: 1.5mm 3mm; margin: 1.5mm 0; break-inside: avoid; }
.first { border: 0.5mm solid #1c2730; padding: 2mm 4mm; margin: 3mm 0; break-inside: avoid; }
ul.boxes { list-style: none; padding: 0; columns: 2; column-gap: 8mm; }
ul.boxes li { padding-left: 6mm; text-indent: -6mm; margin: 1mm 0; break-inside: avoid; }
ul.boxes li::before { content: "\2610"; display: inline-block; width: 6mm; text-indent: 0; }
ol.cautions li { margin: 1.2mm 0; break-inside: avoid; }
.templates { display: flex; flex-wrap: wrap; gap: 4mm; }
.templates figure, .rolls figure { margin: 0; break-inside: avoid; text-align: center; }
figcaption { font-size: 8.5pt; }
img.overview { width: 100%; border: 0.2mm solid #ccd5da; }
.line { border-bottom: 0.2mm solid #1c2730; display: inline-block; min-width: 45mm; }
)";

std::string tag(const std::string& name, const std::string& content,
                const std::string& attributes = "") {
    return "<" + name + (attributes.empty() ? "" : " " + attributes) + ">" + content + "</" + name +
           ">";
}

std::string cell(const std::string& content) {
    return tag("td", content);
}
std::string left(const std::string& content) {
    return tag("td", content, "class=\"left\"");
}

/// A figure in the job's own units first, the other in brackets.
std::string both(const Plan& plan, const std::string& metric, const std::string& us) {
    return plan.job.display_units == job::Units::metric ? metric + " (" + us + ")"
                                                        : us + " (" + metric + ")";
}
std::string grams(const Plan& plan, double g, int decimals = 0) {
    const std::string metric =
        g >= 10000.0 ? fixed(g / 1000.0, 2) + " kg" : fixed(g, decimals) + " g";
    return both(plan, metric, fixed(g / grams_per_ounce, decimals + 1) + " oz");
}
std::string square(const Plan& plan, double m2) {
    return both(plan, fixed(m2, 3) + " m²", fixed(m2 * square_feet_per_m2, 2) + " ft²");
}
std::string length(const Plan& plan, double mm) {
    return both(plan, fixed(mm, 1) + " mm", fixed(mm / mm_per_inch, 2) + " in");
}

std::string heading(const Plan& plan) {
    const std::string title =
        plan.job.title.empty() ? plan.job.file.stem().string() : plan.job.title;
    return tag("h1", escaped(title)) +
           tag("p",
               "Job sheet · hull model " + escaped(plan.job.hull.model.filename().string()) +
                   " · SHA-256 " + plan.model_sha256.substr(0, 12) + "… · tearline " +
                   std::string(version()),
               "class=\"quiet\"") +
           "<p>Date <span class=\"line\"></span> By <span class=\"line\"></span></p>\n";
}

std::string warnings(const Plan& plan) {
    if (plan.warnings.empty()) return {};
    std::string out = tag("h2", "Warnings of this plan");
    for (const Warning& warning : plan.warnings) {
        std::string where;
        if (warning.piece)
            where = "Piece " + *warning.piece + ": ";
        else if (warning.ply)
            where = "Ply " + std::to_string(*warning.ply) + ": ";
        out +=
            tag("div", tag("b", escaped(where)) + escaped(warning.message), "class=\"warning\"") +
            "\n";
    }
    return out;
}

std::string first_things() {
    std::string out = "<div class=\"first\">";
    out += tag(
        "p",
        tag("b", "The maker's data sheet comes first.") +
            " Where it and this sheet differ, follow the data sheet: mixing, temperatures, times, "
            "protection.");
    out += tag(
        "p",
        tag("b", "Whether and how a structure may be repaired is decided by licensed practice,") +
            " not by this sheet: a surveyor, the designer or the class. Ask them first where any "
            "of these is ticked:");
    out += "<ul class=\"boxes\">";
    for (const std::string_view item : ask_first()) out += tag("li", escaped(item));
    return out + "</ul></div>\n";
}

std::string repair(const Plan& plan) {
    const double scarf_width = plan.job.scarf.ratio * plan.job.damage.depth;
    const bool smallest = plan.job.layup.order == job::Order::smallest_first;
    std::string out = tag("h2", "The repair") + "<table><tbody>\n";
    const auto row = [&out](const std::string& name, const std::string& value) {
        out += tag("tr", left(name) + cell(value)) + "\n";
    };
    row("Damage, area and edge",
        square(plan, square_metres_from_mm2(plan.damage_area_mm2).value()) + ", " +
            length(plan, plan.damage_perimeter_mm));
    row("Depth to grind", length(plan, plan.job.damage.depth));
    row("Scarf", fixed(plan.job.scarf.ratio, 1) + " : 1, " + length(plan, scarf_width) + " wide");
    row("Area to grind", square(plan, square_metres_from_mm2(plan.scarf_area_mm2).value()));
    row("Everything the repair touches",
        square(plan, square_metres_from_mm2(plan.footprint_area_mm2).value()));
    row("Laid from", plan.job.damage.side == job::Side::outside ? "outside" : "inside");
    row("Order", smallest ? "smallest ply first" : "largest ply first");
    row("Thickness laid", length(plan, plan.totals.laid_thickness_mm));
    return out + "</tbody></table>\n";
}

/// The most that one piece must stretch or shear.
std::string strain_text(const pieces::Piece& piece) {
    return piece.shear_max ? fixed(*piece.shear_max, 1) + "°"
                           : fixed(100.0 * piece.strain_max, 2) + " %";
}

std::string strain_text(const PlannedPly& ply) {
    double strain = 0.0, shear = -1.0;
    for (const PlannedPiece& piece : ply.pieces) {
        strain = std::max(strain, piece.piece.strain_max);
        if (piece.piece.shear_max) shear = std::max(shear, *piece.piece.shear_max);
    }
    return shear >= 0.0 ? fixed(shear, 1) + "°" : fixed(100.0 * strain, 2) + " %";
}

std::string ply_table(const Plan& plan) {
    std::string out = tag("h2", "Plies, in the order of laying");
    out +=
        "<table><thead><tr><th>No.</th><th class=\"left\">Fabric</th><th class=\"left\">Pieces</th>"
        "<th>Thick&#173;ness</th><th>Edge beyond damage</th><th>Cloth to "
        "cut</th><th>Glass</th><th>Resin</th>"
        "<th>Stretch or shear</th></tr></thead><tbody>\n";
    for (const PlannedPly& ply : plan.plies) {
        std::string ids;
        for (const PlannedPiece& piece : ply.pieces)
            ids += (ids.empty() ? "" : ", ") + piece.piece.id;
        out +=
            tag("tr", cell(std::to_string(ply.number)) +
                          left(escaped(ply.fabric) + (ply.cover ? " <small>cover</small>" : "")) +
                          left(ids) + cell(fixed(ply.thickness_mm, 2) + " mm") +
                          cell(length(plan, ply.edge_offset_mm)) +
                          cell(square(plan, square_metres_from_mm2(ply.glass_area_mm2).value())) +
                          cell(grams(plan, ply.glass_g)) + cell(grams(plan, ply.resin_g)) +
                          cell(strain_text(ply))) +
            "\n";
    }
    return out + "</tbody></table>\n";
}

std::string totals(const Plan& plan) {
    const Totals& t = plan.totals;
    std::string out = tag("h2", "To have ready") + "<table><tbody>\n";
    const auto row = [&out](const std::string& name, const std::string& value) {
        out += tag("tr", left(name) + cell(value)) + "\n";
    };
    row("Cloth", square(plan, t.glass_area_m2));
    row("Glass in the laminate", grams(plan, t.glass_g));
    row("Resin, with priming and waste", grams(plan, t.resin_g));
    if (t.hardener_g && t.hardener_mL)
        row("Hardener", grams(plan, *t.hardener_g, 1) + " = " +
                            both(plan, fixed(*t.hardener_mL, 1) + " mL",
                                 fixed(*t.hardener_mL / mL_per_fluid_ounce, 2) + " fl oz"));
    else
        row("Hardener", "from the maker's data sheet: the job gives no figure");
    row("Topcoat", grams(plan, t.topcoat_g) + ", hardener " + grams(plan, t.topcoat_hardener_g, 1));
    for (const Roll& roll : plan.rolls)
        row("Roll: " + escaped(roll.fabric),
            length(plan, roll.length_mm) + " of " + length(plan, roll.width_mm) + " width");
    out += "</tbody></table>\n";
    if (t.proud_max_mm > 0.0)
        out += tag("p", "The overlapping torn bands leave the scarf " +
                            length(plan, t.proud_mean_mm) + " proud on average, " +
                            length(plan, t.proud_max_mm) + " at most: sand that back.");
    return out;
}

std::string hardener_text(const Cup& cup) {
    if (!cup.hardener_g || !cup.hardener_mL) return "data sheet";
    return fixed(*cup.hardener_g, 1) + " g = " + fixed(*cup.hardener_mL, 1) + " mL";
}

/// How many cups, and what is in each.
std::string cups(const Plan& plan, const std::vector<Cup>& cups) {
    const std::string count = left(std::to_string(cups.size()));
    if (cups.empty()) return count + cell("") + cell("") + cell("");
    const Cup& cup = cups.front();
    return count + cell(grams(plan, cup.resin_g)) + cell(hardener_text(cup)) +
           cell(cup.use_within_min ? fixed(*cup.use_within_min, 0) + " min" : "test cup first");
}

std::string stages(const Plan& plan) {
    if (plan.stages.empty()) return {};
    std::string out = tag("h2", "Stages: what is laid wet on wet in one go");
    out +=
        "<table><thead><tr><th>Stage</th><th class=\"left\">Plies</th><th>Thickness</th><th "
        "class=\"left\">Cups</th>"
        "<th>Each: resin</th><th>hardener</th><th>use within</th></tr></thead><tbody>\n";
    for (std::size_t i = 0; i < plan.stages.size(); ++i) {
        const Stage& stage = plan.stages[i];
        std::string plies;
        for (const int ply : stage.plies)
            plies += (plies.empty() ? "" : ", ") + std::to_string(ply);
        out += "<tr>" + cell(std::to_string(i + 1)) +
               left(stage.plies.empty() ? "priming coat" : plies) +
               cell(stage.plies.empty() ? "" : fixed(stage.thickness_mm, 2) + " mm") +
               cups(plan, stage.cups) + "</tr>\n";
    }
    if (!plan.topcoat_cups.empty())
        out += "<tr>" + cell("last") + left("topcoat") + cell("") + cups(plan, plan.topcoat_cups) +
               "</tr>\n";
    return out + "</tbody></table>\n";
}

std::string small_templates(const Plan& plan) {
    std::string out =
        tag("h2", "Templates") +
        tag("p", "Pictures only; cut by the full-size files in the folder <b>templates</b>.",
            "class=\"quiet\"") +
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"84mm\" height=\"15mm\" "
        "viewBox=\"0 0 84 15\">" +
        strain_scale_bar(plan, Vec2(2, 5)) + "</svg>\n<div class=\"templates\">\n";
    double widest = 1.0;
    for (const PlannedPly& ply : plan.plies)
        for (const PlannedPiece& piece : ply.pieces) {
            const templates::Box box = templates::box_round(piece.outline.parting_region().outer);
            widest = std::max(widest, (box.high - box.low).maxCoeff());
        }
    const double scale = 40.0 / widest;
    for (const PlannedPly& ply : plan.plies) {
        for (const PlannedPiece& piece : ply.pieces) {
            const templates::Box box = templates::box_round(piece.outline.parting_region().outer);
            const Vec2 size = scale * (box.high - box.low) + Vec2(2, 2);
            const std::string w = svg_number(size.x()), h = svg_number(size.y());
            const Vec2 at = Vec2(1, 1) + scale * Vec2(-box.low.x(), box.high.y());
            out += "<figure><svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + w +
                   "mm\" height=\"" + h + "mm\" viewBox=\"0 0 " + w + " " + h + "\">" +
                   template_thumbnail(piece, plan, at, scale, "p" + piece.piece.id) + "</svg>" +
                   tag("figcaption", tag("b", piece.piece.id) + " " + escaped(ply.fabric) + ", " +
                                         strain_text(piece.piece)) +
                   "</figure>\n";
        }
    }
    return out + "</div>\n";
}

std::string rolls(const Plan& plan) {
    std::string out;
    for (const Roll& roll : plan.rolls) {
        const std::string picture = roll_picture(plan, roll);
        if (picture.empty()) continue;
        out +=
            "<figure>" + picture +
            tag("figcaption", tag("b", escaped(roll.fabric)) + ": " + length(plan, roll.length_mm) +
                                  " of a roll " + length(plan, roll.width_mm) + " wide, " +
                                  fixed(100.0 * roll.used_fraction, 0) + " % used") +
            "</figure>\n";
    }
    return out.empty()
               ? out
               : tag("h2", "Cutting from the roll") + "<div class=\"rolls\">\n" + out + "</div>\n";
}

std::string caution_list(const Plan& plan) {
    std::string out = tag("h2", "Cautions, the gravest first") + "<ol class=\"cautions\">\n";
    for (const Caution& caution : cautions(plan.job))
        out += tag("li", tag("b", escaped(caution.heading)) + " " + escaped(caution.words)) + "\n";
    return out + "</ol>\n";
}

std::string records() {
    std::string out =
        tag("h2", "Record while you work") +
        "<table><thead><tr><th class=\"left\">Stage</th><th class=\"left\">Temperature</th>"
        "<th class=\"left\">Resin lot</th><th class=\"left\">Hardener lot, amount</th>"
        "<th class=\"left\">Start</th><th class=\"left\">Gel</th><th class=\"left\">Barcol after "
        "cure</th></tr></thead><tbody>\n";
    for (int i = 0; i < 4; ++i) {
        out += "<tr>";
        for (int k = 0; k < 7; ++k) out += "<td class=\"left\">&#160;</td>";
        out += "</tr>\n";
    }
    return out + "</tbody></table>\n";
}

}  // namespace

std::string job_sheet(const Plan& plan) {
    std::string out =
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/>\n<meta "
        "name=\"viewport\" "
        "content=\"width=device-width, initial-scale=1\"/>\n";
    out += tag("title", "Job sheet: " + escaped(plan.job.title)) +
           tag("style", std::string(style)) + "</head>\n<body>\n";
    out += heading(plan) + warnings(plan) + first_things();
    out += tag("h2", "At a glance") +
           "<img class=\"overview\" src=\"overview.svg\" alt=\"The hull, the plies on it and the "
           "templates\"/>\n";
    out += repair(plan) + measured_part(plan) + ply_table(plan) + totals(plan) + stages(plan) +
           small_templates(plan) + rolls(plan) + polar_tables(plan);
    out += caution_list(plan) + records();
    return out + "</body></html>\n";
}

}  // namespace tearline::output

#include <algorithm>

#include "core/base/numbers.h"
#include "core/formats/svg.h"
#include "core/job_sheet/roll_picture.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/job_sheet/template_thumbnail.h"
#include "core/plane/room.h"
#include "core/quantities/cup_shares.h"
#include "core/templates/axis_words.h"
#include "core/templates/directions.h"

namespace tearline::job_sheet {

namespace {

std::string strain_text(const templates::LaidPly& ply) {
    double strain = 0.0, shear = -1.0;
    for (const templates::LaidPiece& piece : ply.pieces) {
        strain = std::max(strain, piece.piece.strain_max);
        if (piece.piece.shear_max) shear = std::max(shear, *piece.piece.shear_max);
    }
    return shear >= 0.0 ? fixed(shear, 1) + "°" : fixed(100.0 * strain, 2) + " %";
}

/// "1A, 1B · warp 30 degrees UP from the bow"
std::string pieces_text(const templates::LaidPly& ply, const templates::Directions& where) {
    std::string ids;
    for (const templates::LaidPiece& piece : ply.pieces)
        ids += (ids.empty() ? "" : ", ") + piece.piece.id;
    if (ply.kind != job::FabricKind::mat && !ply.pieces.empty())
        ids +=
            " · " + templates::axis_words(where, ply.kind, ply.pieces.front().outline.axis_degrees);
    return ids;
}

/// How far a ply's edge lies outside the damage outline; plies of a sounded dish may end inside it.
std::string edge_words(const Plan& plan, double mm) {
    return mm < 0.0 ? length(plan, -mm) + " inside" : length(plan, mm);
}

/// Widths leave room for both units on one line.
std::string plies_head() {
    struct Column {
        const char *words, *width;
        bool figure;
    };
    std::string out;
    for (const Column& column :
         {Column{"Laid", "4%", false}, Column{"Ply", "3%", false}, Column{"Cloth", "8%", false},
          Column{"Pieces", "13%", false}, Column{"Thick", "14%", true},
          Column{"Edge beyond damage", "14%", true}, Column{"To cut", "13%", true},
          Column{"Glass", "12%", true}, Column{"Resin", "12%", true},
          Column{"Stretch, shear", "7%", true}})
        out +=
            tag("th", column.words,
                "width=\"" + std::string(column.width) +
                    (column.figure ? "\" class=\"figure\" align=\"right\"" : "\" align=\"left\""));
    return tag("thead", tag("tr", out)) + "\n";
}

std::string figure(const std::string& text) {
    return cell(unbroken(text));
}

std::string ply_table(const Plan& plan) {
    std::string out = section("Plies, in the order of laying") +
                      "<table width=\"100%\" class=\"plies\">" + plies_head() + "<tbody>\n";
    const auto where = templates::directions(plan.place.frame, plan.job.hull.bow, plan.job.hull.up);
    for (const templates::LaidPly& ply : plan.plies) {
        const auto& amounts = quantities::amounts_of(plan.quantities, ply.number);
        out +=
            tag("tr",
                left(tick_box()) + left(tag("b", std::to_string(ply.number))) +
                    left(formats::escaped(ply.fabric) + (ply.cover ? " (cover)" : "")) +
                    left(pieces_text(ply, where)) + figure(thickness(plan, ply.thickness_mm)) +
                    figure(edge_words(plan, ply.edge_offset_mm)) +
                    figure(square(plan, square_metres_from_mm2(amounts.glass_area_mm2).value())) +
                    figure(mass(plan, amounts.glass_g)) + figure(mass(plan, amounts.resin_g)) +
                    figure(strain_text(ply))) +
            "\n";
    }
    const quantities::Totals& t = plan.quantities.totals;
    double resin = 0.0;
    for (const quantities::PlyAmounts& ply : plan.quantities.plies) resin += ply.resin_g;
    out += tag("tr", left("") + left("") + left(tag("b", "All")) + left("") +
                         figure(thickness(plan, t.laid_thickness_mm)) + figure("") +
                         figure(square(plan, t.glass_area_m2)) + figure(mass(plan, t.glass_g)) +
                         figure(mass(plan, resin)) + figure("")) +
           "\n";
    return out + "</tbody></table>\n" +
           tag("p",
               "Resin here is what stays in the plies; what is mixed, with prime coat, waste and "
               "what cups leave over, is " +
                   mass(plan, quantities::mixed_in_all(plan.quantities).value()) + ".",
               "class=\"quiet\"") +
           "\n";
}

/// One template as a picture of its own.
std::string picture(const templates::LaidPiece& piece, const Plan& plan, double scale) {
    const plane::Box box = plane::box_round(piece.outline.parting_region().outer);
    const Vec2 size = scale * (box.high - box.low) + Vec2(2, 2);
    const Vec2 at = Vec2(1, 1) + scale * Vec2(-box.low.x(), box.high.y());
    return formats::svg_begin(size) +
           template_thumbnail(piece, plan, at, scale, "p" + piece.piece.id) + "</svg>";
}

/// What the colours of the pictures mean.
std::string scale_bar(const Plan& plan) {
    return tag("p",
               formats::svg_begin({130, 19}) + strain_scale_bar(plan, Vec2(4, 5.5)) + "</svg>");
}

std::string small_templates(const Plan& plan) {
    constexpr std::size_t in_a_row = 5;
    constexpr double widest_on_paper = 30.0;
    double widest = 1.0;
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces) {
            const plane::Box box = plane::box_round(piece.outline.parting_region().outer);
            widest = std::max(widest, (box.high - box.low).maxCoeff());
        }
    std::string rows, cells;
    std::size_t count = 0;
    const auto end_row = [&] {
        if (cells.empty()) return;
        for (; count % in_a_row != 0; ++count)
            cells += tag("td", "", "width=\"20%\" class=\"template\"");
        rows += tag("tr", cells) + "\n";
        cells.clear();
    };
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces) {
            cells += tag("td",
                         picture(piece, plan, widest_on_paper / widest) + "<br/>" +
                             tag("b", piece.piece.id) + " " + formats::escaped(ply.fabric) +
                             (ply.cover ? ", cover" : "") + "<br/>" +
                             keep("most " + most_text(piece.piece)),
                         "width=\"20%\" align=\"center\" valign=\"bottom\" class=\"template\"");
            if (++count % in_a_row == 0) end_row();
        }
    end_row();
    return section("Templates, in the order of laying") +
           tag("p",
               "Pictures only, all to one scale: cut by the full-size files. Tear mat by hand "
               "along the outer line, cut cloth. They lie as you see the place on the hull, "
               "printed "
               "side towards you.",
               "class=\"quiet\"") +
           "\n" + scale_bar(plan) + "\n<table width=\"100%\" class=\"templates\"><tbody>\n" + rows +
           "</tbody></table>\n";
}

}  // namespace

std::string plies_page(const Plan& plan) {
    return ply_table(plan) + small_templates(plan);
}

std::string rolls(const Plan& plan, double most_height) {
    std::string out;
    for (const layout::Roll& roll : plan.rolls) {
        const std::string picture = roll_picture(plan, roll, most_height);
        if (picture.empty()) continue;
        out += tag("p", tag("b", formats::escaped(roll.fabric)) + ": " +
                            length(plan, roll.length_mm, 0) + " of a roll " +
                            length(plan, roll.width_mm, 0) + " wide, " +
                            fixed(100.0 * roll.used_fraction, 0) + " % used, " +
                            length(plan, roll.gap_mm, 0) + " between pieces<br/>" + picture) +
               "\n";
    }
    if (out.empty()) return out;
    return section("Cutting from the roll") + of_all_places(plan) + out;
}

}  // namespace tearline::job_sheet

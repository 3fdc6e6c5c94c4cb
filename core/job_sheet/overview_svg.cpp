#include "core/job_sheet/overview_svg.h"

#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/base/text_room.h"
#include "core/base/us_units.h"
#include "core/formats/svg.h"
#include "core/job/title_of.h"
#include "core/job_sheet/place_picture.h"
#include "core/job_sheet/template_thumbnail.h"
#include "core/warnings/warning.h"

namespace tearline::job_sheet {

namespace {

using plane::Box;

constexpr double page_width = 420.0, page_height = 297.0;
const Box hull_window{Vec2(12, 34), Vec2(236, 222)};
const Box inset_window{Vec2(12, 230), Vec2(124, 285)};
constexpr double pad = 34.0;  // about the footprint
const Box template_window{Vec2(248, 42), Vec2(408, 250)};

/// [mm] of a line, in bold letters of any face.
double line_width(const std::string& text, double font_size) {
    constexpr double capital_by_em = 0.72, bold = 1.1;  // of common sans serif faces
    return letters_width(text) * bold * capital_by_em * font_size;
}

/// As much of a line as a width holds, with an ellipsis where something is left out.
std::string shortened(std::string text, double font_size, double width) {
    if (line_width(text, font_size) <= width) return text;
    while (!text.empty() && line_width(text + "…", font_size) > width) {
        // A whole letter of UTF-8, not a byte of it.
        while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0) == 0x80)
            text.pop_back();
        if (!text.empty()) text.pop_back();
    }
    while (!text.empty() && text.back() == ' ') text.pop_back();
    return text + "…";
}

constexpr double least_cell = 34.0;  // [mm] wide, of a template

/// Templates to one scale, in rows that fill the window.
struct Grid {
    double scale = 1.0;
    std::vector<Vec2> places;  ///< datum of each on paper
    std::vector<Box> boxes;    ///< of each on paper
};

Grid lay_out(const std::vector<const templates::LaidPiece*>& pieces, const Box& window) {
    constexpr double gap = 4.0, caption = 10.0;
    const double width = window.high.x() - window.low.x(),
                 height = window.high.y() - window.low.y();
    Grid grid;
    for (double scale = 0.6; scale > 0.01; scale *= 0.94) {
        grid = {scale, {}, {}};
        double x = 0.0, y = 0.0, tallest = 0.0;
        bool fits = true;
        for (const templates::LaidPiece* piece : pieces) {
            const Box box = plane::box_round(piece->outline.parting_region().outer);
            const Vec2 size = scale * (box.high - box.low);
            if (x > 0.0 && x + std::max(size.x(), least_cell) > width)
                x = 0.0, y += tallest + gap + caption, tallest = 0.0;
            const double wide = std::max(size.x(), least_cell);
            fits = fits && wide <= width;
            const Vec2 low = window.low + Vec2(x + 0.5 * (wide - size.x()), y);
            grid.places.push_back(low + Vec2(-scale * box.low.x(), scale * box.high.y()));
            grid.boxes.push_back({low, low + size});
            x += wide + gap;
            tallest = std::max(tallest, size.y());
        }
        if (fits && y + tallest + caption <= height) return grid;
    }
    return grid;
}

std::string template_panel(const Plan& plan) {
    std::vector<const templates::LaidPiece*> pieces;
    std::vector<const templates::LaidPly*> owners;
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            pieces.push_back(&piece), owners.push_back(&ply);
    const Grid grid = lay_out(pieces, template_window);
    std::string out = "<g id=\"templates\">\n";
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        out += template_thumbnail(*pieces[i], plan, grid.places[i], grid.scale,
                                  "t" + pieces[i]->piece.id);
        const Vec2 below(0.5 * (grid.boxes[i].low.x() + grid.boxes[i].high.x()),
                         grid.boxes[i].high.y() + 4.4);
        out += formats::svg_text(below, pieces[i]->piece.id, {4.2, "middle", "#12405d", true});
        constexpr double letter = 3.0, widest = 46.0;  // [mm]
        const std::string after =
            (owners[i]->cover ? ", cover · " : " · ") + most_text(pieces[i]->piece);
        const std::string cloth =
            shortened(owners[i]->fabric, letter, widest - line_width(after, letter));
        out +=
            formats::svg_text(below + Vec2(0, 3.6), cloth + after, {letter, "middle", "#44525c"});
    }
    return out + "</g>\n";
}

std::string area_text(const Plan& plan, double m2) {
    return plan.job.display_units == Units::metric
               ? fixed(m2, 2) + " m²"
               : fixed(us::square_feet(SquareMetres(m2)), 1) + " ft²";
}

std::string mass_text(const Plan& plan, double grams, int decimals) {
    return plan.job.display_units == Units::metric ? fixed(grams, decimals) + " g"
                                                   : us::mass_text(Grams(grams));
}

/// What a repair takes.
std::string plies_in(const Plan& plan, const std::string& in_pieces) {
    const quantities::Totals& t = plan.quantities.totals;
    std::string line =
        std::to_string(plan.plies.size()) + (plan.plies.size() == 1 ? " ply in " : " plies in ") +
        in_pieces + "  ·  glass " + area_text(plan, t.glass_area_m2) + ", " +
        mass_text(plan, t.glass_g, 0) + "  ·  resin " + mass_text(plan, t.resin_g, 0);
    if (t.hardener_g) line += "  ·  hardener " + mass_text(plan, *t.hardener_g, 1);
    return line;
}

/// What is laid flat where there is no repair.
std::string laid_flat(const Plan& plan) {
    constexpr double mm2_per_m2 = 1e6;
    double area = 0.0;
    for (const templates::LaidPly& ply : plan.plies) area += ply.surface_area_mm2;
    const std::string what =
        plan.flat->face ? "Face " + std::to_string(*plan.flat->face) : "Laid flat";
    return what + ", " + area_text(plan, area / mm2_per_m2) + " on the model,";
}

std::string title_words(const Plan& plan) {
    const std::string title = job::title_of(plan.job);
    std::size_t pieces = 0;
    for (const templates::LaidPly& ply : plan.plies) pieces += ply.pieces.size();
    const std::string in_pieces = std::to_string(pieces) + (pieces == 1 ? " piece" : " pieces");
    const std::string line =
        plan.flat ? laid_flat(plan) + " in " + in_pieces : plies_in(plan, in_pieces);
    // The title left and the model's name right, on one line; a long title in smaller letters.
    constexpr double left = 12.0, right = 408.0, gap = 8.0, small = 4.0;  // [mm]
    constexpr double usual = 9.0, least = 6.5;                            // [mm]
    const std::string model =
        shortened(plan.job.hull.model.filename().string(), small, 0.3 * (right - left));
    const double room = right - left - gap - line_width(model, small);
    const double size = line_width(title, usual) <= room ? usual : least;
    std::string out = formats::svg_text(Vec2(left, 18), shortened(title, size, room),
                                        {size, "start", "#12303f", true});
    out += formats::svg_text(Vec2(12, 27), line, {4.6, "start", "#44525c"});
    out += formats::svg_text(Vec2(right, 18), model, {small, "end", "#44525c"});
    if (!plan.warnings.empty())
        out += formats::svg_text(Vec2(408, 27),
                                 "Warnings: " + counted_by_rank(plan.warnings) +
                                     (plan.flat ? " (plan.json)" : " (job sheet)"),
                                 {4.2, "end", rank_colour(highest_rank(plan.warnings)), true});
    return out;
}

}  // namespace

std::string overview_svg(const Plan& plan) {
    std::string out = formats::svg_file_begin({page_width, page_height}, plan.job.title);
    // Of a repair of several parts the last one laid is what is seen.
    const Plan& seen = plan.parts.empty() ? plan : plan.parts.back();
    out += title_words(plan) + hull_close_up(seen, hull_window, pad) + whole_hull(seen, inset_window);
    out += picture_legend(seen, Vec2(136, 236));
    out += formats::svg_text(Vec2(248, 38), "Templates, all to one scale (not for cutting)",
                             {4.0, "start", "#44525c"});
    out += template_panel(plan) + strain_scale_bar(plan, Vec2(248, 268));
    return out + "</svg>\n";
}

}  // namespace tearline::job_sheet

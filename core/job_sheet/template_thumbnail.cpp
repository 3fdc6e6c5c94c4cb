#include "core/job_sheet/template_thumbnail.h"

#include <cmath>
#include <functional>

#include "core/base/numbers.h"
#include "core/drawing/draw_parts.h"
#include "core/formats/svg.h"
#include "core/job_sheet/cloth_lines.h"
#include "core/job_sheet/colour_scale.h"
#include "core/job_sheet/strain_cells.h"
#include "core/pieces/seam_runs.h"

namespace tearline::job_sheet {

namespace {

std::string words(const Vec2& at, const std::string& text, double size, const char* anchor) {
    return "<text x=\"" + formats::svg_number(at.x()) + "\" y=\"" + formats::svg_number(at.y()) +
           "\" font-size=\"" + formats::svg_number(size) + "\" text-anchor=\"" + anchor +
           "\" fill=\"#1c2730\">" + formats::escaped(text) + "</text>\n";
}

using OnPaper = std::function<Vec2(const Vec2&)>;

std::string yarns_on_template(const templates::LaidPiece& piece, const Plan& plan,
                              const OnPaper& paper) {
    if (piece.piece.shear_degrees.empty()) return {};
    job::FabricKind kind = job::FabricKind::woven;
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& other : ply.pieces)
            if (&other == &piece) kind = ply.kind;
    std::string path;
    for (const auto& yarn : yarns_flat(piece.piece, kind, yarn_spacing))
        path += formats::svg_path({paper(yarn[0]), paper(yarn[1])}, false);
    return "<path class=\"yarns\" fill=\"none\" stroke=\"#12303f\" stroke-width=\"0.1\" "
           "stroke-opacity=\"0.6\" d=\"" +
           path + "\"/>\n";
}

std::string cuts_folds_and_seams(const templates::LaidPiece& piece, const OnPaper& paper) {
    std::string out;
    const auto add = [&](const std::vector<Vec2>& line, const char* style) {
        std::vector<Vec2> points;
        for (const Vec2& p : line) points.push_back(paper(p));
        out += std::string("<path fill=\"none\" ") + style + " d=\"" +
               formats::svg_path(points, false) + "\"/>\n";
    };
    for (const auto& run : pieces::seam_runs(piece.piece)) {
        std::vector<Vec2> line;
        for (const std::int32_t v : run)
            line.push_back(piece.piece.flat[static_cast<std::size_t>(v)]);
        add(line, "class=\"seam\" stroke=\"#b57700\" stroke-width=\"0.5\"");
    }
    for (const templates::Mark& mark : piece.outline.marks)
        if (const auto* fold = std::get_if<templates::Fold>(&mark))
            add(fold->line,
                "class=\"fold\" stroke=\"#1c2730\" stroke-width=\"0.35\" "
                "stroke-dasharray=\"1.6 0.8\"");
    for (const templates::ReliefCut& cut : piece.outline.relief_cuts)
        add(cut.points, "class=\"relief-cut\" stroke=\"#a3250b\" stroke-width=\"0.4\"");
    return out;
}

/// What the top of the paper points to: up on the hull, the bow on a bottom or deck.
std::string top_arrow(const templates::LaidPiece& piece, const Plan& plan, const OnPaper& paper) {
    using To = templates::Arrow::To;
    const To top = plan.place.frame.y_is_up ? To::up : To::bow;
    for (const templates::Mark& mark : piece.outline.marks) {
        const auto* arrow = std::get_if<templates::Arrow>(&mark);
        if (!arrow || arrow->to != top) continue;
        constexpr double length = 5.0, head = 1.2, letter = 2.2;  // on paper
        const Vec2 tail = paper(arrow->tail);
        const Vec2 way = (paper(arrow->tip) - tail).normalized();
        const Vec2 side(-way.y(), way.x()), tip = tail + length * way;
        const Vec2 word = tip + 1.8 * way + Vec2(0, 0.35 * letter);
        return "<path class=\"top\" fill=\"none\" stroke=\"#1c2730\" stroke-width=\"0.3\" d=\"" +
               formats::svg_path({tail, tip}, false) +
               formats::svg_path({tip - head * way + 0.5 * head * side, tip,
                                  tip - head * way - 0.5 * head * side},
                                 false) +
               "\"/>\n" + words(word, top == To::up ? "UP" : "BOW", letter, "middle");
    }
    return {};
}

/// A ring with a dot where the piece strains or shears the most, dark in light to show on any
/// shade.
std::string worst_mark(const templates::LaidPiece& piece, const OnPaper& paper) {
    const auto worst = pieces::worst_place(piece.piece);
    if (!worst) return {};
    const Vec2 at = paper(worst->flat);
    const auto ring = [&](double radius, const char* style) {
        return "<circle cx=\"" + formats::svg_number(at.x()) + "\" cy=\"" +
               formats::svg_number(at.y()) + "\" r=\"" + formats::svg_number(radius) + "\" " +
               style + "/>\n";
    };
    return "<g class=\"most\">" + ring(1.1, "fill=\"none\" stroke=\"#fff\" stroke-width=\"0.7\"") +
           ring(1.1, "fill=\"none\" stroke=\"#1c2730\" stroke-width=\"0.25\"") + "</g>\n";
}

/// A rule below the scale: what a share of it stands for.
std::string scale_tick(const Plan& plan, const Vec2& at, double share, bool mat, bool cloth) {
    const StrainScale tops = strain_scale(plan);
    const char* anchor = share == 0.0 ? "start" : share == 1.0 ? "end" : "middle";
    std::string out = "<path fill=\"none\" stroke=\"#1c2730\" stroke-width=\"0.2\" d=\"" +
                      formats::svg_path({at + Vec2(0, 4), at + Vec2(0, 5)}, false) + "\"/>\n";
    if (mat)
        out += words(at + Vec2(0, 8.2),
                     shortest(std::round(share * tops.strain_top * 1e5) / 1e3) + " %", 3.0, anchor);
    if (cloth)
        out += words(at + Vec2(0, mat ? 12.0 : 8.2),
                     shortest(std::round(share * tops.shear_top * 100) / 100) + "°", 3.0, anchor);
    return out;
}

}  // namespace

std::string most_text(const pieces::Piece& piece) {
    return piece.shear_max ? fixed(*piece.shear_max, 1) + "°"
                           : fixed(100.0 * piece.strain_max, 2) + " %";
}

std::string strain_scale_bar(const Plan& plan, const Vec2& at) {
    bool mat = false, cloth = false;
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            (piece.piece.shear_degrees.empty() ? mat : cloth) = true;
    std::string out = "<g id=\"strain-scale\">\n";
    constexpr int steps = 40;
    constexpr double width = 80.0;
    for (int i = 0; i < steps; ++i)
        out += "<rect x=\"" + formats::svg_number(at.x() + width * i / steps) + "\" y=\"" +
               formats::svg_number(at.y()) + "\" width=\"" +
               formats::svg_number(width / steps + 0.1) + "\" height=\"4\" fill=\"" +
               strain_colour(double(i) / (steps - 1)) + "\"/>\n";
    for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0})
        out += scale_tick(plan, at + Vec2(share * width, 0), share, mat, cloth);
    std::string title = mat && cloth ? "Mat stretches (%), cloth shears (°)"
                        : mat        ? "What the mat must stretch"
                                     : "What the cloth must shear";
    return out + words(at + Vec2(0, -1.8), title + "; a ring where it is most", 3.4, "start") +
           "</g>\n";
}

std::string template_thumbnail(const templates::LaidPiece& piece, const Plan& plan, const Vec2& at,
                               double scale, const std::string& id) {
    const auto path = [&](const Region2& region) {
        const auto loop_path = [&](const Loop2& loop) {
            std::vector<Vec2> points;
            for (const Vec2& p : loop)
                points.emplace_back(std::round((at.x() + scale * p.x()) * 100) / 100,
                                    std::round((at.y() - scale * p.y()) * 100) / 100);
            return formats::svg_path(points, true);
        };
        std::string out = loop_path(region.outer);
        for (const Loop2& hole : region.holes) out += loop_path(hole);
        return out;
    };
    const auto paper = [&](const Vec2& p) {
        return Vec2(std::round((at.x() + scale * p.x()) * 100) / 100,
                    std::round((at.y() - scale * p.y()) * 100) / 100);
    };
    const std::string net = path(piece.outline.net);
    std::string out = "<g id=\"" + id + "\"><clipPath id=\"" + id +
                      "-net\"><path clip-rule=\"evenodd\" d=\"" + net +
                      "\"/></clipPath>\n<path fill=\"#fff\" fill-rule=\"evenodd\" "
                      "stroke=\"#1c2730\" stroke-width=\"0.4\" d=\"" +
                      path(piece.outline.parting_region()) + "\"/>\n<g clip-path=\"url(#" + id +
                      "-net)\">\n" + strain_cells(piece.piece, strain_scale(plan), at, scale) +
                      yarns_on_template(piece, plan, paper) +
                      "</g>\n<path fill=\"none\" stroke=\"#1c2730\" stroke-width=\"0.2\" d=\"" +
                      net + "\"/>\n";
    drawing::Drawing marks;
    for (const templates::Mark& mark : piece.outline.marks)
        if (std::holds_alternative<templates::Datum>(mark) ||
            std::holds_alternative<templates::Tick>(mark))
            drawing::add_mark(marks, mark);
    for (drawing::Drawing::Line& line : marks.lines) {
        for (Vec2& p : line.points) p = at + scale * Vec2(p.x(), -p.y());
        out += "<path fill=\"none\" stroke=\"#1c2730\" stroke-width=\"0.35\" d=\"" +
               formats::svg_path(line.points, false) + "\"/>\n";
    }
    return out + cuts_folds_and_seams(piece, paper) + top_arrow(piece, plan, paper) +
           worst_mark(piece, paper) + "</g>\n";
}

}  // namespace tearline::job_sheet

#include "core/job_sheet/polar_sheet.h"

#include <algorithm>
#include <vector>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sheet_words.h"
#include "core/job_sheet/sheet_words.h"
#include "core/plane/polar_table.h"
#include "core/templates/directions.h"

namespace tearline::job_sheet {

namespace {

/// More do not fit on a sheet of paper.
constexpr std::size_t pieces_across = 8;

/// One piece's rows: full ply, and the edge to tear or cut where that is another line.
struct Column {
    std::string id, heading;
    std::vector<plane::PolarRow> net, outer;
    bool two = false;
};

Column column(const templates::LaidPiece& piece) {
    const templates::Template& outline = piece.outline;
    const Vec2 pole = templates::datum_of(outline.marks).value_or(Vec2(0, 0));
    Column made;
    made.id = piece.piece.id;
    made.two = outline.tear || outline.cut;
    made.heading = made.id + (outline.tear  ? "<br/>net / tear"
                              : outline.cut ? "<br/>net / cut"
                                            : "<br/>net");
    made.net = plane::polar_table(outline.net, pole);
    if (made.two) made.outer = plane::polar_table(outline.parting_region(), pole);
    return made;
}

std::string radii(const plane::PolarRow& row, Units units) {
    std::string out;
    for (const double radius : row.radii_mm)
        out += (out.empty() ? "" : ", ") + length_figure(radius, 1, units);
    return out.empty() ? "-" : out;
}

std::vector<plane::PolarRow> steps(std::vector<plane::PolarRow> rows) {
    std::erase_if(rows, [](const plane::PolarRow& row) { return row.corner; });
    return rows;
}

std::string corners(const std::vector<plane::PolarRow>& rows, const std::string& name,
                    Units units) {
    std::string out;
    for (const plane::PolarRow& row : rows)
        if (row.corner)
            out += (out.empty() ? name + " " : "; ") + fixed(row.angle_degrees, 1) +
                   "\u00b0: " + radii(row, units);
    return out;
}

std::string table(const std::vector<Column>& columns, Units units) {
    std::string out = "<table class=\"polar\"><thead><tr><th>Angle</th>";
    for (const Column& each : columns) out += "<th>" + each.heading + "</th>";
    out += "</tr></thead><tbody>\n";
    std::vector<std::vector<plane::PolarRow>> net, outer;
    for (const Column& each : columns) {
        net.push_back(steps(each.net));
        outer.push_back(steps(each.outer));
    }
    const char* between = units == Units::metric ? " / " : " | ";  // fractions have strokes
    for (std::size_t k = 0; k < net.front().size(); ++k) {
        out += "<tr><td>" + fixed(net.front()[k].angle_degrees, 0) + "\u00b0</td>";
        for (std::size_t i = 0; i < columns.size(); ++i)
            out += "<td>" + radii(net[i][k], units) +
                   (columns[i].two ? between + radii(outer[i][k], units) : "") + "</td>";
        out += "</tr>\n";
    }
    out += "</tbody></table>\n";
    std::string all;
    for (const Column& each : columns)
        for (const std::string& words : {corners(each.net, each.id + " net", units),
                                         corners(each.outer, each.id + " edge", units)})
            if (!words.empty()) all += (all.empty() ? "" : " \u00b7 ") + words;
    return all.empty() ? out : out + "<p class=\"corners\">Corners of " + all + "</p>\n";
}

}  // namespace

std::string polar_tables(const Plan& plan) {
    std::vector<Column> columns;
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            if (!piece.outline.net.outer.empty()) columns.push_back(column(piece));
    if (columns.empty()) return {};
    std::string out =
        section("Templates without a printer") +
        "<p>Draw a cross on card for the datum, one arm level. From its right arm, angles run "
        "counter-clockwise, seen from the side the glass is laid from: " +
        quarter_words(
            templates::directions(plan.place.frame, plan.job.hull.bow, plan.job.hull.up).ends) +
        ". Distances in " + std::string(plan.job.display_units == Units::metric ? "mm" : "inches") +
        " lie flat on the card. Mark every point, corners too, and join them with a bent "
        "batten.</p>\n";
    for (std::size_t first = 0; first < columns.size(); first += pieces_across) {
        const auto last = std::min(first + pieces_across, columns.size());
        out += table({columns.begin() + static_cast<std::ptrdiff_t>(first),
                      columns.begin() + static_cast<std::ptrdiff_t>(last)},
                     plan.job.display_units);
    }
    return out;
}

}  // namespace tearline::job_sheet

#include "core/variants/variants_page.h"

#include <algorithm>

#include "core/formats/svg.h"
#include "core/job_sheet/sheet_words.h"
#include "core/plane/box.h"
#include "core/variants/columns.h"

namespace tearline::variants {

using formats::escaped;
using job_sheet::cell;
using job_sheet::left;
using job_sheet::tag;

namespace {

constexpr std::string_view style = R"(
body { font: 10pt/1.35 Helvetica, Arial, "DejaVu Sans", sans-serif; color: #1c2730; margin: 8mm; }
h1, p, dd { overflow-wrap: anywhere; }
h1 { font-size: 18pt; margin: 0 0 2mm; color: #12303f; }
h2 { font-size: 12pt; margin: 6mm 0 2mm; color: #12303f; }
p { max-width: 220mm; margin: 1.5mm 0; }
.caution { border-left: 2.4mm solid #a3250b; background: #fdf1ee; padding: 1.5mm 3mm; }
table { border-collapse: collapse; font-size: 9.5pt; font-variant-numeric: tabular-nums; }
th, td { padding: 1mm 2.2mm; text-align: left; border-bottom: 0.2mm solid #ccd5da; vertical-align: middle; }
th { font-size: 8.5pt; color: #44525c; vertical-align: bottom; position: sticky; top: 0; background: #fff; }
td:first-child, td.figure { white-space: nowrap; }
.figure { text-align: right; }
.value { min-width: 24mm; overflow-wrap: anywhere; }
.best { background: #dcefe0; font-weight: bold; }
.held td { color: #55636c; }
.why { font-size: 8.5pt; min-width: 30mm; max-width: 60mm; overflow-wrap: anywhere; }
.held .why, .refused .why { color: #a3250b; }
dt { font-weight: bold; margin-top: 2mm; }
dd { margin: 0.6mm 0 0.6mm 5mm; max-width: 210mm; }
@page { size: A4 landscape; margin: 8mm; }
@media print { body { margin: 0; } th { position: static; } tr { break-inside: avoid; } h2 { break-after: avoid; }
table { font-size: 7.6pt; } th, .why { font-size: 7pt; } th, td { padding: 0.6mm 1.1mm; } td svg { width: 18mm; height: auto; } }
)";

constexpr double picture_width = 30.0;  // [mm]

/// What every picture shows, so that all are to one scale.
plane::Box box_of(const Variants& variants) {
    std::vector<Vec2> points;
    for (const Variant& variant : variants.all)
        for (const Ring& ring : variant.rings)
            for (const Loop2& loop : ring.loops)
                points.insert(points.end(), loop.begin(), loop.end());
    plane::Box box = plane::box_round(points);
    const Vec2 pad = 0.03 * (box.high - box.low) + Vec2(1, 1);
    return {box.low - pad, box.high + pad};
}

std::string ring_path(const Ring& ring, const plane::Box& box, double scale) {
    std::string path;
    for (const Loop2& loop : ring.loops) {
        std::vector<Vec2> points;
        for (const Vec2& p : loop)
            points.emplace_back(scale * (p.x() - box.low.x()), scale * (box.high.y() - p.y()));
        path += formats::svg_path(points, true);
    }
    const char* look = ring.ply == 0  ? "fill=\"#c9d3d9\" stroke=\"#1c2730\" stroke-width=\"0.3\""
                       : ring.ply < 0 ? "fill=\"none\" stroke=\"#a3250b\" stroke-width=\"0.3\" "
                                        "stroke-dasharray=\"1 0.7\""
                                      : "fill=\"none\" stroke=\"#185c86\" stroke-width=\"0.2\"";
    return std::string("<path fill-rule=\"evenodd\" ") + look + " d=\"" + path + "\"/>";
}

std::string picture(const Variant& variant, const plane::Box& box) {
    if (variant.rings.empty()) return {};
    const Vec2 size = box.high - box.low;
    const double scale = picture_width / std::max(size.x(), size.y());
    const std::string width = formats::svg_number(scale * size.x()),
                      height = formats::svg_number(scale * size.y());
    std::string out = "<svg width=\"" + width + "mm\" height=\"" + height + "mm\" viewBox=\"0 0 " +
                      width + " " + height + "\">";
    for (const Ring& ring : variant.rings) out += ring_path(ring, box, scale);
    return out + "</svg>";
}

std::string marked(const std::string& words, bool best) {
    return best ? tag("td", words + " *", "class=\"figure best\"") : cell(words);
}

/// A key may break behind its table: words that could break anywhere would, one letter a line.
std::string head_of_key(const std::string& key) {
    std::string out = "<" + escaped(key);
    for (auto at = out.find('.'); at != std::string::npos; at = out.find('.', at + 1))
        out.insert(at + 1, "<wbr/>");
    return out;
}

std::string row_of(const Variants& variants, std::size_t index, const std::vector<Column>& columns,
                   const plane::Box& box) {
    const Variant& variant = variants.all[index];
    std::string row = left(std::to_string(index + 1)) + left(picture(variant, box));
    for (const std::string& value : variant.values)
        row += tag("td", escaped(value), "class=\"value\"");
    if (!variant.status.is_done()) {
        row += tag("td", "not planned: " + escaped(variant.message),
                   "class=\"why\" colspan=\"" + std::to_string(columns.size() + 2) + "\"");
        return tag("tr", row, "class=\"refused\"") + "\n";
    }
    for (const Column& column : columns) {
        const std::string figure = shown(variant, column);
        row += marked(figure.empty() ? "–" : figure, is_best(variants, variant, column));
    }
    row += marked(shown_warnings(variant), has_fewest_warnings(variants, variant));
    const std::string why = variant.not_marked_because();
    row += tag("td", escaped(why), "class=\"why\"");
    return tag("tr", row, why.empty() ? "" : "class=\"held\"") + "\n";
}

std::string table(const Variants& variants) {
    const std::vector<Column> columns = columns_of(variants);
    const plane::Box box = box_of(variants);
    std::vector<std::string> head{"<", "<Rings"};
    for (const std::string& key : variants.keys) head.push_back(head_of_key(key));
    for (const Column& column : columns) head.push_back(escaped(column.title));
    head.emplace_back("stop / do / know");
    head.emplace_back("<Not marked because");
    std::string out = "<table>" + job_sheet::head(head) + "<tbody>\n";
    for (std::size_t i = 0; i < variants.all.size(); ++i) out += row_of(variants, i, columns, box);
    return out + "</tbody></table>\n";
}

/// What is to be decided before a variant could be begun: sentences that several share once.
std::string to_decide(const Variants& variants) {
    std::vector<std::pair<std::string, std::string>> told;  // sentence, variants
    for (std::size_t i = 0; i < variants.all.size(); ++i)
        for (const Caution& warning : variants.all[i].warnings) {
            if (warning.rank != WarningRank::stop) continue;
            const auto same = std::find_if(told.begin(), told.end(), [&](const auto& other) {
                return other.first == warning.message;
            });
            const std::string number = std::to_string(i + 1);
            if (same == told.end())
                told.emplace_back(warning.message, number);
            else
                same->second += ", " + number;
        }
    if (told.empty()) return {};
    std::string out = tag("h2", "Stop and decide") + "<dl>\n";
    for (const auto& [message, numbers] : told)
        out += tag("dt", "Variant " + numbers) + tag("dd", escaped(message)) + "\n";
    return out + "</dl>\n";
}

}  // namespace

std::string variants_page(const Variants& variants) {
    const std::string title =
        "What if" + (variants.title.empty() ? "" : ": " + escaped(variants.title));
    std::string out =
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/>\n<meta "
        "name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n" +
        tag("title", title) + tag("style", std::string(style)) + "</head>\n<body>\n";
    out += tag("h1", title) + tag("p", caution_words(), "class=\"caution\"") + "\n";
    out += tag("p", mark_words()) + "\n";
    out += tag("p",
               "Rings, all to one scale: the damage grey, the plies blue, the edge of the scarf "
               "red and dashed. Work: hours from tearing to the last coat, without waits. Cost: "
               "for all copies, cans whole.") +
           "\n";
    return out + table(variants) + to_decide(variants) + "</body></html>\n";
}

}  // namespace tearline::variants

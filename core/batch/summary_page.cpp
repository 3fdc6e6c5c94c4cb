#include "core/batch/summary_page.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/base/numbers.h"
#include "core/batch/histogram.h"
#include "core/formats/svg.h"
#include "core/job_sheet/sheet_words.h"

namespace tearline::batch {

using job_sheet::cell;
using job_sheet::left;
using job_sheet::tag;

namespace {

constexpr std::size_t most_rows = 2000;  // a browser still scrolls; summary.csv has all

constexpr std::string_view style = R"(
body { font: 10pt/1.35 Helvetica, Arial, "DejaVu Sans", sans-serif; color: #1c2730; margin: 8mm; overflow-wrap: anywhere; }
h1 { font-size: 18pt; margin: 0 0 2mm; color: #12303f; }
h2 { font-size: 12pt; margin: 6mm 0 2mm; color: #12303f; }
p { max-width: 190mm; margin: 1.5mm 0; }
.caution { border-left: 2.4mm solid #a3250b; background: #fdf1ee; padding: 1.5mm 3mm; }
.pictures { display: flex; flex-wrap: wrap; gap: 4mm; }
table { border-collapse: collapse; font-size: 9pt; font-variant-numeric: tabular-nums; }
th, td { padding: 0.8mm 2mm; text-align: left; border-bottom: 0.2mm solid #ccd5da; vertical-align: top; }
th { font-size: 8.5pt; color: #44525c; position: sticky; top: 0; background: #fff; }
.figure { text-align: right; }
.failed td:nth-child(2), .refused td:nth-child(2) { color: #a3250b; font-weight: bold; }
.decide td:nth-child(2) { color: #a3250b; }
)";

/// What a result asks of its reader, the most pressing first.
enum class Kind { failed, refused, to_decide, done };

Kind kind_of(const ResultRow& row) {
    if (!row.status.is_final()) return Kind::failed;
    if (!row.status.is_done()) return Kind::refused;
    return row.to_decide.empty() ? Kind::done : Kind::to_decide;
}

std::array<std::size_t, 4> counts_of(const ResultRows& results) {
    std::array<std::size_t, 4> counts{};
    for (const ResultRow& row : results.rows) ++counts[static_cast<std::size_t>(kind_of(row))];
    return counts;
}

std::string status_words(const ResultRow& row) {
    switch (kind_of(row)) {
        case Kind::failed: {
            std::string status = row.status.json();
            std::erase(status, '"');
            return "failed (" + status + ")";
        }
        case Kind::refused:
            return row.status.exit == 3 ? "refused: bad input (3)" : "refused: no safe answer (4)";
        case Kind::to_decide:
            return "stop and decide";
        case Kind::done:
            return "done";
    }
    return {};
}

const char* class_of(Kind kind) {
    constexpr const char* names[] = {"failed", "refused", "decide", "done"};
    return names[static_cast<std::size_t>(kind)];
}

std::string figure(const ResultRow& row, const char* name, double factor, int decimals) {
    const auto value = row.figure(name);
    return cell(value ? fixed(factor * *value, decimals) : "");
}

std::string told(const ResultRow& row) {
    std::string text = formats::escaped(row.message);
    for (const std::string& code : row.to_decide)
        text += (text.empty() ? "" : ", ") + formats::escaped(code);
    return text;
}

/// The name, leading to the job sheet where there is one. A folder is named by letters that a link
/// may need told apart, so each byte but the plainest is written as %XX.
std::string job_cell(const ResultRow& row) {
    const std::string name = formats::escaped(row.job);
    if (row.folder.empty()) return left(name);
    constexpr const char* digits = "0123456789ABCDEF";
    std::string link;
    for (const char c : row.folder + "/job-sheet.html") {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x80 && (std::isalnum(byte) != 0 || c == '/' || c == '-' || c == '.'))
            link += c;
        else
            link += std::string("%") + digits[byte >> 4u] + digits[byte & 15u];
    }
    return left(tag("a", name, "href=\"" + link + "\""));
}

std::string table_row(const ResultRow& row) {
    return tag("tr",
               job_cell(row) + left(status_words(row)) + figure(row, "ground_area_m2", 1.0, 3) +
                   figure(row, "glass_g", 1.0, 0) + figure(row, "resin_g", 1.0, 0) +
                   figure(row, "laid_thickness_mm", 1.0, 1) + figure(row, "strain_max", 100.0, 2) +
                   figure(row, "shear_max", 1.0, 1) + figure(row, "seconds", 1.0, 2) +
                   figure(row, "peak_MB", 1.0, 0) + left(told(row)),
               std::string("class=\"") + class_of(kind_of(row)) + "\"") +
           "\n";
}

std::string table(const ResultRows& results) {
    std::vector<const ResultRow*> rows;
    for (const ResultRow& row : results.rows) rows.push_back(&row);
    std::stable_sort(rows.begin(), rows.end(), [](const ResultRow* a, const ResultRow* b) {
        return kind_of(*a) < kind_of(*b);
    });
    std::string out;
    if (rows.size() > most_rows) {
        out += tag("p", "The first " + std::to_string(most_rows) + " of " +
                            std::to_string(rows.size()) + "; all of them are in summary.csv.");
        rows.resize(most_rows);
    }
    out += "<table>" + job_sheet::head({"<Job", "<How it ended", "Ground, m²", "Glass, g",
                                        "Resin, g", "Laid, mm", "Strain, %", "Shear, °", "Time, s",
                                        "Memory, MB", "<What is told"});
    out += "<tbody>\n";
    for (const ResultRow* row : rows) out += table_row(*row);
    return out + "</tbody></table>\n";
}

/// One figure of all jobs that are done: those with something to decide in red.
std::string spread(const ResultRows& results, const char* name, double factor, const char* title) {
    std::vector<double> calm, to_decide;
    for (const ResultRow& row : results.rows)
        if (const auto value = row.figure(name); value && row.status.is_done())
            (kind_of(row) == Kind::done ? calm : to_decide).push_back(factor * *value);
    return histogram({title, calm, to_decide});
}

}  // namespace

std::string summary_words(const ResultRows& results) {
    const auto counts = counts_of(results);
    const auto count = [&](Kind kind) { return counts[static_cast<std::size_t>(kind)]; };
    std::string words = std::to_string(results.rows.size()) +
                        (results.rows.size() == 1 ? " job: " : " jobs: ") +
                        std::to_string(count(Kind::done) + count(Kind::to_decide)) + " done";
    if (count(Kind::to_decide) > 0)
        words += " (" + std::to_string(count(Kind::to_decide)) + " with something to decide first)";
    if (count(Kind::refused) > 0) words += ", " + std::to_string(count(Kind::refused)) + " refused";
    if (count(Kind::failed) > 0) words += ", " + std::to_string(count(Kind::failed)) + " failed";
    if (results.twice > 0)
        words += "; " + std::to_string(results.twice) +
                 (results.twice == 1 ? " more line is of a job that stands in several files"
                                     : " more lines are of jobs that stand in several files");
    return words;
}

std::string summary_page(const ResultRows& results) {
    std::string out =
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/>\n<meta "
        "name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n" +
        tag("title", "Many jobs") + tag("style", std::string(style)) + "</head>\n<body>\n";
    out += tag("h1", "Many jobs") + tag("p", summary_words(results) + ".") + "\n";
    out += tag("p",
               "An overview for planning, no work sheet: nobody cuts, mixes or lays by it. Each "
               "repair has a job sheet of its own with its cautions. What is marked stop and "
               "decide is decided before it is begun; whether a repair is strong enough is for "
               "licensed practice.",
               "class=\"caution\"") +
           "\n" +
           tag("p",
               "How many jobs have which figure, of those that are done; red: with something to "
               "stop and decide first.") +
           "\n<div class=\"pictures\">\n";
    out += spread(results, "ground_area_m2", 1.0, "Ground area, m²");
    out += spread(results, "resin_g", 1e-3, "Resin, kg");
    out += spread(results, "glass_g", 1e-3, "Glass, kg");
    out += spread(results, "strain_max", 100.0, "Greatest strain of mat, %");
    out += spread(results, "shear_max", 1.0, "Greatest shear of cloth, °");
    out += spread(results, "seconds", 1.0, "Time to plan, s");
    out += "</div>\n" + tag("h2", "Jobs, what needs a person first") + table(results);
    return out + "</body></html>\n";
}

}  // namespace tearline::batch

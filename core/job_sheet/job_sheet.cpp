#include "core/job_sheet/job_sheet.h"

#include "core/formats/svg.h"
#include "core/job_sheet/measured_part.h"
#include "core/job_sheet/polar_sheet.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"

namespace tearline::job_sheet {

namespace {

// Narrow enough for A4 between 14 mm margins, and no page is taller than Letter: either paper.
constexpr std::string_view style = R"(
@page { margin: 13mm 14mm; }
body { font: 10pt/1.35 Helvetica, Arial, "DejaVu Sans", sans-serif; color: #1c2730; max-width: 182mm; margin: 8mm auto; overflow-wrap: anywhere; padding: 0 4mm; }
h1 { font-size: 19pt; margin: 0 0 1mm; color: #12303f; }
h2 { font-size: 12pt; margin: 5mm 0 1.5mm; padding-bottom: 0.8mm; border-bottom: 0.4mm solid #185c86; color: #12303f; break-after: avoid; }
p { margin: 1.2mm 0; }
svg { max-width: 100%; vertical-align: middle; }
.quiet { color: #55636c; font-size: 9pt; }
table { border-collapse: collapse; width: 100%; font-size: 9pt; font-variant-numeric: tabular-nums; }
th, td { padding: 0.8mm 1.2mm; text-align: left; border-bottom: 0.2mm solid #ccd5da; vertical-align: middle; }
th { font-size: 8pt; color: #44525c; vertical-align: bottom; }
thead { display: table-header-group; }
.figure { text-align: right; }
tr, li, p { break-inside: avoid; }
.warning { padding: 0.8mm 2mm; margin: 0.8mm 0; }
.rank { margin: 2mm 0 0.6mm; }
.rank-stop { border-left: 2.4mm solid #a3250b; background: #fdf1ee; }
.rank-do { border-left: 1.2mm solid #a86400; background: #fdf6e8; }
.rank-know { border-left: 0.4mm solid #8fa3b0; }
.rank-stop-head b { color: #a3250b; }
.rank-do-head b { color: #a86400; }
.rank-know-head b { color: #2f5d7c; }
ul.warnings { list-style: none; padding: 0; margin: 0; font-size: 9pt; }
.first { border: 0.5mm solid #1c2730; }
.first td { border: none; }
.tick { padding-left: 7mm; text-indent: -7mm; margin: 1.6mm 0; }
ol.cautions { margin: 0; padding-left: 6mm; }
ol.cautions li { margin: 0.9mm 0; }
.templates td { text-align: center; vertical-align: bottom; border: none; }
.cups td { padding: 1mm 1.2mm; }
.stage { background: #e6eef3; }
.then { color: #12405d; border-bottom: 0.4mm solid #7f95a3; }
.records td { padding: 1.6mm 1.2mm; }
.keep { white-space: nowrap; }
.blank { color: #8a97a0; white-space: nowrap; }
.plies td { font-size: 8.2pt; }
.polar td { font-size: 7.5pt; padding: 0.35mm 0.8mm; white-space: nowrap; }
.polar th { font-size: 7pt; padding: 0.35mm 0.8mm; }
.corners { font-size: 8pt; margin: 0.5mm 0; }
@media print {
body { margin: 0 auto; padding: 0; font-size: 9.4pt; line-height: 1.27; }
table { font-size: 8.6pt; }
th, td { padding: 0.55mm 1.2mm; }
h2 { margin-top: 3.6mm; }
.tick { margin: 1.1mm 0; }
.cups td { padding: 0.7mm 1.2mm; }
.records td { padding: 1.4mm 1.2mm; }
.stand-ins td { padding: 0.15mm 1.2mm; font-size: 8.2pt; }
.picture svg { max-height: 92mm; }
}
)";

/// A part of a repair, from its picture to what it looks like when it is cured.
std::string sheet_of_part(const Plan& part, std::size_t number) {
    std::string out = part_page(part, number) + laminate_check(part);
    out += grinding(part) + plies_page(part) + dry_fit(part);
    out += stages_page(part) + laying(part) + time_plan(part) + cure(part);
    if (!part.job.part.covered) out += finish(part);
    return out + consumables_list(part) + records(part) + polar_tables(part);
}

/// What goes for all, then part by part in the order of work, the core before the skin over it.
std::string sheet_of_parts(const Plan& plan) {
    std::string out = front_page(plan) + care_page(plan) + hole_page(plan);
    out += laminate_check(plan) + measured_part(plan);
    out += preparation(plan) + mixing(plan) + rolls(plan);
    out += shopping_list(plan) + stand_ins(plan);
    for (std::size_t i = 0; i < plan.parts.size(); ++i) {
        if (i + 1 == plan.parts.size()) out += core_page(plan);
        out += sheet_of_part(plan.parts[i], i + 1);
    }
    return out + disposal(plan);
}

}  // namespace

std::string sheet_head(const std::string& title) {
    return "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/>\n<meta "
           "name=\"viewport\" "
           "content=\"width=device-width, initial-scale=1\"/>\n" +
           tag("title", "Job sheet: " + formats::escaped(title)) +
           tag("style", std::string(style)) + "</head>\n<body>\n";
}

std::string job_sheet(const Plan& plan) {
    std::string out = sheet_head(plan.job.title);
    if (!plan.parts.empty()) return out + sheet_of_parts(plan) + "</body></html>\n";
    // As the work goes.
    out += place_page(plan) + care_page(plan) + hole_page(plan) + core_page(plan);
    out += laminate_check(plan) + measured_part(plan);
    out += preparation(plan) + grinding(plan);
    out += plies_page(plan) + rolls(plan) + dry_fit(plan);
    out += mixing(plan) + stages_page(plan) + laying(plan);
    out += time_plan(plan) + cure(plan) + finish(plan);
    out += shopping_list(plan) + consumables_list(plan);
    out += disposal(plan) + records(plan) + stand_ins(plan);
    out += polar_tables(plan);
    return out + "</body></html>\n";
}

}  // namespace tearline::job_sheet

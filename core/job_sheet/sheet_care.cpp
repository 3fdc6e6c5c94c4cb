#include "core/formats/svg.h"
#include "core/job_sheet/cautions.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"

namespace tearline::job_sheet {

namespace {

std::string caution_list(const Plan& plan) {
    std::string out = section("Cautions, the gravest first") + "<ol class=\"cautions\">\n";
    for (const Caution& caution : cautions(plan.job))
        out += tag("li", tag("b", formats::escaped(caution.heading)) + " " +
                             formats::escaped(caution.words)) +
               "\n";
    return out + "</ol>\n";
}

}  // namespace

std::string care_page(const Plan& plan) {
    return caution_list(plan) + warning_list(plan);
}

}  // namespace tearline::job_sheet

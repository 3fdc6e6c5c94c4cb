#include "core/output/cautions.h"
#include "core/output/sheet_parts.h"
#include "core/output/sheet_words.h"
#include "core/output/svg.h"

namespace tearline::output::sheet {

namespace {

std::string caution_list(const Plan& plan) {
    std::string out = section("Cautions, the gravest first") + "<ol class=\"cautions\">\n";
    for (const Caution& caution : cautions(plan.job))
        out += tag("li", tag("b", escaped(caution.heading)) + " " + escaped(caution.words)) + "\n";
    return out + "</ol>\n";
}

}  // namespace

std::string care_page(const Plan& plan) {
    return caution_list(plan) + warning_list(plan);
}

}  // namespace tearline::output::sheet

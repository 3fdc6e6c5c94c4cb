#include "core/plan/part_words.h"

#include <string>

#include "core/base/length_text.h"
#include "core/job/sides.h"

namespace tearline::plan {

namespace {

std::string cured(const job::Job& job) {
    return std::string("Let it cure, no work on it before 48 h at ") +
           (job.display_units == Units::metric ? "18 °C (64 °F)" : "64 °F (18 °C)") +
           " or more, and tap it.";
}

std::string other_side(const job::Job& next) {
    const job::Units units = next.display_units;
    std::string words = " Then take the backing out and grind " + next.part.name + " to " +
                        thickness_text(next.damage.depth, 2, units) +
                        " inside the outline: by its own grind guide, ";
    words += next.scarf.grind_back > 0.0
                 ? thickness_text(next.scarf.grind_back, 2, units) +
                       " of it off the back of these plies, to clean glass everywhere."
                 : "to the back of these plies, abraded to clean glass everywhere.";
    return words + " Grind nothing there before this side has cured: it holds the hole shut.";
}

std::string core_next(const job::Job& job) {
    const bool styrene = job.resin.kind != job::ResinKind::epoxy;
    return std::string(
               " Abrade it dull and dust it off. Then the core, by its own table: sealed, "
               "bedded, faired") +
           (styrene ? ", mat against it on both faces" : "") + ". Then the next skin.";
}

}  // namespace

void tell_what_comes_between(Plan& part, const job::Job& next) {
    if (part.quantities.stages.empty()) return;
    part.quantities.stages.back().then =
        cured(next) + (next.core ? core_next(next) : other_side(next));
}

}  // namespace tearline::plan

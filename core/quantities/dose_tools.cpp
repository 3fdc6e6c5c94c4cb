#include "core/quantities/dose_tools.h"

#include <set>

#include "core/quantities/cup_shares.h"
#include "core/quantities/cups.h"
#include "core/quantities/measuring.h"

namespace tearline::quantities {

namespace {

struct Doses {
    Liquid poured, hardener;
};

void note(const job::Job& job, const Cup& cup, const Doses& doses, std::set<ToolUse>& uses) {
    for (const auto& dose : {cup.resin_by, resin_otherwise(job, cup)})
        if (dose) uses.insert({dose->tool, doses.poured});
    for (const auto& dose : {cup.hardener_by, cup.hardener_or})
        if (dose) uses.insert({dose->tool, doses.hardener});
}

}  // namespace

Grams ground_resin(const job::Resin& resin, const Totals& totals) {
    return Grams((1.0 + resin.waste) * totals.prime_g);
}

std::optional<Tool> ground_tool(const job::Resin& resin, const Quantities& quantities) {
    if (!primed_from_next(quantities)) return std::nullopt;
    if (resin.hardener_basis != job::Basis::volume) return Tool::scale;
    return tool_by_volume(ground_resin(resin, quantities.totals) / mixture_density(resin));
}

std::optional<Measured> resin_otherwise(const job::Job& job, const Cup& cup) {
    const bool by_volume = cup.resin_by && cup.resin_by->tool != Tool::scale;
    const bool pours =
        job.resin.kind == job::ResinKind::epoxy || job.display_units == job::Units::us;
    return by_volume || pours ? cup.resin_or : std::nullopt;
}

std::vector<ToolUse> dose_tools(const job::Job& job, const Quantities& quantities) {
    const Doses resin{Liquid::resin, Liquid::hardener};
    // Polyester and vinylester share their hardener with the topcoat; epoxy's is another liquid.
    const Doses topcoat{Liquid::topcoat, job.resin.kind == job::ResinKind::epoxy
                                             ? Liquid::topcoat_hardener
                                             : Liquid::hardener};
    std::set<ToolUse> uses;
    note(job, test_cup(job), resin, uses);
    for (const Stage& stage : quantities.stages) {
        for (const Cup& cup : stage.cups) note(job, cup, resin, uses);
        for (const Cup& cup : stage.gel_cups) note(job, cup, topcoat, uses);
    }
    if (const auto tool = ground_tool(job.resin, quantities))
        uses.insert({*tool, Liquid::mixed_resin});
    for (const Cup& cup : quantities.topcoat_cups) note(job, cup, topcoat, uses);
    return {uses.begin(), uses.end()};
}

const char* liquid_words(Liquid liquid) {
    switch (liquid) {
        case Liquid::resin:
            return "resin";
        case Liquid::hardener:
            return "hardener";
        case Liquid::mixed_resin:
            return "mixed resin";
        case Liquid::topcoat:
            return "topcoat";
        case Liquid::topcoat_hardener:
            return "hardener of the topcoat";
    }
    return "";
}

}  // namespace tearline::quantities

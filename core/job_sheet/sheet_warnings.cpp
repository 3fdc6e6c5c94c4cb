#include "core/base/warning_rank.h"
#include "core/formats/svg.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"

namespace tearline::job_sheet {

namespace {

/// The words with the ply or piece that they are of in front, where they do not begin with that.
std::string placed(const Plan& plan, const Warning& warning) {
    std::string where, rest = plain_words(warning, plan.job.display_units);
    if (warning.piece)
        where = "piece " + *warning.piece;
    else if (warning.ply)
        where = "ply " + std::to_string(*warning.ply);
    if (where.empty()) {
        if (!rest.empty() && rest.front() >= 'a' && rest.front() <= 'z') rest.front() += 'A' - 'a';
        return formats::escaped(rest);
    }
    if (rest.rfind(where + " ", 0) == 0) {
        rest = rest.substr(where.size());
    } else {
        rest = ": " + rest;
    }
    where.front() = 'P';
    return tag("b", formats::escaped(where)) + formats::escaped(rest);
}

/// What a rank asks for, under its heading.
std::string asked(WarningRank rank) {
    switch (rank) {
        case WarningRank::stop:
            return "Nothing is cut or mixed before each of these is decided: change the job and "
                   "plan again, or write beside it why it may stay.";
        case WarningRank::act:
            return "Each at its place in the work.";
        case WarningRank::know:
            return "Nothing is wrong here.";
    }
    return {};
}

}  // namespace

std::string warning_list(const Plan& plan) {
    if (plan.warnings.empty()) return {};
    std::string out = section("What this plan warns of");
    for (const WarningRank rank : warning_ranks) {
        std::string items;
        const std::string look = "rank-" + std::string(rank_key(rank));
        for (const Warning& warning : plan.warnings)
            if (warning_rank(warning.code) == rank)
                items += tag("li",
                             (rank == WarningRank::know ? "" : tick_box() + "&#160; ") +
                                 placed(plan, warning),
                             "class=\"warning " + look + "\"") +
                         "\n";
        if (items.empty()) continue;
        out += tag("p", tag("b", std::string(rank_words(rank)) + ".") + " " + asked(rank),
                   "class=\"rank " + look + "-head\"") +
               "\n<ul class=\"warnings\">\n" + items + "</ul>\n";
    }
    return out;
}

}  // namespace tearline::job_sheet

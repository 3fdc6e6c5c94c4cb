#include "core/formats/svg.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/warnings/warning.h"

namespace tearline::job_sheet {

namespace {

/// "ply 3" with a capital.
std::string capitalised(std::string words) {
    if (!words.empty() && words.front() >= 'a' && words.front() <= 'z') words.front() += 'A' - 'a';
    return words;
}

/// The words with the ply or piece that they are of in front.
std::string placed(const Plan& plan, const Warning& warning) {
    const Sentence words = warning.words();
    const std::string& rest = words.after_subject(plan.job.display_units);
    if (!words.subject.empty())
        return tag("b", formats::escaped(capitalised(words.subject))) + formats::escaped(rest);
    const std::string where = warning.piece ? "Piece " + *warning.piece
                              : warning.ply ? "Ply " + std::to_string(*warning.ply)
                                            : "";
    if (where.empty()) return formats::escaped(capitalised(rest));
    return tag("b", formats::escaped(where)) + ": " + formats::escaped(rest);
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
            if (warning.rank() == rank)
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

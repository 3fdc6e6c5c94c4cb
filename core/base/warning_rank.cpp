#include "core/base/warning_rank.h"

#include <algorithm>
#include <iterator>

namespace tearline {

namespace {

struct Row {
    std::string_view code;
    WarningRank rank;
};

using enum WarningRank;

/// Judged by what happens when nobody heeds it: common practice (no source).
constexpr Row table[] = {
    // As it stands the repair may be weak, wrong or impossible.
    {"beyond-the-batten", stop},
    {"cup-heats", stop},
    {"cut-at-hull-end", stop},
    {"depth-differs", stop},
    {"depth-over-old-laminate", stop},
    {"dose-over-cup", stop},
    {"dose-without-tool", stop},
    {"emulsion-mat-in-epoxy", stop},
    {"few-fresh-layers", stop},
    {"glass-content-unlikely", stop},
    {"hardener-high", stop},
    {"measured-hull-off", stop},
    {"patch-stiffer", stop},
    {"patch-weaker", stop},
    {"ply-over-stage", stop},
    {"recoat-passed", stop},
    {"roving-on-ground", stop},
    {"rovings-without-mat", stop},
    {"scarf-short", stop},
    {"scarf-steep", stop},
    {"skin-differs", stop},
    {"sounding-disagrees", stop},
    {"stack-off-depth", stop},
    {"stage-heats", stop},
    {"straightedge-rocks", stop},
    {"suspicious-figure", stop},
    {"tapes-meet-flat", stop},
    {"unit-differs", stop},
    {"unit-unlikely", stop},
    {"wider-than-roll", stop},
    // Something to do at its place in the work.
    {"cup-over-gel-mass", act},
    {"dose-small", act},
    {"floor-thin", act},
    {"ground-steep", act},
    {"hardener-assumed", act},
    {"hardener-range-narrow", act},
    {"mark-in-repair", act},
    {"no-floor", act},
    {"ply-without-place", act},
    {"pocket-narrow", act},
    {"polyester-on-epoxy", act},
    {"radius-concave", act},
    {"radius-convex", act},
    {"scarf-proud", act},
    {"seam-through-middle", act},
    {"shear-near-limit", act},
    {"skin-unknown", act},
    {"shop-hot", act},
    {"slivers", act},
    {"test-cup", act},
    {"topcoat-hardener-assumed", act},
    {"waxed-between-stages", act},
    // Nothing is wrong.
    {"built-so-far", know},
    {"cover-cut-at-hull-end", know},
    {"crease-opened", know},
    {"crease-trimmed", know},
    {"cured-density-assumed", know},
    {"density-missing", know},
    {"depth-taken", know},
    {"dose-moved", know},
    {"laid-in-pieces", know},
    {"measured-hull", know},
    {"middle-on-crease", know},
    {"outline-bulges", know},
    {"ply-as-cover", know},
    {"relief-cuts", know},
    {"resin-range", know},
    {"round-taken", know},
};

const Row* row_of(std::string_view code) {
    const auto row = std::find_if(std::begin(table), std::end(table),
                                  [&](const Row& each) { return each.code == code; });
    return row == std::end(table) ? nullptr : row;
}

std::string_view to_count(WarningRank rank) {
    switch (rank) {
        case stop:
            return "to stop and decide";
        case act:
            return "to do";
        case know:
            return "to know";
    }
    return "";
}

}  // namespace

WarningRank warning_rank(std::string_view code) {
    const Row* row = row_of(code);
    return row == nullptr ? stop : row->rank;
}

bool has_rank(std::string_view code) {
    return row_of(code) != nullptr;
}

std::vector<std::string_view> ranked_codes() {
    std::vector<std::string_view> codes;
    for (const Row& row : table) codes.push_back(row.code);
    return codes;
}

std::string_view rank_key(WarningRank rank) {
    return rank == stop ? "stop" : rank == act ? "do" : "know";
}

std::string_view rank_words(WarningRank rank) {
    return rank == stop ? "Stop and decide" : rank == act ? "Do this" : "Know this";
}

const char* rank_colour(WarningRank rank) {
    return rank == stop ? "#a3250b" : rank == act ? "#a86400" : "#2f5d7c";
}

WarningRank highest_rank(const Warnings& warnings) {
    WarningRank highest = know;
    for (const Warning& warning : warnings) highest = std::min(highest, warning_rank(warning.code));
    return highest;
}

std::string counted_by_rank(const Warnings& warnings) {
    std::string text;
    for (const WarningRank rank : warning_ranks) {
        const auto count = std::count_if(
            warnings.begin(), warnings.end(),
            [&](const Warning& warning) { return warning_rank(warning.code) == rank; });
        if (count == 0) continue;
        text += (text.empty() ? "" : ", ") + std::to_string(count) + " ";
        text += to_count(rank);
    }
    return text;
}

}  // namespace tearline

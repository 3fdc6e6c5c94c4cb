#pragma once
#include <string_view>

namespace tearline {

/// What a warning asks of its reader: judged by what happens when nobody heeds it (common practice,
/// no source).
enum class WarningRank {
    stop,  ///< stop and decide: as it stands the repair may be weak, wrong or impossible
    act,   ///< do this, at its place in the work
    know,  ///< know this: nothing is wrong
};

/// How plan.json and the command line name a warning, and how grave it is.
struct WarningCode {
    std::string_view name;  ///< kebab-case; stable
    WarningRank rank;
};

inline constexpr WarningRank warning_ranks[] = {WarningRank::stop, WarningRank::act,
                                                WarningRank::know};

/// As in plan.json: "stop", "do", "know".
[[nodiscard]] std::string_view rank_key(WarningRank rank);

/// As on sheets: "Stop and decide", "Do this", "Know this".
[[nodiscard]] std::string_view rank_words(WarningRank rank);

/// The ink a rank is drawn in, "#rrggbb": red, amber, blue.
[[nodiscard]] const char* rank_colour(WarningRank rank);

}  // namespace tearline

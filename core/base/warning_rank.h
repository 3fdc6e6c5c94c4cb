#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "core/base/warning.h"

namespace tearline {

/// What a warning asks of its reader.
enum class WarningRank {
    stop,  ///< stop and decide: as it stands the repair may be weak, wrong or impossible
    act,   ///< do this, at its place in the work
    know,  ///< know this: nothing is wrong
};

/// The rank of a code; one that has no row ranks highest.
[[nodiscard]] WarningRank warning_rank(std::string_view code);

/// Whether the table has a row for a code.
[[nodiscard]] bool has_rank(std::string_view code);

/// Every code of the table.
[[nodiscard]] std::vector<std::string_view> ranked_codes();

/// As in plan.json: "stop", "do", "know".
[[nodiscard]] std::string_view rank_key(WarningRank rank);

/// As on sheets: "Stop and decide", "Do this", "Know this".
[[nodiscard]] std::string_view rank_words(WarningRank rank);

/// The ink a rank is drawn in, "#rrggbb": red, amber, blue.
[[nodiscard]] const char* rank_colour(WarningRank rank);

/// The highest rank among some warnings.
[[nodiscard]] WarningRank highest_rank(const Warnings& warnings);

/// How many warnings there are of each rank, "2 to stop and decide, 1 to do, 3 to know"; nothing
/// where there are none.
[[nodiscard]] std::string counted_by_rank(const Warnings& warnings);

inline constexpr WarningRank warning_ranks[] = {WarningRank::stop, WarningRank::act,
                                                WarningRank::know};

}  // namespace tearline

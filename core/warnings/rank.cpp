#include "core/warnings/rank.h"

namespace tearline {

using enum WarningRank;

std::string_view rank_key(WarningRank rank) {
    return rank == stop ? "stop" : rank == act ? "do" : "know";
}

std::string_view rank_words(WarningRank rank) {
    return rank == stop ? "Stop and decide" : rank == act ? "Do this" : "Know this";
}

const char* rank_colour(WarningRank rank) {
    return rank == stop ? "#a3250b" : rank == act ? "#a86400" : "#2f5d7c";
}

}  // namespace tearline

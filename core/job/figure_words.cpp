#include "core/job/figure_words.h"

#include <array>
#include <string_view>

namespace tearline::job {

namespace {

struct Name {
    std::string_view place, words;
};

constexpr std::array<Name, 11> gaps = {
    {{"hull.measured.gap_along", "the gap along, at the middle"},
     {"hull.measured.gap_across", "the gap across, at the middle"},
     {"hull.measured.gap_along_ends[1]", "the gap along, half a batten below"},
     {"hull.measured.gap_along_ends[2]", "the gap along, half a batten above"},
     {"hull.measured.gap_across_ends[1]", "the gap across, half a batten aft"},
     {"hull.measured.gap_across_ends[2]", "the gap across, half a batten forward"},
     {"hull.corner.radius", "the radius of the bend"},
     {"hull.corner.gaps_along[1]", "the gap along, below or aft of the bend"},
     {"hull.corner.gaps_along[2]", "the gap along, above or forward of the bend"},
     {"hull.corner.gaps_across[1]", "the gap across the flat below or aft"},
     {"hull.corner.gaps_across[2]", "the gap across the flat above or forward"}}};

/// What stands between the k-th pair of square brackets.
std::string in_brackets(const std::string& place, int k) {
    std::size_t open = std::string::npos, from = 0;
    for (int i = 0; i <= k; ++i) {
        open = place.find('[', from);
        if (open == std::string::npos) return {};
        from = open + 1;
    }
    return place.substr(from, place.find(']', from) - from);
}

}  // namespace

std::string figure_words(const std::string& place) {
    for (const Name& name : gaps)
        if (place == name.place) return std::string(name.words);
    const std::string first = in_brackets(place, 0), second = in_brackets(place, 1);
    if (place.starts_with("damage.sounding[")) return "sounding " + first;
    if (place.starts_with("hull.corner.profile[")) return "profile, point " + first;
    if (second.empty()) return place;
    if (place.starts_with("hull.grid.offsets["))
        return "row " + first + " from below, figure " + second + " from aft";
    if (place.starts_with("hull.sections.half_breadths["))
        return "station " + first + ", waterline " + second;
    return place;
}

}  // namespace tearline::job

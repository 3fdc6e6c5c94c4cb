#include "core/hull/face_outward.h"

#include <algorithm>

#include "core/base/numbers.h"

namespace tearline::hull {
namespace {

constexpr double mm3_per_litre = 1e6;

std::string as_litres(double volume) {
    return fixed(std::abs(volume) / mm3_per_litre, 1) + " L";
}

std::string in_words(const Part& largest, const std::string& outward, bool turned) {
    if (outward == "as modelled") return "outward is as modelled, as hull.outward says";
    if (outward == "reversed") return "outward is the reverse of the model, as hull.outward says";
    if (!knows_outside(largest)) {
        return "too flat to tell which side is outside: give hull.outward in the job";
    }
    const std::string by =
        largest.closed() ? "the closed surface holds " + as_litres(largest.volume)
                         : "closed over its opening the surface holds " + as_litres(largest.volume);
    return by + (turned ? "; it faced inward and was turned" : "; it faced outward");
}

}  // namespace

Result<std::vector<bool>> face_outward(Hull& hull, Topology& topology, std::vector<Part>& parts,
                                       const std::string& outward, bool must_know) {
    const auto largest = static_cast<std::size_t>(
        std::max_element(parts.begin(), parts.end(),
                         [](const Part& a, const Part& b) { return a.area < b.area; }) -
        parts.begin());
    std::vector<bool> turn_part(parts.size(), outward == "reversed");
    if (outward == "auto") {
        if (!knows_outside(parts[largest]) && must_know) {
            return bad_input("hull.outward",
                             "\"auto\": the surface is too flat to tell which side is outside; "
                             "give \"as modelled\" or \"reversed\"");
        }
        for (std::size_t p = 0; p < parts.size(); ++p) {
            turn_part[p] = knows_outside(parts[p]) && parts[p].volume < 0.0;
        }
    }
    std::vector<bool> turned(hull.triangles.size(), false);
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        if (!turn_part[static_cast<std::size_t>(topology.component[t])]) continue;
        turn_over(hull.triangles[t], topology.across[t]);
        turned[t] = true;
    }
    for (std::size_t p = 0; p < parts.size(); ++p) {
        if (!turn_part[p]) continue;
        parts[p].volume = -parts[p].volume;
        for (auto& loop : parts[p].loops) std::reverse(loop.begin(), loop.end());
    }
    hull.report.outside_known = outward != "auto" || knows_outside(parts[largest]);
    hull.report.orientation = in_words(parts[largest], outward, turn_part[largest]);
    return turned;
}

}  // namespace tearline::hull

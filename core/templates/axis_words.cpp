#include "core/templates/axis_words.h"

#include <cmath>

#include "core/base/numbers.h"
#include "core/base/sheet_words.h"

namespace tearline::templates {

namespace {

/// A line that runs both ways: "FORE AND AFT", "UP AND DOWN", "PORT TO STARBOARD".
std::string both_ways(const std::string& word) {
    if (word == "bow" || word == "aft") return "FORE AND AFT";
    if (word == "up" || word == "down") return "UP AND DOWN";
    return "PORT TO STARBOARD";
}

/// "UP", "DOWN", "TO PORT", "TO STARBOARD", "FORWARD", "AFT".
std::string towards(const std::string& word) {
    if (word == "port" || word == "starboard") return "TO " + in_capitals(word);
    return word == "bow" ? "FORWARD" : in_capitals(word);
}

}  // namespace

std::string axis_words(const Directions& directions, job::FabricKind kind, double axis_degrees) {
    if (kind == job::FabricKind::mat) return {};
    const std::string warp = kind == job::FabricKind::biaxial ? "roll length " : "warp ";
    const double whole = std::remainder(std::round(axis_degrees), 180.0);  // of a line
    const std::string from = directions.axis_from == "bow" ? "the bow" : directions.axis_from;
    if (whole == 0.0) return warp + both_ways(directions.axis_from);
    if (std::abs(whole) == 90.0)
        return warp + both_ways(directions.axis_side) + ", square to " + from;
    const std::string side = whole > 0.0 ? directions.axis_side : opposite(directions.axis_side);
    return warp + fixed(std::abs(whole), 0) + " degrees " + towards(side) + " from " + from;
}

}  // namespace tearline::templates

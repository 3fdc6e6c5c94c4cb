#include "core/templates/directions.h"

#include <Eigen/Geometry>
#include <cmath>

namespace tearline::templates {

namespace {

/// The word for a direction in the tangent plane: the hull axis it is nearest to.
std::string word_for(const Vec3& direction, const Vec3& bow, const Vec3& up) {
    const Vec3 starboard = bow.cross(up).normalized();
    const double to_bow = direction.dot(bow), to_up = direction.dot(up);
    const double to_starboard = direction.dot(starboard);
    if (std::abs(to_bow) >= std::abs(to_up) && std::abs(to_bow) >= std::abs(to_starboard))
        return to_bow > 0.0 ? "bow" : "aft";
    if (std::abs(to_up) >= std::abs(to_starboard)) return to_up > 0.0 ? "up" : "down";
    return to_starboard > 0.0 ? "starboard" : "port";
}

std::string opposite(const std::string& word) {
    if (word == "bow") return "aft";
    if (word == "aft") return "bow";
    if (word == "up") return "down";
    if (word == "down") return "up";
    return word == "starboard" ? "port" : "starboard";
}

}  // namespace

Directions directions(const damage::FlatFrame& frame, const Vec3& bow, const Vec3& up) {
    Directions found;
    const std::string x = frame.x_is_bow ? "bow" : "starboard";
    // The y axis takes a word of its own, even where it leans more to the bow than to anything
    // else.
    std::string y = word_for(frame.y, bow, up);
    if (y == x || y == opposite(x)) y = frame.y.dot(up) > 0.0 ? "up" : "down";
    found.ends = {x, y, opposite(x), opposite(y)};
    (frame.x_is_bow ? found.bow : found.starboard) = Vec2(1.0, 0.0);
    if (!frame.up_is_near_normal) found.up = Vec2(frame.x.dot(up), frame.y.dot(up)).normalized();
    return found;
}

}  // namespace tearline::templates

#include "core/templates/directions.h"

#include <Eigen/Geometry>
#include <cmath>

namespace tearline::templates {

namespace {

/// The hull's axes in words: the way and the other way.
struct NamedAxis {
    Vec3 way;
    const char *there, *back;
};

/// The word for a direction in the tangent plane: the hull axis it is nearest to, but for one that
/// another direction has already.
std::string word_for(const Vec3& direction, const Vec3& bow, const Vec3& up,
                     const std::string& taken = {}) {
    const std::array<NamedAxis, 3> axes = {{{bow, "bow", "aft"},
                                            {up, "up", "down"},
                                            {bow.cross(up).normalized(), "starboard", "port"}}};
    std::string word;
    double most = -1.0;
    for (const NamedAxis& axis : axes) {
        const double along = direction.dot(axis.way);
        if (axis.there == taken || axis.back == taken || !(std::abs(along) > most)) continue;
        most = std::abs(along);
        word = along > 0.0 ? axis.there : axis.back;
    }
    return word;
}

}  // namespace

std::string opposite(const std::string& word) {
    if (word == "bow") return "aft";
    if (word == "aft") return "bow";
    if (word == "up") return "down";
    if (word == "down") return "up";
    return word == "starboard" ? "port" : "starboard";
}

Directions directions(const damage::FlatFrame& frame, const Vec3& bow, const Vec3& up) {
    Directions found;
    const std::string y = frame.y_is_up ? "up" : "bow";
    const std::string x = word_for(frame.x, bow, up, y);
    found.ends = {x, y, opposite(x), opposite(y)};
    const Vec2 from(frame.axis_from.dot(frame.x), frame.axis_from.dot(frame.y));
    (frame.axis_from_is_bow ? found.bow : found.starboard) = from;
    if (frame.y_is_up) found.up = Vec2(0.0, 1.0);
    found.axis_from = frame.axis_from_is_bow ? "bow" : "starboard";
    found.axis_side = word_for(frame.normal.cross(frame.axis_from), bow, up, found.axis_from);
    return found;
}

}  // namespace tearline::templates

#include "core/damage/outline_words.h"

#include "core/base/numbers.h"

namespace tearline::damage {

std::string point_text(const Vec3& p) {
    return "[" + fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " + fixed(p.z(), 1) + "]";
}

tl::unexpected<Error> leaves_surface(const surface::Patch& patch, const Vec3& near, bool hull_end) {
    if (!hull_end)
        return no_safe_answer("damage",
                              "the outline runs farther over the hull, near " + point_text(near) +
                                  " mm, than its points show: pick more points",
                              near);
    return bad_input(
        "damage",
        "the outline leaves the hull near " + point_text(near) +
            " mm; keep it on the surface, clear of edges and openings" +
            (patch.ends_with_figures ? ", or measure farther out: it ends there with the figures; "
                                       "where the boat itself "
                                       "ends there, tell that by points along it, damage.end"
                                     : ""),
        near);
}

}  // namespace tearline::damage

#include "core/closing/sandwich.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tearline::closing {

namespace {

/// Moment a mm at which a skin's outer fibre has its strength.
double moment_of(const Face& face, double from_axis, double stiffness) {
    const double outermost = std::abs(from_axis) + 0.5 * face.thickness;
    const double modulus = face.membrane / face.thickness;
    if (!(outermost > 0.0 && modulus > 0.0)) return std::numeric_limits<double>::infinity();
    return face.strength * stiffness / (modulus * outermost);
}

}  // namespace

Sandwich sandwich_of(const Face& outer, double core, const Face& inner) {
    Sandwich out;
    out.lever = core + 0.5 * (outer.thickness + inner.thickness);
    const double sum = outer.membrane + inner.membrane;
    const double to_outer = out.lever * inner.membrane / sum;  // from the neutral axis
    const double to_inner = out.lever - to_outer;
    out.bending_stiffness = outer.membrane * to_outer * to_outer +
                            inner.membrane * to_inner * to_inner + outer.bending + inner.bending;
    const double by_outer = moment_of(outer, to_outer, out.bending_stiffness);
    const double by_inner = moment_of(inner, to_inner, out.bending_stiffness);
    out.moment = std::min(by_outer, by_inner);
    out.first_to_fail = by_outer <= by_inner ? "outer skin" : "inner skin";
    return out;
}

Face face_of(std::span<const laminate::Layer> layers, bool across) {
    const laminate::Behaviour all = laminate::behaviour_of(layers);
    const laminate::Directional& of = across ? all.across : all.along;
    return {all.thickness, of.membrane_stiffness, of.bending_stiffness,
            std::min(of.tension, of.compression) / all.thickness};
}

}  // namespace tearline::closing

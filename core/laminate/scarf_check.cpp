#include "core/laminate/scarf_check.h"

#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/laminate/compare.h"

namespace tearline::laminate {

double required_ratio(double sigma, double tau, double factor) {
    const double k = factor * sigma / tau;
    if (!(k > 2.0)) return 1.0;
    return (k + std::sqrt(k * k - 4.0)) / 2.0;
}

double scarf_width(double ratio, double depth) {
    return ratio * depth;
}

const char* scarf_check_words() {
    return "A screening figure, not a design: it takes the shear along the scarf as even, and real "
           "bonds have peaks at their ends. Whether this scarf will do is for a surveyor, the "
           "designer or the class to decide.";
}

ScarfCheck check_scarf(const Layers& kept, const job::Job& job) {
    ScarfCheck out;
    const Layers old = old_layers(job);
    const Behaviour whole = behaviour_of(old.empty() ? kept : old);
    out.strength_of = old.empty() ? "the patch" : "the old laminate";
    out.laminate_strength = std::max(whole.along.tension, whole.across.tension) / whole.thickness;
    out.ratio = job.scarf.ratio;
    out.safety_factor = job.scarf.safety_factor;
    const double share = 1.0 / (1.0 + out.ratio * out.ratio);  // sin^2 of the scarf's angle
    out.bond_stress = out.laminate_strength * out.ratio * share;
    out.peel_stress = out.laminate_strength * share;
    out.peel_share = 1.0 / out.ratio;
    out.bond_shear = job.scarf.bond_shear;
    if (!out.bond_shear) {
        out.verdict =
            "No ratio can be asked for: the shear strength of the bond is not given, and no bond "
            "strength is assumed. Take it from the resin's data sheet or from a test.";
        return out;
    }
    out.required_ratio = required_ratio(out.laminate_strength, *out.bond_shear, out.safety_factor);
    out.verdict = "By even shear the scarf needs " + fixed(*out.required_ratio, 1) + " : 1; " +
                  shortest(out.ratio) + " : 1 is chosen" +
                  (out.too_short() ? ": too short by this figure. Make it longer." : ".");
    return out;
}

}  // namespace tearline::laminate

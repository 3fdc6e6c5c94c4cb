#include "core/warnings/of_laying.h"

#include <cmath>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/us_constants.h"
#include "core/warnings/warning.h"

namespace tearline::warn {

namespace {

std::string plural(std::size_t count, const std::string& one) {
    return std::to_string(count) + " " + one + (count == 1 ? "" : "s");
}

Sentence ply_of(const Warning& told, const std::string& fabric) {
    // What is only laid flat is no ply; its number is 0.
    return (told.ply == 0 ? Sentence("the sheet") : of_ply(told.ply)) + " (" + fabric + ")";
}

Sentence said(const CreaseMet& met) {
    return std::string("a ") + (met.convex ? "convex" : "concave") + " crease (" +
           plainly("radius 0 mm, turn ", "sharp, turning by ") + fixed(met.degrees, 1) +
           " degrees)" + plainly(" near " + place_text(met.at) + " mm", "") +
           ": at the ply's depth ";
}

/// A volume of filler.
Sentence said_filler(double mm3) {
    constexpr double cm3 = 1000.0;  // [mm3]
    const std::string metric = fixed(mm3 / cm3, 1) + " cm3";
    return {metric, metric, fixed(mm3 / cm3 / us::millilitres_per_fluid_ounce, 2) + " fl oz"};
}

Sentence said(const TightRadius& tight, const char* lies, const Warning& told) {
    return ply_of(told, tight.fabric) + " " + lies + " of radius " + said_length(tight.radius, 1) +
           plainly(" near " + place_text(told.at.value()) + " mm", "") + ", its fabric needs " +
           said_length(tight.least, 1) + ": ";
}

/// A limit as the job gives it, but for rounding.
std::string limit_text(double limit) {
    return shortest(std::round(limit * 1000.0) / 1000.0);
}

/// A figure over its limit, told so finely that it reads as over it.
std::string over_text(double value, double limit) {
    int digits = 1;
    while (digits < 4 && fixed(value, digits) == fixed(limit, digits)) ++digits;
    return fixed(value, digits);
}

template <class End>
Sentence ends(const End& end) {
    if (end.hole)
        return " ends at a hole in the model" +
               plainly(" near " + place_text(*end.hole) + " mm", "");
    return end.measured ? " ends where the measuring ends" : " ends where the hull ends";
}

/// What to do about a hole that nobody named.
Sentence name_the_hole(const Vec3& hole) {
    const std::string centre =
        "[" + fixed(hole.x(), 1) + ", " + fixed(hole.y(), 1) + ", " + fixed(hole.z(), 1) + "]";
    return plainly("name what is there by [[damage.opening]] with centre = " + centre +
                       " and keep = true",
                   "say what is there, an opening or a fitting, and plan again") +
           ", or close the hole in the model";
}

}  // namespace

Sentence CreaseTrimmed::words() const {
    return said(crease) + "its girth is shorter by " + said_length(shorter, 2) +
           ", which the template allows for";
}

Sentence CreaseOpened::words() const {
    return said(crease) + "the cloth goes round it in an arc of radius " + said_length(radius, 2) +
           ", longer by " + said_length(longer, 2) + ", which the template allows for";
}

Sentence MiddleOnCrease::words() const {
    return "the middle of the damage lies on a crease whose edge is trimmed at the ply's depth: "
           "the "
           "datum cross stands on the ridge";
}

Sentence RadiusConcave::words(const Warning& told) const {
    Sentence words = said(tight, "lies in a hollow", told) +
                     "fill the corner to a fillet of radius " + said_length(tight.least, 1);
    if (fillet)
        words += ", " + said_filler(fillet->volume) + " of filler along " +
                 said_length(fillet->length, 0);
    return words;
}

Sentence RadiusConvex::words(const Warning& told) const {
    const Sentence lies = said(tight, "lies over an edge", told);
    if (off > tight.least)  // beyond a turn of 120 degrees
        return lies + "it is too sharp to be eased to that, which would take " +
               said_length(off, 0) +
               " off the edge: end the ply short of it, or lay a fabric that goes round tighter";
    const Sentence ease = lies + "ease the edge to a radius of " + said_length(tight.least, 1);
    if (!starts) return ease;
    return ease + ", which takes off " + said_length(off, 1) + " at the edge and starts " +
           said_length(*starts, 1) + " to either side of it";
}

Sentence Complaint::words() const {
    const Sentence near = at ? plainly(" near " + place_text(*at), "") : Sentence();
    switch (of) {
        case Of::strain:
            return "must give " + over_text(figure, limit) + " %" + near +
                   plainly(", over the strain_limit of ", ", more than mat bears, ") +
                   limit_text(limit) + " %";
        case Of::shear:
            return "must shear by " + over_text(figure, limit) + " degrees" + near +
                   plainly(", over the shear_limit of ", ", more than the cloth bears, ") +
                   limit_text(limit) + " degrees";
        case Of::width:
            return "is " + said_length(figure, 0) + " wide, " +
                   plainly("over the roll_width of ", "wider than its roll, ") +
                   said_length(limit, 0);
        case Of::cloth:
            return "does not lie down (" + cloth + ")";
    }
    return {};
}

Sentence ReliefCuts::words(const Warning& told) const {
    std::string what = slits > 0 ? plural(slits, "slit") : "";
    if (darts > 0) what += (what.empty() ? "" : " and ") + plural(darts, "dart");
    return ply_of(told, fabric) + " has " + what + ": uncut it " + uncut.words() +
           ", so cut it gives " + fixed(100.0 * strain, 1) + " % at most";
}

Sentence LaidInPieces::words(const Warning& told) const {
    return ply_of(told, fabric) + (torn ? " is torn in " : " is cut in ") +
           plural(pieces, "piece") +
           (lap > 0.0 ? " that lap by " + said_length(lap, 0) + (torn ? " of torn edges" : "")
                      : Sentence(" that meet edge to edge")) +
           ": in one it " + in_one.words();
}

Sentence SeamThroughMiddle::words(const Warning& told) const {
    return ply_of(told, fabric) +
           " is parted across the middle of the damage, where it should be whole: nothing else "
           "serves; stagger it well against its neighbours";
}

Sentence ShearNearLimit::words(const Warning& told) const {
    return of_piece(told.piece.value()) + " of " + fabric + " shears by up to " + fixed(shear, 1) +
           " degrees, near " + plainly("its shear_limit of ", "the most it bears, ") +
           fixed(limit, 1) + ": dry-fit it before mixing";
}

Sentence CutAtHullEnd::words(const Warning& told) const {
    if (hole) return of_ply(told.ply) + ends(*this) + ": " + name_the_hole(*hole);
    return of_ply(told.ply) + ends(*this) +
           (measured ? ": unless the hull itself ends there, measure farther out and plan again"
                     : ": the scarf has no room there");
}

Sentence CoverCutAtHullEnd::words(const Warning& told) const {
    return "cover ply " + std::to_string(told.ply.value()) + ends(*this) +
           "; the scarf under it is whole" + (hole ? ": " + name_the_hole(*hole) : Sentence());
}

Sentence LapsOverHullEnd::words(const Warning&) const {
    return "the cloth goes over the hull's end, by a radius of " + said_length(radius, 1) +
           " and a turn of " + fixed(turn, 0) + " degrees, on to the face behind it" +
           plainly(" (damage.at_end)", "") + ": round the ground edge to a radius of " +
           said_length(ground_radius, 1) + " first, and grind the face behind it clean over " +
           said_length(over, 0) + "; the model has to end where that round begins";
}

Sentence LapWithoutEnd::words(const Warning&) const {
    return "no ply reaches an end of the hull, so none laps over it" +
           plainly(" as damage.at_end = \"lap\" asks", ", as was asked for") +
           ": check that the damage lies where it should, and that the model ends where the boat "
           "does" +
           plainly("; else take damage.at_end out", "");
}

Sentence RoundTube::words(const Warning&) const {
    const Sentence joints = "lap each other";
    if (plies.size() == 1)
        return "ply " + listed(plies) +
               " goes right round and meets itself on the far side, where its ends " + joints +
               "; the damage is round on the other side";
    return "plies " + listed(plies) +
           " go right round and meet themselves on the far side, where the ends of each " + joints +
           ": joints of successive ones lie " + said_length(apart, 0) +
           " apart, and the damage is round on the other side";
}

Sentence WiderThanRoll::words() const {
    return fabric + ": the piece does not fit the roll, " + said_length(roll, 0) +
           " wide; use a wider roll, turn the axis or join two cloths";
}

}  // namespace tearline::warn

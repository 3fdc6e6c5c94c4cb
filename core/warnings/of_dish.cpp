#include "core/warnings/of_dish.h"

#include "core/base/numbers.h"
#include "core/warnings/warning.h"

namespace tearline::warn {

namespace {

Sentence depth_words(double depth) {
    return plainly("damage.depth ", "a depth of ") + said_length(depth);
}

Sentence skin_words(double skin) {
    return plainly("hull.skin ", "the skin of ") + said_length(skin);
}

}  // namespace

Sentence SkinUnknown::words() const {
    return plainly("hull.skin is not given", "the thickness of the skin is not known") +
           ", so nobody knows how much is left under " + depth_words(depth) +
           ": measure the skin at the damage" +
           plainly(" and write it in the job file", ", write it into the job and plan again");
}

Sentence NoFloor::words() const {
    return depth_words(depth) + " goes right through " + skin_words(skin) +
           ": no floor is left to lay on; fix a backing or a temporary mould, sealed and waxed, to "
           "the shape of the far face first";
}

Sentence FloorThin::words() const {
    return depth_words(depth) + " leaves " + said_length(skin - depth, 2) + " of " +
           skin_words(skin) + " as a floor: put a backing behind it before grinding";
}

Sentence DepthOverOldLaminate::words() const {
    return depth_words(depth) + " is more than " +
           plainly("old_laminate.thickness ", "the old laminate, ") + said_length(old) +
           ": the damage goes right through or the thickness is wrong; measure the edge of it";
}

Sentence ScarfSteep::words() const {
    return plainly("scarf.ratio ", "a scarf of 1 in ") + shortest(ratio) +
           " is steeper than the 12 of common practice for hand-laid skins: the bond carries more; "
           "use 12 or more";
}

Sentence StackOffDepth::words() const {
    Sentence words = "the stack is " + said_thickness(stack, 2) + " thick and the dish" +
                     (sounded ? " as sounded" : "") + " is " + said_thickness(depth, 2) + " deep";
    if (coat) words += " less a final topcoat of " + said_thickness(*coat, 2);
    const double target = depth - coat.value_or(0.0);
    if (sounded)
        return words + (stack < target ? ": add plies" : ": plies without a place are left out");
    if (stack < target)
        return words + ": the laminate ends " + said_thickness(target - stack, 2) +
               " low; add plies";
    return words + ": the laminate ends " + said_thickness(stack - target, 2) +
           " proud; take plies out or expect to sand them off";
}

Sentence PlyAsCover::words(const Warning& told) const {
    return plainly(to_match_old ? "layup.fill_to: " : "layup.stack: ", "") + of_ply(told.ply) +
           " starts at " + said_thickness(start, 2) + ", at or above " +
           plainly("damage.depth ", "the hull's surface over a dish ") + said_thickness(depth, 2) +
           plainly("", " deep") +
           (to_match_old ? ": it is needed to match the old laminate and stays; fair round it, or "
                           "use stronger cloth"
                         : ": it is laid and sanded like a cover ply");
}

Sentence ScarfProud::words() const {
    return "the torn bands leave the scarf " + proud_words(mean, most) +
           ", before cover plies: sand that back to the fair surface, never into the floor";
}

Sentence CoreGapWide::words() const {
    return plainly("core.gap ", "a gap round the core plug of ") + said_length(gap) +
           " is wide: gaps over " + said_length(3.0, 1) +
           " cost a core nearly half of what it carries on edge, so fit the plug closer";
}

Sentence CoreStandsOff::words() const {
    return "the flat core plug stands " + said_length(off, 2) + " off its bed of " +
           said_length(bed, 2) + ": " +
           (kerfs ? plainly("a smaller core.kerf_pitch", "kerfs closer together")
                  : plainly("give it kerfs (core.kerf_pitch, core.kerf_width)", "give it kerfs")) +
           ", or form it to the hull first";
}

Sentence CoreWithoutMat::words() const {
    return "the ply of the " + skin +
           " that lies against the core is no mat: with polyester and vinylester chopped strand "
           "mat "
           "lies next to a core; put one there";
}

Sentence CoreNotSealed::words() const {
    return plainly("core.seal is not given", "how much resin the core drinks is not known") +
           ": an unsealed core drinks the bond dry; take the figure from its maker" +
           plainly(" and write it, such as seal = \"200 g/m2\"", "");
}

Sentence KerfCloses::words() const {
    return "the kerfs would have to close by " + said_length(moves, 2) + " and are " +
           said_length(width, 2) + " wide: " +
           plainly("a wider core.kerf_width or a smaller core.kerf_pitch",
                   "cut them wider or closer together");
}

Sentence BackingDoesNotPass::words() const {
    return "the backing does not pass its own hole: the hole is " + said_length(length, 1) +
           " long and would have to be " + said_length(least, 1) +
           ". Cut the hole to an oval, roll a sheet in (radius " + said_length(roll, 1) +
           "), or pass two halves and join them inside";
}

Sentence SandwichWeaker::words() const {
    return "the new sandwich has " + fixed(100.0 * bending, 0) +
           " % of the old one's bending stiffness and bears " + fixed(100.0 * strength, 0) +
           " % of its moment (screening): stronger skins, and whoever is licensed decides";
}

Sentence proud_words(double mean, double most) {
    constexpr double shown = 0.005;  // [mm] less is 0.00
    if (!(most >= shown)) return {};
    const Sentence at_most = said_thickness(most, 2) + " ";
    if (mean >= shown) return said_thickness(mean, 2) + " proud on average, " + at_most + "at most";
    if (mean > -shown) return "level on average, " + at_most + "proud at most";
    return said_thickness(-mean, 2) + " low on average, " + at_most + "proud at most";
}

}  // namespace tearline::warn

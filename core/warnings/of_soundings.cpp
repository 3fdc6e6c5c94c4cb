#include "core/warnings/of_soundings.h"

#include "core/base/numbers.h"
#include "core/base/us_constants.h"
#include "core/job/figure_words.h"
#include "core/warnings/warning.h"

namespace tearline::warn {

namespace {

Sentence sounding_named(const std::string& key) {
    return plainly(key, job::figure_words(key));
}

Sentence said(const LeftOut& out) {
    constexpr double cm2 = 100.0, square_inch = us::mm_per_inch * us::mm_per_inch;  // [mm2]
    const std::string metric = fixed(out.area / cm2, 1) + " cm2";
    return Sentence(metric, metric, fixed(out.area / square_inch, 2) + " in2") +
           " in all: fill with fairing compound";
}

Sentence said(const TooNarrow& dish) {
    Sentence words = "nowhere is the dish " + said_thickness(dish.depth, 2) +
                     " deep over a width of " + said_length(dish.width, 0);
    if (dish.left_out.places > 0)
        words += "; " + std::to_string(dish.left_out.places) + " narrower place(s), " +
                 said(dish.left_out);
    return words;
}

}  // namespace

Sentence SoundingDisagrees::words() const {
    return sounding_named(key) + " (" + said_length(depth, 1) +
           "): the soundings round it say about " + said_length(by_others, 1) +
           "; measure there again";
}

Sentence StraightedgeRocks::words() const {
    return sounding_named(key) + ": the ground itself stands up to " + said_length(over, 1) +
           " over a straightedge that rests on the old surface to both sides" +
           (soundings > 1 ? " (so for " + std::to_string(soundings) + " soundings)" : "") +
           ": it rocked on the ground and its reading is wrong by about as much; lay it along the "
           "flatter way, or measure square from the old surface" +
           plainly(" (from = \"gauge\")", "");
}

Sentence GroundSteep::words() const {
    return "the dish is steeper than 1 in " + shortest(ratio) + " in " + std::to_string(places) +
           " place(s): grind up to " + said_length(most, 1) +
           " further where the grind guide shows it, then sound again";
}

Sentence DepthTaken::words() const {
    return plainly("damage.depth is not given",
                   "the job does not say how deep the dish is ground") +
           (scanned ? ": the deepest place of its scan, " : ": the deepest sounding, ") +
           said_length(deepest, 1) + " below the old surface" +
           (off > 0.0 ? " (it may be " + said_length(off, 1) + " off)" : Sentence("")) +
           ", is taken for it";
}

Sentence RoundTaken::words() const {
    return plainly("damage.round is not given",
                   "the job does not say what the outline goes round") +
           (scarf ? " and a sounding lies outside the outline: the outline is taken to go round "
                    "the floor, the ground area to end " +
                        said_length(*scarf, 0) + " outside it"
                  : Sentence(" and no sounding lies outside the outline: the outline is taken to "
                             "be the edge of the ground area"));
}

Sentence DepthDiffers::words() const {
    return plainly("damage.depth is ", "the depth to grind is ") + said_length(depth, 1) +
           " and the soundings reach " + said_length(deepest, 1) +
           ": the plies are laid by the soundings; correct " +
           plainly("damage.depth", "that depth") + ", or measure the deepest place again";
}

Sentence PocketNarrow::words() const {
    return "no ply lies at the very bottom: " + said(bottom);
}

Sentence PlyWithoutPlace::words(const Warning& told) const {
    return of_ply(told.ply) + " (" + fabric + ") is left out: " + said(dish);
}

Sentence Slivers::words(const Warning& told) const {
    const Sentence narrower = " narrower than " + said_length(width, 0) + " ";
    std::vector<Sentence> parts;
    if (joined > 0)
        parts.push_back(std::to_string(joined) + narrower + "joined to the part beside");
    if (closed > 0)
        parts.push_back(std::to_string(closed) + " opening(s)" + narrower +
                        "closed: the ply goes over the knoll");
    if (left_out.places > 0)
        parts.push_back(std::to_string(left_out.places) + narrower + "left out, " + said(left_out));
    const Sentence cut = " narrower than " + said_length(scissors, 0) + " ";
    if (tails > 0) parts.push_back(std::to_string(tails) + " tail(s) or neck(s)" + cut + "cut off");
    if (inlets > 0) parts.push_back(std::to_string(inlets) + " inlet(s)" + cut + "filled");
    Sentence words = of_ply(told.ply) + " (" + fabric + "):";
    for (const Sentence& part : parts) words += (&part == &parts.front() ? " " : "; ") + part;
    return words;
}

Sentence BuiltSoFar::words() const {
    // A tenth of the thickness is what wet-out by hand varies by; beyond it somebody should look.
    constexpr double usual = 0.10;
    const double share = built / planned;
    Sentence list;
    for (const Ply& ply : each)
        list += (list.told.empty() ? "" : ", ") + std::string("ply ") + std::to_string(ply.number) +
                " " + said_thickness(ply.thickness, 2) + ", glass " +
                fixed(100.0 * ply.glass_content, 0) + " % by mass";
    std::string verdict = ": as planned";
    if (share > 1.0 + usual)
        verdict = ": resin-rich; squeeze out more with the roller, and less resin a ply";
    if (share < 1.0 - usual)
        verdict =
            ": starved of resin, or pressed thin; look for white dry spots and grind those out";
    const bool one = plies == 1;
    return (one ? std::string("the first ply was planned ")
                : "the first " + std::to_string(plies) + " plies were planned ") +
           said_thickness(planned, 2) + (one ? " thick and is " : " thick and are ") +
           said_thickness(built, 2) + " (" + list + ")" + verdict;
}

}  // namespace tearline::warn

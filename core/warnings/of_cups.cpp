#include "core/warnings/of_cups.h"

namespace tearline::warn {

Sentence DoseSmall::words() const {
    return "a cup needs " + said_mass(cup - left, 1) +
           " only, whose doses no tools show well enough: mix the " + said_mass(cup, 1) +
           " of the table and set the " + said_mass(left, 1) + " left over aside to cure outdoors";
}

Sentence DoseWithoutTool::words() const {
    return "no tool shows the hardener of a cup of " + said_mass(cup, 0) +
           " inside what is allowed, half a division more or less, so no dose is given: mix " +
           plainly("cups of another size (resin.cup)", "cups of another size") +
           ", use a finer tool, or ask the maker for a wider range";
}

Sentence DoseOverCup::words() const {
    // What shows the hardener of a smaller cup, to buy or to count.
    Sentence finer = "a scale that reads 0.01 g";
    if (!epoxy) finer += ", a finer syringe or drops that you have counted to 1 mL";
    if (!epoxy && !density_known)
        finer += plainly(" with resin.hardener_density in the job",
                         " with your hardener's own density in the job");
    return "a cup of the table holds " + said_mass(largest, 0) + ", more than " +
           plainly("resin.cup, ", "you want to mix at once, ") + said_mass(asked, 0) +
           ", because no tool of the table shows the doses of a smaller one well enough: a bigger "
           "cup heats up and gels sooner, so pour it out flat at once; or stay with your own cup, "
           "which" +
           (dose ? " takes " + said_mass(*dose, 2) + " of hardener: measure that with "
                 : Sentence(" needs its hardener measured with ")) +
           finer;
}

Sentence DoseMoved::words() const {
    return plainly("hardener_percent stands at an end of hardener_range",
                   "the hardener's percentage stands near an end of what its data sheet allows") +
           ": doses of the table are moved inwards, so that half a division of the tool more or "
           "less stays inside";
}

Sentence CupHeats::words() const {
    return "the largest cup holds " + said_mass(largest, 0) + ", more than " + said_mass(limit, 0) +
           ", and no gel time is known for it here: so much heats itself up in the cup, gels early "
           "and can smoke and burn; choose a smaller " +
           plainly("resin.cup", "cup") + ", or pour it out flat at once and time a test cup";
}

Sentence CupOverGelMass::words() const {
    return "the largest cup holds " + said_mass(largest, 0) + " and " +
           plainly("resin.gel_minutes", "the gel time") + " was measured in " +
           said_mass(measured, 0) +
           ": more resin in a cup heats itself and gels sooner; pour it out flat at once, or time "
           "a test cup of that size";
}

}  // namespace tearline::warn

#include "core/warnings/of_hull.h"

#include "core/base/length_text.h"
#include "core/base/numbers.h"

namespace tearline::warn {

Sentence UnitDiffers::words() const {
    return plainly(key, "the job") + " says " + given + " but the " + format + " file is in " +
           own + ": the file's own unit is used; " +
           plainly("remove " + key, "take the job's unit out");
}

Sentence UnitUnlikely::words() const {
    const Sentence from = key.empty() ? Sentence("the " + format + " file's own unit, ")
                                      : plainly(key + " ", "the job's unit, ");
    return "the model is " + said_length(size, small ? 3 : 0) + " long: is " + from + unit +
           " right?";
}

Sentence OutsideUnknown::words() const {
    return "the model is too flat to tell which side is outside: its templates are seen as its "
           "faces are modelled, and are mirrored where that is wrong; " +
           plainly("give --outward \"as modelled\" or \"reversed\"",
                   "hold one up to the place before you cut");
}

Sentence SkinDiffers::words() const {
    Sentence apart = said_length(most, 1);
    if (fixed(least, 1) != fixed(most, 1))
        apart = Sentence(fixed(least, 1), fixed(least, 1), length_figure(least, 1, Units::us)) +
                " to " + apart;
    return plainly("hull.skin says ", "the job says that the skin is ") + said_length(skin) +
           plainly("", " thick") + ", but the two faces of the model lie " + apart +
           " apart near the damage: measure the skin at the damage";
}

}  // namespace tearline::warn

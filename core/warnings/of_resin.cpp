#include "core/warnings/of_resin.h"

#include "core/base/numbers.h"

namespace tearline::warn {

Sentence HardenerAssumed::words() const {
    return plainly("resin.hardener_percent is not given: ",
                   "the hardener's percentage is not yours: ") +
           shortest(percent) +
           " % is the middle of common practice, 1 to 2 % by data sheet; write your own resin's "
           "figure";
}

Sentence CuredDensityAssumed::words() const {
    return plainly("resin.cured_density is not given: ", "the cured density is not yours: ") +
           shortest(density) +
           " g/cm3 is taken for cured epoxy, from memory; the thickness of a ply follows from it: "
           "write your data sheet's figure";
}

Sentence DensityMissing::words() const {
    const Sentence given = resins ? plainly("resin.density", "the resin's density")
                                  : plainly("resin.hardener_density", "the hardener's density");
    const Sentence lacks = resins ? plainly("resin.hardener_density", "the hardener's")
                                  : plainly("resin.density", "the resin's");
    return given + " is given and " + lacks +
           " is not: one alone is not used, and the cups stand only by " +
           (by_volume ? "volume" : "mass") + "; write both for the other way too";
}

Sentence TopcoatHardenerAssumed::words() const {
    return plainly("topcoat.hardener_percent is not given: ",
                   "the topcoat's percentage is not yours: ") +
           shortest(percent) +
           " % is the nominal figure of published sheets, 1.2 to 3 %; gel coat and topcoat have a "
           "percentage of their own, not the resin's: write your own product's figure";
}

Sentence HardenerHigh::words() const {
    return (topcoat ? plainly("topcoat.hardener_percent", "the topcoat's percentage")
                    : plainly("resin.hardener_percent", "the hardener's percentage")) +
           " of " + shortest(percent) + " % is more than the " + shortest(most) +
           " % that published data sheets of " + (topcoat ? "gel coats and topcoats" : "resins") +
           " allow at most: the cup can boil, smoke and burn, and the laminate stays weak; look at "
           "the data sheet and the decimal point again";
}

Sentence HardenerRangeNarrow::words() const {
    return plainly("hardener_range is a single figure",
                   "what the data sheet allows of hardener is a single figure") +
           ": no tool meets it exactly; ask the maker how far it may be missed";
}

Sentence RecoatPassed::words() const {
    return plainly("shop.hours_between_stages: ", "between two stages ") +
           shortest(planned.value()) +
           plainly(" h is past resin.recoat_hours, ",
                   " h are planned, more than the resin's recoat time of ") +
           shortest(recoat.value()) +
           " h: the next stage would not bond chemically; wash and abrade all over before it, or "
           "plan the stages closer together";
}

Sentence PolyesterOnEpoxy::words() const {
    return (own_topcoat ? plainly("[topcoat] goes over epoxy; ",
                                  "the topcoat of this job goes over epoxy; ")
                        : Sentence()) +
           "polyester topcoat or gel coat does not bond reliably to cured epoxy: use an "
           "epoxy-compatible finish, or a tie coat that its maker names";
}

Sentence WaxedBetweenStages::words() const {
    return plainly("resin.waxed: wax", "the resin is waxed: wax") +
           " rises to the surface of each stage and the next one does not bond to it; sand between "
           "stages, or use unwaxed resin for all but the last";
}

Sentence ShopHot::words() const {
    return plainly("shop.temperature of ", "the shop at ") + said_warmth(shop) + " is above " +
           said_warmth(hot) +
           ": resin and laminate start warm, heat each other up and gel before they are spread; "
           "work in the cool of the day and out of the sun, cool the resin, mix smaller cups, and "
           "never take less hardener than the data sheet allows";
}

Sentence NoGelTime::words() const {
    const Sentence gel = plainly("resin.gel_minutes", "the gel time");
    const Sentence of_job =
        plainly("resin.hardener_percent", "the hardener's percentage of this job");
    switch (why) {
        case Why::not_given:
            return plainly("resin.gel_minutes is not given", "the job gives no gel time") +
                   plainly(", and no gel time is assumed", ", and none is assumed");
        case Why::other_temperature:
            return gel + " was measured at " + said_warmth(measured_at) + " and the shop is at " +
                   said_warmth(shop) +
                   ": published temperature factors for 10 C run from 1.5 to 16, so none is "
                   "trusted";
        case Why::no_percent:
            return of_job + " is not given";
        case Why::other_percent:
            return gel + " was measured with " + shortest(measured_with) + " % of hardener and " +
                   of_job + " is " + shortest(percent);
    }
    return {};
}

Sentence TestCup::words() const {
    return reason.words() + ": mix a test cup of " + said_mass(Grams(100.0), 0) +
           " at the shop's temperature, time its gel, and write it " +
           plainly("as resin.gel_minutes with gel_at", "into the job") +
           "; until then no time is given for the cups";
}

}  // namespace tearline::warn

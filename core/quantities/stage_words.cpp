#include "core/quantities/stage_words.h"

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/us_units.h"

namespace tearline::quantities {

namespace {

constexpr double mils_a_sheet = 4.0;

/// "24 h", in days where that reads better.
std::string hours(Hours time) {
    return shortest(time.value()) + " h";
}

std::string between_stages(const job::Resin& resin) {
    if (resin.waxed)
        return "Let it cure hard. Waxed resin must be washed and sanded dull all over before the "
               "next stage: nothing bonds to the wax.";
    if (resin.kind == job::ResinKind::epoxy)
        return "Lay the next stage when this one has gelled, cooled and still takes a thumbprint, "
               "within " +
               hours(resin.recoat_hours) +
               ". Later: wash off the blush with water, abrade, wipe dry.";
    return "Wait until it has gelled and cooled; it stays tacky in air (tack in about 30 min, "
           "common practice). Then lay the next stage on it, within " +
           hours(resin.recoat_hours) + ". Later: wash, abrade all over, dust off.";
}

std::string cure_and_finish(const job::Job& job, double sanding_mm) {
    const job::Resin& resin = job.resin;
    const job::Topcoat& topcoat = job.topcoat;
    const Units units = job.display_units;
    const std::string load = std::string(" No load for at least 48 h at ") +
                             (units == Units::metric ? "18 °C (64 °F)" : "64 °F (18 °C)") +
                             " or more.";
    constexpr double shown = 0.005;  // [mm] less is 0.00
    const std::string sand =
        sanding_mm >= shown
            ? " Sand back " + thickness_text(sanding_mm, 2, units) +
                  " over the floor to the fair surface."
            : std::string(" Over the floor nothing stands above the fair surface: sand it dull.");
    if (resin.kind == job::ResinKind::epoxy)
        return "Cures in air; wash off the blush." + load + sand;
    if (topcoat.final_coat) {
        const std::string seal =
            resin.waxed ? "Cures in air; wash and sand off the wax."
                        : "Seal it to cure: lay film over it and roll the air out, or add wax to "
                          "the last resin.";
        return seal + load + sand + " Then the final topcoat, " +
               film_text(topcoat.thickness, units) + " wet.";
    }
    if (resin.waxed)
        return "Cures in air; sand off the wax before anything else goes on." + load + sand;
    return "It stays tacky in air until it is sealed: topcoat " +
           film_text(topcoat.thickness, units) +
           " wet, or film with the air rolled out. Topcoat cures overnight." + load + sand +
           " The topcoat goes with it.";
}

}  // namespace

std::string film_text(double mm, Units units) {
    const double mils = us::mils(mm);
    const double sheets = mils / mils_a_sheet;
    const std::string film = fixed(mm, 2) + " mm", thousandths = fixed(mils, 0) + " mil";
    return (units == Units::metric ? film + " = " + thousandths : thousandths + " = " + film) +
           " = about " + fixed(sheets, sheets < 2.0 ? 1 : 0) + " sheets of printer paper";
}

std::string after_stage(const job::Job& job, const Quantities& quantities, std::size_t index) {
    if (index + 1 == quantities.stages.size())
        return cure_and_finish(job, quantities.sanding.sanding_mm);
    if (quantities.stages.at(index).plies.empty())
        return "Go on at once: the first ply goes into the wet coat.";
    return between_stages(job.resin);
}

}  // namespace tearline::quantities

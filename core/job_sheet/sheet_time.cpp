#include "core/base/numbers.h"
#include "core/job/given.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/quantities/consumables.h"
#include "core/quantities/shopping.h"
#include "core/quantities/work_time.h"

namespace tearline::job_sheet {

namespace {

std::string time_row(const std::string& what, const std::string& of, const std::string& time) {
    return tag("tr", left(what) + left(of) + cell(time) + left(blank(8))) + "\n";
}

std::string from_to(int least, int most, const std::string& unit) {
    const std::string all = least == most ? std::to_string(least)
                                          : std::to_string(least) + " to " + std::to_string(most);
    return all + " " + unit + (most == 1 ? "" : "s");
}

std::string minutes(double time) {
    return fixed(time, 0) + " min";
}

std::string wet_out_of(const Plan& plan) {
    const quantities::Totals& t = plan.quantities.totals;
    std::string of = "cloth " + square(plan, t.glass_area_m2) + ", ground " +
                     square(plan, t.prime_g > 0.0 ? t.ground_area_m2 : 0.0);
    if (quantities::takes_topcoat(plan.job))
        of += ", topcoat " +
              square(plan, square_metres_from_mm2(plan.place.areas.touched_mm2()).value());
    const bool given = job::is_given(plan.job, "laminator.wet_out_rate");
    return of + " at " + square(plan, plan.job.laminator.wet_out_rate) + " a minute" +
           (given ? "" : " (from memory)");
}

std::string waits_of(const Plan& plan, const quantities::WorkTime& time) {
    if (time.waits == 0) return "one stage: none";
    const std::string count = std::to_string(time.waits) + (time.waits == 1 ? " wait" : " waits");
    if (plan.job.resin.waxed) return count + " for hard cure, sand, wash: overnight †";
    const std::string recoat = shortest(plan.job.resin.recoat_hours.value()) + " h each";
    if (time.wait_minutes) return count + " of gel and 30 min to tack †; at the latest " + recoat;
    return count + " to tack, 30 min after gel †; at the latest " + recoat;
}

}  // namespace

std::string time_plan(const Plan& plan) {
    const quantities::WorkTime time =
        quantities::work_time(plan.job, plan.place.areas, plan.quantities);
    std::size_t pieces = 0;
    for (const templates::LaidPly& ply : plan.plies) pieces += ply.pieces.size();
    const int cups = quantities::cups_in_all(plan.quantities) - 1;  // the test cup has its own day
    std::string out = section("Time") + "<table width=\"100%\">" +
                      head({"<What", "<Made of", "Time", "<Took"}) + "<tbody>\n";
    out += time_row("Survey, grind, dry", "not known before: write it", "");
    out += time_row("Tear and cut", std::to_string(pieces) + " pieces, 5 min each †",
                minutes(time.tearing_minutes));
    out += time_row("Wet out", wet_out_of(plan), minutes(time.wet_out_minutes));
    out += time_row("Mix", std::to_string(cups) + " cups, 5 min each †", minutes(time.mixing_minutes));
    out +=
        time_row("Waits", waits_of(plan, time),
             time.waits > 0 && time.wait_minutes ? minutes(time.waits * *time.wait_minutes) : "");
    out += time_row(tag("b", "Work, tearing to last coat"), "without waits",
                tag("b", fixed(time.work_hours(), 1) + " h"));
    out += time_row("Laying", "days of 8 h †, the waits in them",
                from_to(time.least_laying_days, time.most_laying_days, "day"));
    out += time_row("Cure", "48 h at " + warmth(plan, Celsius(18.0)) + " before load",
                from_to(time.cure_days, time.cure_days, "day"));
    if (time.topcoat_days > 0)
        out += time_row("Final topcoat", "overnight †",
                    from_to(time.topcoat_days, time.topcoat_days, "day"));
    const int after = time.cure_days + time.topcoat_days;
    out += time_row(
        tag("b", "Days in all, first cup to load"), "fairing and paint not in it",
        tag("b", from_to(time.least_laying_days + after, time.most_laying_days + after, "day")));
    return out + "</tbody></table>\n";
}

}  // namespace tearline::job_sheet

#include "core/quantities/work_time.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/quantities/cup_shares.h"
#include "core/quantities/hardener.h"
#include "core/quantities/shopping.h"

namespace tearline::quantities {

namespace {

constexpr double minutes_an_hour = 60.0, hours_a_day = 24.0;

int days(double hours, double hours_each) {
    return static_cast<int>(std::ceil(hours / hours_each - tolerance::decimal_rounding));
}

/// Stages with cloth: each but the last is waited for.
int laid_stages(const std::vector<Stage>& stages) {
    return static_cast<int>(std::count_if(stages.begin(), stages.end(),
                                          [](const Stage& stage) { return !stage.plies.empty(); }));
}

void fill_laying_days(const job::Job& job, WorkTime& time) {
    double laying_minutes = 0.0;
    for (const double minutes : time.stage_minutes) laying_minutes += minutes;
    if (job.resin.waxed) {  // each stage cures hard overnight
        time.least_laying_days = time.most_laying_days = time.waits + 1;
        return;
    }
    if (const auto planned = job.shop.hours_between_stages) {
        const int waited = days(time.waits * planned->value(), hours_a_day);
        time.least_laying_days = time.most_laying_days = 1 + waited;
        return;
    }
    const double waiting = time.waits * time.wait_minutes.value_or(tack_minutes);
    time.least_laying_days =
        std::max(1, days((laying_minutes + waiting) / minutes_an_hour, hours_a_working_day));
    time.most_laying_days = std::max(
        time.least_laying_days, 1 + days(time.waits * job.resin.recoat_hours.value(), hours_a_day));
}

}  // namespace

WorkTime work_time(const job::Job& job, const Areas& areas, const Quantities& quantities) {
    const double rate = job.laminator.wet_out_rate;
    WorkTime time;
    for (std::size_t i = 0; i < quantities.stages.size(); ++i) {
        const double wet_out = stage_area(quantities, i).value() / rate;
        const double mixing = minutes_to_mix_a_cup * static_cast<double>(cups_mixed(quantities, i));
        time.stage_minutes.push_back(wet_out + mixing);
        time.wet_out_minutes += wet_out;
        time.mixing_minutes += mixing;
    }
    if (takes_topcoat(job)) {
        time.wet_out_minutes += square_metres_from_mm2(areas.touched_mm2()).value() / rate;
        time.mixing_minutes +=
            minutes_to_mix_a_cup * static_cast<double>(quantities.topcoat_cups.size());
        if (job.topcoat.final_coat) time.topcoat_days = 1;
    }
    for (const PlyAmounts& ply : quantities.plies)
        time.tearing_minutes += minutes_to_tear_a_piece * static_cast<double>(ply.pieces.size());
    time.waits = std::max(0, laid_stages(quantities.stages) - 1);
    if (use_within(job)) time.wait_minutes = job.resin.gel_minutes->value() + tack_minutes;
    time.cure_days = days(cure_hours, hours_a_day);
    fill_laying_days(job, time);
    return time;
}

}  // namespace tearline::quantities

#include "core/quantities/cup_shares.h"

#include <algorithm>

#include "core/base/tolerances.h"

namespace tearline::quantities {

namespace {

/// One layer that a stage wets.
struct Layer {
    int ply = 0;
    double resin_g = 0.0, area_m2 = 0.0;
};

std::vector<Layer> layers_of(const Plan& plan, std::size_t index) {
    std::vector<Layer> layers;
    if (stage_primes(plan, index))
        layers.push_back({0, plan.totals.prime_g, plan.totals.ground_area_m2});
    for (const int number : plan.stages.at(index).plies)
        for (const PlannedPly& ply : plan.plies)
            if (ply.number == number)
                layers.push_back(
                    {number, ply.resin_g, square_metres_from_mm2(ply.glass_area_mm2).value()});
    return layers;
}

}  // namespace

bool primed_from_next(const Plan& plan) {
    return plan.stages.size() > 1 && plan.stages[1].primes_g > 0.0;
}

bool stage_primes(const Plan& plan, std::size_t index) {
    return index == (primed_from_next(plan) ? 1u : 0u) && plan.totals.prime_g > 0.0;
}

std::size_t cups_mixed(const Plan& plan, std::size_t index) {
    return index == 0 && primed_from_next(plan) ? 0 : plan.stages.at(index).cups.size();
}

double mixed_in_all(const Plan& plan) {
    double grams = plan.totals.resin_g;
    for (const Stage& stage : plan.stages)
        for (const Cup& cup : stage.cups) grams += cup.left_g;
    return grams;
}

std::vector<std::vector<CupShare>> cup_shares(const Plan& plan, std::size_t index) {
    const std::vector<Layer> layers = layers_of(plan, index);
    const std::vector<Cup>& cups = plan.stages.at(index).cups;
    double resin_g = 0.0, mixed_g = 0.0;
    for (const Layer& layer : layers) resin_g += layer.resin_g;
    for (const Cup& cup : cups) mixed_g += cup.resin_g;
    std::vector<std::vector<CupShare>> out(cups.size());
    if (!(resin_g > 0.0 && mixed_g > 0.0)) return out;
    double poured = 0.0;
    for (std::size_t i = 0; i < cups.size(); ++i) {
        const double first = poured * resin_g / mixed_g;
        poured += cups[i].resin_g;
        const double last = poured * resin_g / mixed_g;
        double below = 0.0;
        for (const Layer& layer : layers) {
            const auto share = [&](double height) {
                return std::clamp((height - below) / layer.resin_g, 0.0, 1.0);
            };
            const double from = share(first), to = share(last);
            if (to - from > tolerance::decimal_rounding)
                out[i].push_back({layer.ply, from, to, (to - from) * layer.area_m2});
            below += layer.resin_g;
        }
    }
    return out;
}

double stage_area(const Plan& plan, std::size_t index) {
    double area = 0.0;
    for (const Layer& layer : layers_of(plan, index)) area += layer.area_m2;
    return area;
}

}  // namespace tearline::quantities

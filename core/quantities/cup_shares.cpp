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

std::vector<Layer> layers_of(const Quantities& quantities, std::size_t index) {
    std::vector<Layer> layers;
    if (stage_primes(quantities, index))
        layers.push_back({0, quantities.totals.prime_g, quantities.totals.ground_area_m2});
    for (const int number : quantities.stages.at(index).plies) {
        const PlyAmounts& ply = amounts_of(quantities, number);
        layers.push_back({number, ply.resin_g, square_metres_from_mm2(ply.glass_area_mm2).value()});
    }
    return layers;
}

}  // namespace

bool primed_from_next(const Quantities& quantities) {
    return std::any_of(quantities.stages.begin(), quantities.stages.end(),
                       [](const Stage& stage) { return stage.primes_g > 0.0; });
}

bool stage_primes(const Quantities& quantities, std::size_t index) {
    const Stage& stage = quantities.stages.at(index);
    return stage.primes_g > 0.0 || (stage.of == Stage::Of::ground && !primed_from_next(quantities));
}

std::size_t cups_mixed(const Quantities& quantities, std::size_t index) {
    const Stage& stage = quantities.stages.at(index);
    const bool from_next = stage.of == Stage::Of::ground && primed_from_next(quantities);
    if (stage.boat_cup > 0 || from_next) return 0;
    return stage.cups.size() + stage.gel_cups.size();
}

Grams mixed_in_all(const Quantities& quantities) {
    double grams = quantities.totals.resin_g;
    for (const Stage& stage : quantities.stages)
        for (const Cup& cup : stage.cups) grams += cup.left_g;
    return Grams(grams);
}

std::vector<std::vector<CupShare>> cup_shares(const Quantities& quantities, std::size_t index) {
    const std::vector<Layer> layers = layers_of(quantities, index);
    const std::vector<Cup>& cups = quantities.stages.at(index).cups;
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

SquareMetres stage_area(const Quantities& quantities, std::size_t index) {
    double area = square_metres_from_mm2(quantities.stages.at(index).area_mm2).value();
    for (const Layer& layer : layers_of(quantities, index)) area += layer.area_m2;
    return SquareMetres(area);
}

}  // namespace tearline::quantities

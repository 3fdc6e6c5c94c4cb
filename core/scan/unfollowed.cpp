#include "core/scan/unfollowed.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <unordered_map>
#include <vector>

#include "core/scan/robust.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

namespace {

struct SmallPlace {
    Vec2 middle{0, 0};
    std::vector<double> off;
};

std::vector<SmallPlace> small_places(std::span<const Residual> residuals, double width) {
    std::unordered_map<std::int64_t, std::size_t> known;
    std::vector<SmallPlace> places;  // in the order of their points: the same wherever it runs
    for (const Residual& residual : residuals) {
        const Vec2 square = (residual.uv / width).array().floor();
        const auto key = static_cast<std::int64_t>(square.x()) * 1'000'003 +
                         static_cast<std::int64_t>(square.y());
        const auto [found, fresh] = known.try_emplace(key, places.size());
        if (fresh) places.push_back({width * (square + Vec2(0.5, 0.5)), {}});
        places[found->second].off.push_back(residual.off);
    }
    return places;
}

}  // namespace

std::optional<Unfollowed> unfollowed(std::span<const Residual> residuals, const Noise& noise,
                                     double spacing) {
    constexpr double spacings = 3.0, correlations = 2.0;
    constexpr std::size_t fewest = 8;
    // Of a few thousand places noise alone brings none so far off.
    constexpr double noisy = 5.0, median_spread = 1.2533;
    const double least = std::max(spacings * spacing, correlations * noise.correlation);
    std::optional<Unfollowed> worst;
    for (const double width : {least, 2.0 * least, 4.0 * least}) {
        const double of_noise = noisy * median_spread * std::sqrt(noise.density()) / width;
        const double most = std::max(tolerance::followed, of_noise);
        for (const SmallPlace& place : small_places(residuals, width)) {
            if (place.off.size() < fewest) continue;
            const double off = median(place.off);
            if (std::abs(off) > most && (!worst || std::abs(off) > std::abs(worst->off)))
                worst = Unfollowed{place.middle, off};
        }
    }
    return worst;
}

}  // namespace tearline::scan

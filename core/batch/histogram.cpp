#include "core/batch/histogram.h"

#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/formats/svg.h"
#include "core/warnings/rank.h"

namespace tearline::batch {

namespace {

constexpr double width = 84.0, height = 46.0;  // [mm] of the picture
constexpr double x_least = 9.0, x_most = 80.0, y_top = 8.0, y_bottom = 38.0;

/// 1, 2 or 5 times a power of ten, so that `most` takes 10 to 25 bins.
double bin_width(double most) {
    if (!(most > 0.0)) return 1.0;
    const double rough = most / 10.0, power = std::pow(10.0, std::floor(std::log10(rough)));
    for (const double step : {5.0, 2.0})
        if (step * power <= rough) return step * power;
    return power;
}

std::vector<int> counted(const std::vector<double>& values, double bin, std::size_t bins) {
    std::vector<int> counts(bins, 0);
    for (const double value : values)
        ++counts[std::min(bins - 1, static_cast<std::size_t>(std::max(0.0, value / bin)))];
    return counts;
}

std::string bar(double x, double wide, double low, double high, const char* fill) {
    if (!(low > high)) return {};
    return "<rect x=\"" + formats::svg_number(x) + "\" y=\"" + formats::svg_number(high) +
           "\" width=\"" + formats::svg_number(wide) + "\" height=\"" +
           formats::svg_number(low - high) + "\" fill=\"" + fill + "\"/>\n";
}

}  // namespace

std::string histogram(const Spread& spread) {
    double most = 0.0;
    for (const auto* values : {&spread.calm, &spread.to_decide})
        for (const double value : *values) most = std::max(most, value);
    if (spread.calm.empty() && spread.to_decide.empty()) return {};
    const double bin = bin_width(most);
    const auto bins = static_cast<std::size_t>(std::floor(most / bin)) + 1;
    const auto calm = counted(spread.calm, bin, bins);
    const auto to_decide = counted(spread.to_decide, bin, bins);
    int tallest = 1;
    for (std::size_t i = 0; i < bins; ++i) tallest = std::max(tallest, calm[i] + to_decide[i]);
    std::string out = formats::svg_begin({width, height}, {0, 0},
                                         "font-family=\"Helvetica, Arial, sans-serif\"") +
                      "\n";
    out += formats::svg_text(Vec2(x_least, 4.4), spread.title, {3.6, "start", "#12303f", true});
    const double wide = (x_most - x_least) / static_cast<double>(bins);
    const auto level = [&](int count) { return y_bottom - (y_bottom - y_top) * count / tallest; };
    for (std::size_t i = 0; i < bins; ++i) {
        const double x = x_least + wide * static_cast<double>(i);
        out += bar(x, 0.92 * wide, y_bottom, level(calm[i]), "#5b8fb0");
        out += bar(x, 0.92 * wide, level(calm[i]), level(calm[i] + to_decide[i]),
                   rank_colour(WarningRank::stop));
    }
    out += "<path fill=\"none\" stroke=\"#1c2730\" stroke-width=\"0.2\" d=\"" +
           formats::svg_path({Vec2(x_least, y_top), Vec2(x_least, y_bottom), Vec2(x_most, y_bottom)}, false) +
           "\"/>\n";
    out += formats::svg_text(Vec2(x_least - 1.0, y_top + 1.0), std::to_string(tallest),
                             {2.8, "end", "#44525c"});
    out += formats::svg_text(Vec2(x_least - 1.0, y_bottom), "0", {2.8, "end", "#44525c"});
    const std::size_t every = (bins + 5) / 6;
    const int decimals = static_cast<int>(std::max(0.0, -std::floor(std::log10(1.001 * bin))));
    for (std::size_t i = 0; i <= bins; i += every)
        out += formats::svg_text(Vec2(x_least + wide * static_cast<double>(i), y_bottom + 4.0),
                                 fixed(bin * static_cast<double>(i), decimals),
                                 {2.8, "middle", "#44525c"});
    return out + "</svg>\n";
}

}  // namespace tearline::batch

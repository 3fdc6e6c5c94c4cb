#pragma once
#include <string>
#include <vector>

namespace tearline::batch {

/// How often a figure has which size.
struct Spread {
    std::string title;
    std::vector<double> calm;       ///< of jobs with nothing to decide
    std::vector<double> to_decide;  ///< of the others, on top and in red
};

/// As a small picture, an SVG with bins of a round width from 0; nothing where there are no
/// figures.
[[nodiscard]] std::string histogram(const Spread& spread);

}  // namespace tearline::batch

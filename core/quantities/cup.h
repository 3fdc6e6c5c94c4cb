#pragma once
#include <optional>

namespace tearline::quantities {

/// What a dose is measured with; their divisions stand in measuring.h.
enum class Tool { scale, syringe_1, syringe_3, syringe_10, syringe_60, jug };

/// A dose as one tool shows it.
struct Measured {
    Tool tool = Tool::scale;
    double reading = 0.0;  ///< [g] on the scale, [mL] otherwise; a division of the tool
};

/// One mixed batch: what the job needs of it, and what is really mixed so that it can be measured.
struct Cup {
    double resin_g = 0.0;              ///< resin and hardener together for epoxy
    std::optional<double> hardener_g;  ///< none without a figure for it
    std::optional<double> hardener_mL;
    std::optional<double> use_within_min;
    double mix_resin_g = 0.0;  ///< counted as resin_g; 0: taken out of the next stage's first cup
    std::optional<double> mix_hardener_g;
    std::optional<double> mix_hardener_mL;
    double left_g = 0.0;           ///< of mix_resin_g, what no stage needs
    std::optional<double> pour_g;  ///< resin alone to pour in; none where only its volume is known
    std::optional<double> pour_mL;
    std::optional<Measured> resin_by, resin_or;  ///< how to measure what is poured in
    std::optional<Measured> hardener_by, hardener_or;
    std::optional<int> drops;   ///< of its hardener, where counted and not too many to count
    bool moved_inward = false;  ///< the dose aimed at is not the percentage's own
};

}  // namespace tearline::quantities

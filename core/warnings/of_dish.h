#pragma once
#include <optional>

#include "core/base/sentence.h"
#include "core/warnings/rank.h"

namespace tearline {
struct Warning;
}

/// What is warned of how deep is ground and how the stack of plies fills that.
namespace tearline::warn {

struct SkinUnknown {
    static constexpr WarningCode code{"skin-unknown", WarningRank::act};
    double depth;  ///< [mm]
    [[nodiscard]] Sentence words() const;
};

struct NoFloor {
    static constexpr WarningCode code{"no-floor", WarningRank::act};
    double depth, skin;  ///< [mm]
    [[nodiscard]] Sentence words() const;
};

struct FloorThin {
    static constexpr WarningCode code{"floor-thin", WarningRank::act};
    double depth, skin;  ///< [mm]
    [[nodiscard]] Sentence words() const;
};

struct DepthOverOldLaminate {
    static constexpr WarningCode code{"depth-over-old-laminate", WarningRank::stop};
    double depth, old;  ///< [mm]
    [[nodiscard]] Sentence words() const;
};

struct ScarfSteep {
    static constexpr WarningCode code{"scarf-steep", WarningRank::stop};
    double ratio;  ///< [-]
    [[nodiscard]] Sentence words() const;
};

struct StackOffDepth {
    static constexpr WarningCode code{"stack-off-depth", WarningRank::stop};
    double stack;                ///< [mm]
    double depth;                ///< [mm] of the dish
    std::optional<double> coat;  ///< [mm] of a final topcoat in it
    bool sounded;  ///< whether the dish is known by soundings, what lies above it then left out
    [[nodiscard]] Sentence words() const;
};

struct PlyAsCover {
    static constexpr WarningCode code{"ply-as-cover", WarningRank::know};
    double start;       ///< [mm] over the floor
    double depth;       ///< [mm] of the dish
    bool to_match_old;  ///< or as the job lists it
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct ScarfProud {
    static constexpr WarningCode code{"scarf-proud", WarningRank::act};
    double mean, most;  ///< [mm] that the laminate stands over the scarf; mean < 0: low
    [[nodiscard]] Sentence words() const;
};

/// How a scarf ends: "0.53 mm proud on average, 1.05 mm at most", "0.11 mm low on average, 0.20 mm
/// proud at most"; nothing where it is nowhere proud by 0.005 mm.
///
/// @param mean, most  [mm]
[[nodiscard]] Sentence proud_words(double mean, double most);

}  // namespace tearline::warn

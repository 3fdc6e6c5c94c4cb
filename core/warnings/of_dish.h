#pragma once
#include <optional>
#include <string>

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

struct CoreGapWide {
    static constexpr WarningCode code{"core-gap-wide", WarningRank::act};
    double gap;  ///< [mm]
    [[nodiscard]] Sentence words() const;
};

struct CoreStandsOff {
    static constexpr WarningCode code{"core-stands-off", WarningRank::stop};
    double off, bed;  ///< [mm]
    bool kerfs;       ///< whether the plug has any
    [[nodiscard]] Sentence words() const;
};

struct CoreWithoutMat {
    static constexpr WarningCode code{"core-without-mat", WarningRank::act};
    std::string skin;
    [[nodiscard]] Sentence words() const;
};

struct CoreNotSealed {
    static constexpr WarningCode code{"core-not-sealed", WarningRank::act};
    [[nodiscard]] Sentence words() const;
};

struct KerfCloses {
    static constexpr WarningCode code{"kerf-closes", WarningRank::stop};
    double moves, width;  ///< [mm]
    [[nodiscard]] Sentence words() const;
};

struct BackingDoesNotPass {
    static constexpr WarningCode code{"backing-does-not-pass", WarningRank::act};
    double length, least, roll;  ///< [mm] of the hole, that it needs, radius of a roll
    [[nodiscard]] Sentence words() const;
};

struct SandwichWeaker {
    static constexpr WarningCode code{"sandwich-weaker", WarningRank::stop};
    double bending, strength;  ///< [-] new over old
    [[nodiscard]] Sentence words() const;
};

/// How a scarf ends: "0.53 mm proud on average, 1.05 mm at most", "0.11 mm low on average, 0.20 mm
/// proud at most"; nothing where it is nowhere proud by 0.005 mm.
///
/// @param mean, most  [mm]
[[nodiscard]] Sentence proud_words(double mean, double most);

}  // namespace tearline::warn

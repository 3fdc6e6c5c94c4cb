#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/sentence.h"
#include "core/warnings/rank.h"

namespace tearline {
struct Warning;
}

/// What is warned of where the ground dish was sounded.
namespace tearline::warn {

struct SoundingDisagrees {
    static constexpr WarningCode code{"sounding-disagrees", WarningRank::stop};
    std::string key;   ///< of the sounding
    double depth;      ///< [mm] as read
    double by_others;  ///< [mm] as the soundings round it say
    [[nodiscard]] Sentence words() const;
};

struct StraightedgeRocks {
    static constexpr WarningCode code{"straightedge-rocks", WarningRank::stop};
    std::string key;  ///< of the sounding that is farthest off
    double over;      ///< [mm] how far the ground stands over its straightedge
    int soundings;    ///< of which it is so
    [[nodiscard]] Sentence words() const;
};

struct GroundSteep {
    static constexpr WarningCode code{"ground-steep", WarningRank::act};
    double ratio;        ///< [-] of the scarf
    std::size_t places;  ///< steeper than that
    double most;         ///< [mm] to grind on
    [[nodiscard]] Sentence words() const;
};

struct DepthTaken {
    static constexpr WarningCode code{"depth-taken", WarningRank::know};
    double deepest;        ///< [mm]
    bool scanned = false;  ///< else sounded
    double off = 0.0;      ///< [mm] k = 2, how far that may be off by its scan; 0: not told
    [[nodiscard]] Sentence words() const;
};

struct RoundTaken {
    static constexpr WarningCode code{"round-taken", WarningRank::know};
    /// [mm] of the scarf outside the outline; nothing where the outline is taken for its end.
    std::optional<double> scarf;
    [[nodiscard]] Sentence words() const;
};

struct DepthDiffers {
    static constexpr WarningCode code{"depth-differs", WarningRank::stop};
    double depth;    ///< [mm] as the job says
    double deepest;  ///< [mm] as sounded
    [[nodiscard]] Sentence words() const;
};

/// What was left out of a ply's regions, since nobody can lay it.
struct LeftOut {
    int places = 0;
    double area = 0.0;  ///< [mm2] of them
};

/// The dish from the depth on where a ply would lie is nowhere wide enough for it.
struct TooNarrow {
    double depth;  ///< [mm]
    double width;  ///< [mm] that cloth needs
    LeftOut left_out;
};

struct PocketNarrow {
    static constexpr WarningCode code{"pocket-narrow", WarningRank::act};
    TooNarrow bottom;
    [[nodiscard]] Sentence words() const;
};

struct PlyWithoutPlace {
    static constexpr WarningCode code{"ply-without-place", WarningRank::act};
    std::string fabric;
    TooNarrow dish;
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct Slivers {
    static constexpr WarningCode code{"slivers", WarningRank::act};
    std::string fabric;
    double width;     ///< [mm] that cloth needs
    double scissors;  ///< [mm] that scissors need
    int joined;       ///< too narrow and joined to the part beside
    int closed;       ///< openings too narrow
    LeftOut left_out;
    int tails, inlets;  ///< too narrow for scissors
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct BuiltSoFar {
    static constexpr WarningCode code{"built-so-far", WarningRank::know};
    struct Ply {
        int number;
        double thickness;      ///< [mm]
        double glass_content;  ///< [-] by mass
    };
    int plies;              ///< that were laid
    double planned, built;  ///< [mm]
    std::vector<Ply> each;
    [[nodiscard]] Sentence words() const;
};

}  // namespace tearline::warn

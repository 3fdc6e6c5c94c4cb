#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/sentence.h"
#include "core/base/vec.h"
#include "core/warnings/rank.h"

/// What is warned of a scan; places are its own, as the job file has them: before its tapes' scale.
namespace tearline::warn {

struct ScanFitted {
    static constexpr WarningCode code{"scan-fitted", WarningRank::know};
    std::size_t used, points;  ///< believed, of those about the damage
    double noise;              ///< [mm] standard deviation
    double fairness;           ///< [mm]
    double middle;             ///< [mm] k = 2, how far the surface may be off at the middle
    bool bridged;              ///< whether the damage itself is bridged
    [[nodiscard]] Sentence words() const;
};

struct ScanStrays {
    static constexpr WarningCode code{"scan-strays", WarningRank::know};
    std::size_t count;  ///< points off the surface
    Vec3 at;            ///< [mm] one of those farthest off
    double off;         ///< [mm] how far
    [[nodiscard]] Sentence words() const;
};

struct ScanHoles {
    static constexpr WarningCode code{"scan-holes", WarningRank::know};
    std::size_t count;
    double width;  ///< [mm] of the largest, as a disc
    Vec3 at;       ///< [mm] its middle
    [[nodiscard]] Sentence words() const;
};

struct ScanOneSided {
    static constexpr WarningCode code{"scan-one-sided", WarningRank::stop};
    double cover;  ///< [deg] of the way round that shows sound skin
    double most;   ///< [mm] k = 2, how far the surface may be off
    [[nodiscard]] Sentence words() const;
};

struct ScanEdgeUnsure {
    static constexpr WarningCode code{"scan-edge-unsure", WarningRank::stop};
    double off;   ///< [mm] k = 2, how far the edge may be off
    double step;  ///< [mm] of the ply
    enum class Most { scale, surface, picking, dish } most;  ///< what makes the most of it
    [[nodiscard]] Sentence words() const;
};

struct ScanOneTape {
    static constexpr WarningCode code{"scan-one-tape", WarningRank::act};
    double length;  ///< [mm] that was taped
    [[nodiscard]] Sentence words() const;
};

struct ScanTapes {
    static constexpr WarningCode code{"scan-tapes", WarningRank::know};
    double percent;  ///< [%] of its own size that the scan was taken at
    double misfit;   ///< [mm] the most that a tape differs from the hull then
    std::size_t tapes;
    [[nodiscard]] Sentence words() const;
};

struct DishScanLaid {
    static constexpr WarningCode code{"dish-scan-laid", WarningRank::know};
    double off;    ///< [mm] spread of the sound skin about the old surface
    double noise;  ///< [mm] of the scan
    [[nodiscard]] Sentence words() const;
};

struct ScanBend {
    static constexpr WarningCode code{"scan-bend", WarningRank::stop};
    double radius;                  ///< [mm]
    Vec3 at;                        ///< [mm]
    std::vector<Vec3> middle = {};  ///< [mm] places along it, as the job file would have them
    [[nodiscard]] Sentence words() const;
};

struct ScanUnfollowed {
    static constexpr WarningCode code{"scan-unfollowed", WarningRank::stop};
    double off;  ///< [mm] of the points there from the surface
    Vec3 at;     ///< [mm]
    [[nodiscard]] Sentence words() const;
};

struct ScanChine {
    static constexpr WarningCode code{"scan-chine", WarningRank::act};
    double turn;               ///< [deg]
    Vec3 at;                   ///< [mm]
    std::vector<Vec3> points;  ///< [mm] along it, as the job file would have them
    [[nodiscard]] Sentence words() const;
};

struct ScanChineUnsure {
    static constexpr WarningCode code{"scan-chine-unsure", WarningRank::stop};
    double turn;               ///< [deg]
    Vec3 at;                   ///< [mm]
    std::vector<Vec3> points;  ///< [mm] along it, as the job file would have them
    [[nodiscard]] Sentence words() const;
};

struct GroundFound {
    static constexpr WarningCode code{"ground-found", WarningRank::act};
    double across;       ///< [mm] of a disc of its area
    double spread;       ///< [mm] one standard deviation of its edge
    double least, most;  ///< [mm] from the centre to the edge
    [[nodiscard]] Sentence words() const;
};

}  // namespace tearline::warn

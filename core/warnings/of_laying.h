#pragma once
#include <optional>
#include <string>

#include "core/base/sentence.h"
#include "core/base/vec.h"
#include "core/warnings/rank.h"

namespace tearline {
struct Warning;
}

/// What is warned of how cloth lies on the hull and what is done to make it lie.
namespace tearline::warn {

/// A sharp edge of the hull under a ply.
struct CreaseMet {
    bool convex;     ///< as seen from the side that is laid
    double degrees;  ///< that it turns by
    Vec3 at;         ///< [mm] on the base surface
};

struct CreaseTrimmed {
    static constexpr WarningCode code{"crease-trimmed", WarningRank::know};
    CreaseMet crease;
    double shorter;  ///< [mm] of girth
    [[nodiscard]] Sentence words() const;
};

struct CreaseOpened {
    static constexpr WarningCode code{"crease-opened", WarningRank::know};
    CreaseMet crease;
    double radius;  ///< [mm] of the arc in which the cloth goes round it
    double longer;  ///< [mm] of girth
    [[nodiscard]] Sentence words() const;
};

struct MiddleOnCrease {
    static constexpr WarningCode code{"middle-on-crease", WarningRank::know};
    [[nodiscard]] Sentence words() const;
};

/// Where a ply's surface is tighter than its fabric can lie.
struct TightRadius {
    std::string fabric;
    double radius, least;  ///< [mm] of the surface, and that the fabric needs
};

struct RadiusConcave {
    static constexpr WarningCode code{"radius-concave", WarningRank::act};
    TightRadius tight;
    struct Fillet {
        double volume, length;  ///< [mm3], [mm]
    };
    std::optional<Fillet> fillet;  ///< that eases it; nothing where the surface turns by no angle
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct RadiusConvex {
    static constexpr WarningCode code{"radius-convex", WarningRank::act};
    TightRadius tight;
    double off;  ///< [mm] that easing it to the least radius takes off at the edge
    /// [mm] to either side of the edge, where that starts; nothing where it turns by no angle.
    std::optional<double> starts;
    [[nodiscard]] Sentence words(const Warning&) const;
};

/// Why a shape does not lie down in one piece.
struct Complaint {
    enum class Of { strain, shear, width, cloth };
    Of of;
    double figure = 0.0, limit = 0.0;  ///< [%], [degrees], or [mm] of width
    std::optional<Vec3> at = {};       ///< [mm] on the hull: the worst place
    std::string cloth = {};            ///< why it cannot be laid at all
    /// "must shear by 31.2 degrees near ..., over the shear_limit of 30 degrees".
    [[nodiscard]] Sentence words() const;
};

struct ReliefCuts {
    static constexpr WarningCode code{"relief-cuts", WarningRank::know};
    std::string fabric;
    std::size_t slits, darts;
    Complaint uncut;
    double strain;  ///< [-] at most when it is cut
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct LaidInPieces {
    static constexpr WarningCode code{"laid-in-pieces", WarningRank::know};
    std::string fabric;
    bool torn;  ///< mat; cloth is cut
    std::size_t pieces;
    double lap;  ///< [mm]
    Complaint in_one;
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct SeamThroughMiddle {
    static constexpr WarningCode code{"seam-through-middle", WarningRank::act};
    std::string fabric;
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct ShearNearLimit {
    static constexpr WarningCode code{"shear-near-limit", WarningRank::act};
    std::string fabric;
    double shear, limit;  ///< [degrees]
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct CutAtHullEnd {
    static constexpr WarningCode code{"cut-at-hull-end", WarningRank::stop};
    bool measured;  ///< whether the hull ends only because nobody measured farther
    /// [mm] middle of the opening of the model that it ends at, if the job names none there
    std::optional<Vec3> hole = {};
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct CoverCutAtHullEnd {
    static constexpr WarningCode code{"cover-cut-at-hull-end", WarningRank::know};
    bool measured;                  ///< whether the hull ends only because nobody measured farther
    std::optional<Vec3> hole = {};  ///< [mm] as of CutAtHullEnd
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct LapsOverHullEnd {
    static constexpr WarningCode code{"laps-over-hull-end", WarningRank::act};
    double radius;         ///< [mm] of the finished face
    double ground_radius;  ///< [mm] that the ground edge is rounded to
    double turn;           ///< [degrees]
    double over;           ///< [mm] of the far face that is ground
    [[nodiscard]] Sentence words(const Warning&) const;
};

/// Cloth was asked to go over an end of the hull that none of it reaches.
struct LapWithoutEnd {
    static constexpr WarningCode code{"lap-without-end", WarningRank::act};
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct RoundTube {
    static constexpr WarningCode code{"round-tube", WarningRank::act};
    std::vector<int> plies;  ///< that go right round
    double apart;            ///< [mm] joints of successive ones
    [[nodiscard]] Sentence words(const Warning&) const;
};

struct WiderThanRoll {
    static constexpr WarningCode code{"wider-than-roll", WarningRank::stop};
    std::string fabric;
    double roll;  ///< [mm] its width
    [[nodiscard]] Sentence words() const;
};

}  // namespace tearline::warn

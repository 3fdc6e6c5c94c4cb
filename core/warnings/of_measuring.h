#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/sentence.h"
#include "core/warnings/rank.h"

/// What is warned of where a hull, its marks or the damage were measured.
namespace tearline::warn {

struct SuspiciousFigure {
    static constexpr WarningCode code{"suspicious-figure", WarningRank::stop};
    std::string key;    ///< of the figure in the job file
    std::string place;  ///< row and column in the words of the table
    double figure;      ///< [mm]
    double expected;    ///< [mm] as the figures round it say
    [[nodiscard]] Sentence words() const;
    /// The same where the figure is so far off that it is refused; without its key.
    [[nodiscard]] std::string refusal() const;
};

struct BeyondTheBatten {
    static constexpr WarningCode code{"beyond-the-batten", WarningRank::stop};
    double beyond;  ///< [mm] how far the repair reaches past its ends
    [[nodiscard]] Sentence words() const;
};

struct MeasuredHullOff {
    static constexpr WarningCode code{"measured-hull-off", WarningRank::stop};
    std::string key;        ///< of the figure that is missed most
    double figure, passes;  ///< [mm] as measured, and as the hull that is drawn has it
    [[nodiscard]] Sentence words() const;
};

struct MeasuredHull {
    static constexpr WarningCode code{"measured-hull", WarningRank::know};
    struct Rate {
        std::string key;  ///< of the figure
        double edge;      ///< [mm] that 1 mm of error in it moves an edge by
    };
    std::size_t figures;
    std::string farthest;  ///< key of the figure that is passed at the greatest distance
    double off;            ///< [mm] that distance
    bool misses;           ///< whether MeasuredHullOff says that already
    std::vector<Rate> rates;
    /// [mm] a slip must be as large to stand out among the others; nothing where that does not
    /// apply, infinite where none would.
    std::optional<double> tells;
    [[nodiscard]] Sentence words() const;
};

struct TapesMeetFlat {
    static constexpr WarningCode code{"tapes-meet-flat", WarningRank::stop};
    std::string key;              ///< of the point
    std::string first, second;    ///< marks taped from
    std::optional<double> moves;  ///< [mm] of the point by 1 mm of error; nothing: without end
    [[nodiscard]] Sentence words() const;
};

struct MarkInRepair {
    static constexpr WarningCode code{"mark-in-repair", WarningRank::act};
    std::string name;
    [[nodiscard]] Sentence words() const;
};

struct OutlineBulges {
    static constexpr WarningCode code{"outline-bulges", WarningRank::know};
    double beyond;  ///< [mm] how far the curve leaves the straight lines
    double more;    ///< [%] area that it holds
    [[nodiscard]] Sentence words() const;
};

}  // namespace tearline::warn

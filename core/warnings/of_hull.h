#pragma once
#include <string>

#include "core/base/sentence.h"
#include "core/warnings/rank.h"

/// What a model file is warned of.
namespace tearline::warn {

struct UnitDiffers {
    static constexpr WarningCode code{"unit-differs", WarningRank::stop};
    std::string key;          ///< that gives the unit, of the job file or the command line
    std::string given;        ///< unit
    std::string format, own;  ///< of the file, and its unit
    [[nodiscard]] Sentence words() const;
};

struct UnitUnlikely {
    static constexpr WarningCode code{"unit-unlikely", WarningRank::stop};
    double size;               ///< [mm] of the model
    bool small;                ///< or far too large
    std::string key;           ///< that gives the unit; "" where the file does
    std::string format, unit;  ///< of the file
    [[nodiscard]] Sentence words() const;
};

struct OutsideUnknown {
    static constexpr WarningCode code{"outside-unknown", WarningRank::stop};
    [[nodiscard]] Sentence words() const;
};

struct SkinDiffers {
    static constexpr WarningCode code{"skin-differs", WarningRank::stop};
    double skin;         ///< [mm] as the job says
    double least, most;  ///< [mm] between the two faces of the model
    [[nodiscard]] Sentence words() const;
};

}  // namespace tearline::warn

#pragma once
#include <optional>

#include "core/base/quantity.h"
#include "core/base/sentence.h"
#include "core/warnings/rank.h"

/// What is warned of what is mixed in one cup.
namespace tearline::warn {

struct DoseSmall {
    static constexpr WarningCode code{"dose-small", WarningRank::act};
    Grams cup;   ///< as mixed
    Grams left;  ///< over
    [[nodiscard]] Sentence words() const;
};

struct DoseWithoutTool {
    static constexpr WarningCode code{"dose-without-tool", WarningRank::stop};
    Grams cup;
    [[nodiscard]] Sentence words() const;
};

struct DoseOverCup {
    static constexpr WarningCode code{"dose-over-cup", WarningRank::stop};
    Grams largest;              ///< cup of the table
    Grams asked;                ///< cup of the job
    std::optional<Grams> dose;  ///< hardener of that one
    bool epoxy;
    bool density_known;  ///< of the hardener, by its own data sheet
    [[nodiscard]] Sentence words() const;
};

struct DoseMoved {
    static constexpr WarningCode code{"dose-moved", WarningRank::know};
    [[nodiscard]] Sentence words() const;
};

struct CupHeats {
    static constexpr WarningCode code{"cup-heats", WarningRank::stop};
    Grams largest, limit;
    [[nodiscard]] Sentence words() const;
};

struct CupOverGelMass {
    static constexpr WarningCode code{"cup-over-gel-mass", WarningRank::act};
    Grams largest;   ///< cup
    Grams measured;  ///< that the gel time was measured in
    [[nodiscard]] Sentence words() const;
};

}  // namespace tearline::warn

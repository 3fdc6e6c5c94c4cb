#pragma once
#include <optional>
#include <string>

#include "core/base/quantity.h"
#include "core/base/sentence.h"
#include "core/warnings/rank.h"

/// What is warned of the resin, its hardener, the topcoat and how they go together.
namespace tearline::warn {

struct HardenerAssumed {
    static constexpr WarningCode code{"hardener-assumed", WarningRank::act};
    double percent;
    [[nodiscard]] Sentence words() const;
};

struct CuredDensityAssumed {
    static constexpr WarningCode code{"cured-density-assumed", WarningRank::know};
    double density;  ///< [g/cm3]
    [[nodiscard]] Sentence words() const;
};

struct DensityMissing {
    static constexpr WarningCode code{"density-missing", WarningRank::know};
    bool resins;     ///< whether the resin's is given; else the hardener's
    bool by_volume;  ///< how the cups stand; else by mass
    [[nodiscard]] Sentence words() const;
};

struct TopcoatHardenerAssumed {
    static constexpr WarningCode code{"topcoat-hardener-assumed", WarningRank::act};
    double percent;
    [[nodiscard]] Sentence words() const;
};

struct HardenerHigh {
    static constexpr WarningCode code{"hardener-high", WarningRank::stop};
    bool topcoat;  ///< whether it is the topcoat's; else the resin's
    double percent, most;
    [[nodiscard]] Sentence words() const;
};

struct HardenerRangeNarrow {
    static constexpr WarningCode code{"hardener-range-narrow", WarningRank::act};
    [[nodiscard]] Sentence words() const;
};

struct RecoatPassed {
    static constexpr WarningCode code{"recoat-passed", WarningRank::stop};
    Hours planned, recoat;
    [[nodiscard]] Sentence words() const;
};

struct PolyesterOnEpoxy {
    static constexpr WarningCode code{"polyester-on-epoxy", WarningRank::act};
    bool own_topcoat;  ///< whether the job has one
    [[nodiscard]] Sentence words() const;
};

struct WaxedBetweenStages {
    static constexpr WarningCode code{"waxed-between-stages", WarningRank::act};
    [[nodiscard]] Sentence words() const;
};

struct ShopHot {
    static constexpr WarningCode code{"shop-hot", WarningRank::act};
    Celsius shop, hot;
    [[nodiscard]] Sentence words() const;
};

/// Why no gel time is known for a job.
struct NoGelTime {
    enum class Why { not_given, other_temperature, no_percent, other_percent };
    Why why;
    Celsius measured_at{0.0}, shop{0.0};
    double measured_with = 0.0, percent = 0.0;  ///< [%] of hardener
    [[nodiscard]] Sentence words() const;
};

struct TestCup {
    static constexpr WarningCode code{"test-cup", WarningRank::act};
    NoGelTime reason;
    [[nodiscard]] Sentence words() const;
};

}  // namespace tearline::warn

#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "core/base/vec.h"
#include "core/warnings/of_cups.h"
#include "core/warnings/of_dish.h"
#include "core/warnings/of_hull.h"
#include "core/warnings/of_laminate.h"
#include "core/warnings/of_laying.h"
#include "core/warnings/of_measuring.h"
#include "core/warnings/of_resin.h"
#include "core/warnings/of_scan.h"
#include "core/warnings/of_soundings.h"

namespace tearline {

/// Everything that a plan can warn of. Each has a code with its rank, the figures behind it, and
/// `words`, which forms its sentence when somebody is told: to be one of these, it must have all.
using WarningCause = std::variant<
    warn::BackingDoesNotPass, warn::BeyondTheBatten, warn::BuiltSoFar, warn::CoreGapWide,
    warn::CoreNotSealed, warn::CoreStandsOff, warn::CoreWithoutMat, warn::KerfCloses,
    warn::SandwichWeaker, warn::CoverCutAtHullEnd, warn::CreaseOpened, warn::CreaseTrimmed,
    warn::CupHeats, warn::CupOverGelMass, warn::CuredDensityAssumed, warn::CutAtHullEnd,
    warn::DensityMissing, warn::DepthDiffers, warn::DepthOverOldLaminate, warn::DepthTaken,
    warn::DishScanLaid, warn::DoseMoved, warn::DoseOverCup, warn::DoseSmall, warn::DoseWithoutTool,
    warn::EmulsionMatInEpoxy, warn::FewFreshLayers, warn::FloorThin, warn::GlassContentUnlikely,
    warn::GroundFound, warn::GroundSteep, warn::HardenerAssumed, warn::HardenerHigh,
    warn::HardenerRangeNarrow, warn::LaidInPieces, warn::LapWithoutEnd, warn::LapsOverHullEnd,
    warn::MarkInRepair, warn::MeasuredHull, warn::MeasuredHullOff, warn::MiddleOnCrease,
    warn::NoFloor, warn::OutlineBulges, warn::OutsideUnknown, warn::PatchStiffer, warn::PatchWeaker,
    warn::PlyAsCover, warn::PlyOverStage, warn::PlyWithoutPlace, warn::PocketNarrow,
    warn::PolyesterOnEpoxy, warn::RadiusConcave, warn::RadiusConvex, warn::RecoatPassed,
    warn::ReliefCuts, warn::ResinRange, warn::RoundTaken, warn::RoundTube, warn::RovingOnGround,
    warn::RovingsWithoutMat, warn::ScanBend, warn::ScanChine, warn::ScanChineUnsure,
    warn::ScanEdgeUnsure, warn::ScanFitted, warn::ScanHoles, warn::ScanOneSided, warn::ScanOneTape,
    warn::ScanStrays, warn::ScanTapes, warn::ScanUnfollowed, warn::ScarfProud, warn::ScarfShort,
    warn::ScarfSteep, warn::SeamThroughMiddle, warn::ShearNearLimit, warn::ShopHot,
    warn::SkinDiffers, warn::SkinUnknown, warn::Slivers, warn::SoundingDisagrees,
    warn::StackOffDepth, warn::StageHeats, warn::StraightedgeRocks, warn::SuspiciousFigure,
    warn::TapesMeetFlat, warn::TestCup, warn::TopcoatHardenerAssumed, warn::UnitDiffers,
    warn::UnitUnlikely, warn::WaxedBetweenStages, warn::WiderThanRoll>;

/// Something the user must know though a plan was made.
struct Warning {
    WarningCause cause;
    std::optional<int> ply = {};            ///< number as on the templates
    std::optional<std::string> piece = {};  ///< id as on the templates
    std::optional<Vec3> at = {};            ///< [mm] on the base surface
    std::vector<int> likewise = {};         ///< later plies of which the same is true
    std::string part = {};  ///< of the repair, where another part says it with other figures

    [[nodiscard]] std::string_view code() const;
    [[nodiscard]] WarningRank rank() const;
    /// What is told of it: field, value and remedy.
    [[nodiscard]] Sentence words() const;
};

using Warnings = std::vector<Warning>;

/// Whether a warning is of one cause.
template <class Cause>
[[nodiscard]] bool is(const Warning& warning) {
    return std::holds_alternative<Cause>(warning.cause);
}

/// The highest rank among some warnings.
[[nodiscard]] WarningRank highest_rank(const Warnings& warnings);

/// How many warnings there are of each rank, "2 to stop and decide, 1 to do, 3 to know"; nothing
/// where there are none.
[[nodiscard]] std::string counted_by_rank(const Warnings& warnings);

}  // namespace tearline

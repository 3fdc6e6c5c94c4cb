#pragma once
#include <string>
#include <vector>

#include "core/base/sentence.h"
#include "core/job/job.h"
#include "core/warnings/rank.h"

/// What is warned of the cloths, their order and the laminate that they make.
namespace tearline::warn {

struct PatchWeaker {
    static constexpr WarningCode code{"patch-weaker", WarningRank::stop};
    std::string verdict;  ///< of the comparison with the old laminate
    [[nodiscard]] Sentence words() const { return verdict; }
};

struct PatchStiffer {
    static constexpr WarningCode code{"patch-stiffer", WarningRank::stop};
    std::string verdict;  ///< of the comparison with the old laminate
    [[nodiscard]] Sentence words() const { return verdict; }
};

struct ScarfShort {
    static constexpr WarningCode code{"scarf-short", WarningRank::stop};
    std::string verdict;  ///< of the check of the scarf
    [[nodiscard]] Sentence words() const { return verdict; }
};

struct RovingOnGround {
    static constexpr WarningCode code{"roving-on-ground", WarningRank::stop};
    std::string fabric;
    [[nodiscard]] Sentence words() const;
};

/// The same two cloths, one on the other, however often they come.
struct RovingsWithoutMat {
    static constexpr WarningCode code{"rovings-without-mat", WarningRank::stop};
    std::string fabric, below;
    std::vector<int> again = {};  ///< later plies
    [[nodiscard]] Sentence words() const;
};

struct FewFreshLayers {
    static constexpr WarningCode code{"few-fresh-layers", WarningRank::stop};
    int layers;
    bool kept;  ///< that stay when it is sanded; else that reach over the ground glass
    [[nodiscard]] Sentence words() const;
};

struct GlassContentUnlikely {
    static constexpr WarningCode code{"glass-content-unlikely", WarningRank::stop};
    std::string fabric;
    job::FabricKind kind;
    double content, nominal, least;  ///< [-] by mass
    [[nodiscard]] Sentence words() const;
};

struct ResinRange {
    static constexpr WarningCode code{"resin-range", WarningRank::know};
    bool nominal;  ///< whether contents are those of common practice; else one is higher
    Grams more;    ///< resin than is planned
    [[nodiscard]] Sentence words() const;
};

struct PlyOverStage {
    static constexpr WarningCode code{"ply-over-stage", WarningRank::stop};
    double limit;  ///< [mm] of a stage
    [[nodiscard]] Sentence words() const;
};

struct StageHeats {
    static constexpr WarningCode code{"stage-heats", WarningRank::stop};
    double stage, limit;  ///< [mm] of the thickest stage
    [[nodiscard]] Sentence words() const;
};

struct EmulsionMatInEpoxy {
    static constexpr WarningCode code{"emulsion-mat-in-epoxy", WarningRank::stop};
    std::string fabric;
    std::vector<int> plies;  ///< of it; none where no plies are planned
    [[nodiscard]] Sentence words() const;
};

}  // namespace tearline::warn

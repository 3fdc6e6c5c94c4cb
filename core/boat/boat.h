#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/hull/hull.h"
#include "core/job/boat_job.h"
#include "core/layout/nest_rolls.h"
#include "core/plan/plan.h"
#include "core/quantities/cup.h"
#include "core/quantities/shopping.h"
#include "core/warnings/warning.h"

/// Several repairs of one boat, planned side by side: one nest, one shopping list, one order of
/// work.
namespace tearline::boat {

/// One place of the boat.
struct Repair {
    std::string name;
    std::optional<Plan> plan;                ///< none where it is refused
    std::string refused;                     ///< why, without the file
    std::shared_ptr<const hull::Hull> hull;  ///< that the plan was made on
};

/// A cup that several places take of.
struct SharedCup {
    int number = 0;       ///< from 1, over the whole boat
    quantities::Cup cup;  ///< what is mixed
    struct Take {
        std::size_t repair = 0, stage = 0;  ///< of `Boat::repairs`, of its plan's stages
        double resin_g = 0.0;
        double area_m2 = 0.0;  ///< that it wets
    };
    std::vector<Take> takes;  ///< in the order of use
};

/// Stages of one place that follow on each other without a wait: a priming coat, and the plies that
/// go into it wet.
struct Go {
    std::size_t repair = 0;
    std::vector<std::size_t> stages;
    double minutes = 0.0;  ///< wetting out and mixing, all copies; the first of a cup mixes it
};

/// Indices of two places each whose covers or torn bands lie on one another, the earlier one first.
using PairsThatMeet = std::vector<std::pair<std::size_t, std::size_t>>;

/// What can be laid in one go of the whole boat; the next one waits for it.
struct Round {
    std::vector<Go> goes;     ///< in the order of work
    bool after_cure = false;  ///< parts before it have cured, been uncovered and ground
};

/// Sums over all repairs, every copy of each.
struct Totals {
    double glass_area_m2 = 0.0, glass_g = 0.0, resin_g = 0.0;
    std::optional<double> hardener_g, hardener_mL;
    std::optional<double> topcoat_g, topcoat_hardener_g;
    double ground_area_m2 = 0.0, prime_g = 0.0, fairing_mL = 0.0;
};

/// What is warned of, with the places that it is of; none: of the boat.
struct ToldOf {
    std::string code;  ///< kebab-case; stable
    WarningRank rank = WarningRank::know;
    Sentence words;
    std::vector<std::string> repairs;
    std::optional<int> ply = {};
    std::optional<std::string> piece = {};
    std::optional<Vec3> at = {};  ///< [mm] on the base surface
};

struct Boat {
    job::BoatJob job;
    std::vector<Repair> repairs;  ///< in the order of the job file
    layout::Rolls nest;           ///< pieces are named "R1-1A"
    std::vector<Round> rounds;
    std::vector<SharedCup> cups;
    quantities::Shopping shopping;
    Totals totals;
    std::vector<ToldOf> warnings;

    [[nodiscard]] std::size_t planned() const;  ///< how many are not refused
    /// Any plan: for what all share.
    /// @pre  one is planned
    [[nodiscard]] const Plan& any() const;
};

/// "R1-1A": a piece among those of the whole boat.
[[nodiscard]] std::string piece_name(const std::string& repair, const std::string& piece);

}  // namespace tearline::boat

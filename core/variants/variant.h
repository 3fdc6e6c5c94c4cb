#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/base/outline.h"
#include "core/base/units.h"
#include "core/batch/task.h"
#include "core/job/change.h"
#include "core/warnings/rank.h"

namespace tearline::variants {

/// A ring of the grind guide, flat.
struct Ring {
    int ply = 0;  ///< 0: damage outline, -1: scarf edge
    std::vector<Loop2> loops;
};

/// What is warned of.
struct Caution {
    WarningRank rank = WarningRank::know;
    std::string code, message;
};

/// A job with some of its keys changed, and what came of it.
struct Variant {
    std::vector<std::string> values;  ///< of the varied keys, as they were written
    batch::Status status;
    std::string message;  ///< why it is not done; "" else
    std::string title, currency;
    Units units = Units::metric;
    /// Figures by their names in a result; what does not apply is not there.
    std::map<std::string, double> figures;
    bool cost_complete = false;  ///< whether all that is bought has a price, in one currency
    bool weaker = false;         ///< than the old laminate, which the job tells
    std::vector<Caution> warnings;
    std::vector<Ring> rings;

    [[nodiscard]] std::optional<double> figure(const std::string& name) const;
    [[nodiscard]] int count(WarningRank rank) const;
    /// Why it cannot be the best in anything (DEFINITIONS.md, Variants); "" where it can.
    [[nodiscard]] std::string not_marked_because() const;
};

/// Every combination of the values of some keys, side by side.
struct Variants {
    std::string title, currency;
    Units units = Units::metric;
    std::vector<std::string> keys;  ///< that are varied
    std::vector<Variant> all;       ///< the last key's values change first
};

}  // namespace tearline::variants

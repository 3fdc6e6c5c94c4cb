#pragma once
#include <string>
#include <vector>

#include "core/quantities/quantities.h"

namespace tearline::quantities {

/// Steps of grit, coarse to fine [FEPA P numbers].
/// @source common practice
[[nodiscard]] std::vector<int> sanding_grits(const job::Job& job);

/// Something used up beside cloth and resin.
struct Consumable {
    std::string name;
    double amount = 0.0;  ///< whole where it is counted
    std::string unit;     ///< "" where it is counted, "mL", "m" or "m2"
    std::string rule;     ///< what the amount is made of
};

/// Consumables of all copies, each by a stated rule of common practice.
[[nodiscard]] std::vector<Consumable> consumables(const job::Job& job, const Areas& areas,
                                                  const Quantities& quantities);

/// Cups to mix, the topcoat's and a test cup included, of one copy.
[[nodiscard]] int cups_in_all(const Quantities& quantities);

}  // namespace tearline::quantities

#pragma once
#include "core/layout/nest_rolls.h"
#include "core/quantities/quantities.h"

namespace tearline::quantities {

/// One thing to buy, for all copies.
struct ShoppingItem {
    std::string kind;  ///< "cloth" | "resin" | "hardener" | "fairing" | "topcoat" or "gel coat" (+
                       ///< " hardener")
    std::string name;
    double amount = 0.0;         ///< needed, in `unit`
    std::string unit;            ///< "m" of roll, "g" or "mL"
    int packs = 0;               ///< cans to buy; 0 where none is known of
    double pack = 0.0;           ///< what one holds, in `unit`
    std::optional<double> cost;  ///< of what is bought: whole cans, whole roll width
    std::string pack_text;       ///< what one holds, as the job file writes it
};

struct Shopping {
    std::vector<ShoppingItem> items;
    std::string currency;
    std::optional<double> cost;  ///< of the items that have one; none when no price is given
    bool complete = false;       ///< whether every item has a price
};

/// What to buy for all copies: cloth by the metre of roll, resin by the can, hardener, topcoat,
/// fairing compound; with costs where prices are given.
///
/// Cans are bought whole and cloth in the roll's whole width.
[[nodiscard]] Shopping shopping_of(const job::Job& job, const Areas& areas,
                                   const Quantities& quantities,
                                   std::span<const layout::Roll> rolls);

/// One of several repairs that are bought for together.
struct RepairToBuy {
    const job::Job& job;
    Areas areas;
    const Quantities& quantities;
};

/// The same for several repairs of one boat, each in its copies: rolls, cans and the test cup once
/// for all.
///
/// @param shared  cups that several repairs take of
/// @pre  one or more, that share resin, fabrics and prices
[[nodiscard]] Shopping shopping_of(std::span<const RepairToBuy> repairs,
                                   std::span<const Cup> shared,
                                   std::span<const layout::Roll> rolls);

/// Whether a topcoat goes on: polyester's own does not bond to epoxy, so an epoxy job has one only
/// where the job file says which ([topcoat]).
[[nodiscard]] bool takes_topcoat(const job::Job& job);

}  // namespace tearline::quantities

#include "core/quantities/shopping.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"

namespace tearline::quantities {

namespace {

constexpr double mm_a_metre = 1000.0, grams_a_kilogram = 1000.0, mL_a_litre = 1000.0;

const char* resin_name(job::ResinKind kind) {
    switch (kind) {
        case job::ResinKind::polyester:
            return "polyester resin";
        case job::ResinKind::vinylester:
            return "vinylester resin";
        case job::ResinKind::epoxy:
            return "epoxy resin";
    }
    return "";
}

std::optional<double> times(std::optional<double> price, double amount) {
    if (!price) return std::nullopt;
    return *price * amount;
}

class List {
public:
    explicit List(Plan& plan) : plan_(plan), copies_(std::max(plan.job.layup.copies, 1)) {
        if (plan.job.prices) prices_ = *plan.job.prices;
    }

    void add_cloth() {
        for (const Roll& roll : plan_.rolls) {
            if (!(roll.length_mm > 0.0)) continue;
            const double metres = roll.length_mm / mm_a_metre;
            ShoppingItem item{"cloth", roll.fabric, metres, "m", 0, 0.0, {}};
            const auto price = prices_.fabric_per_m2.find(roll.fabric);
            if (price != prices_.fabric_per_m2.end())
                item.cost = price->second * metres * roll.width_mm / mm_a_metre;
            add(item);
        }
    }

    void add_resin() {
        const Totals& totals = plan_.totals;
        const job::Resin& resin = plan_.job.resin;
        double grams = copies_ * totals.resin_g;
        // What is mixed of epoxy holds its hardener, which comes in a can of its own.
        if (resin.kind == job::ResinKind::epoxy) grams -= copies_ * totals.hardener_g.value_or(0.0);
        ShoppingItem item{"resin", resin_name(resin.kind), grams, "g", 0, resin.can.value(), {}};
        item.packs = static_cast<int>(std::ceil(grams / item.pack - tolerance::decimal_rounding));
        item.cost = times(prices_.resin_per_kg, item.packs * item.pack / grams_a_kilogram);
        add(item);
        if (!totals.hardener_g) return;
        const double hardener = copies_ * *totals.hardener_g;
        add({"hardener", "hardener of the resin", hardener, "g", 0, 0.0,
             times(prices_.hardener_per_kg, hardener / grams_a_kilogram)});
    }

    void add_finish() {
        const Totals& totals = plan_.totals;
        if (takes_topcoat(plan_.job)) add_topcoat();
        const double compound = copies_ * totals.fairing_mL;
        add({"fairing", "fairing compound", compound, "mL", 0, 0.0,
             times(prices_.fairing_per_litre, compound / mL_a_litre)});
    }

    void add_topcoat() {
        const Totals& totals = plan_.totals;
        const double topcoat = copies_ * totals.topcoat_g;
        const double hardener = copies_ * totals.topcoat_hardener_g;
        add({"topcoat", "topcoat", topcoat, "g", 0, 0.0,
             times(prices_.topcoat_per_kg, topcoat / grams_a_kilogram)});
        // Priced as the resin's: both are peroxide, but for epoxy, whose price says nothing of it.
        const bool same = plan_.job.resin.kind != job::ResinKind::epoxy;
        add({"topcoat hardener", "hardener of the topcoat", hardener, "g", 0, 0.0,
             same ? times(prices_.hardener_per_kg, hardener / grams_a_kilogram) : std::nullopt});
    }

    [[nodiscard]] Shopping take() {
        shopping_.currency = prices_.currency;
        shopping_.complete = std::all_of(shopping_.items.begin(), shopping_.items.end(),
                                         [](const ShoppingItem& item) { return item.cost; });
        return std::move(shopping_);
    }

private:
    void add(const ShoppingItem& item) {
        if (!(item.amount > 0.0)) return;
        if (item.cost) shopping_.cost = shopping_.cost.value_or(0.0) + *item.cost;
        shopping_.items.push_back(item);
    }

    Plan& plan_;
    double copies_;
    job::Prices prices_;
    Shopping shopping_;
};

}  // namespace

bool takes_topcoat(const job::Job& job) {
    return job.resin.kind != job::ResinKind::epoxy || job.topcoat_given;
}

void fill_shopping(Plan& plan) {
    List list(plan);
    list.add_cloth();
    list.add_resin();
    list.add_finish();
    plan.shopping = list.take();
}

}  // namespace tearline::quantities

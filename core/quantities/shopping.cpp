#include "core/quantities/shopping.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/quantities/cup_shares.h"
#include "core/quantities/cups.h"
#include "core/quantities/finish_amounts.h"
#include "core/quantities/hardener.h"

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
    List(std::span<const RepairToBuy> repairs, std::span<const Cup> shared)
        : repairs_(repairs), shared_(shared), job_(repairs.front().job) {
        if (job_.prices) prices_ = *job_.prices;
    }

    void add_cloth(std::span<const layout::Roll> rolls) {
        for (const layout::Roll& roll : rolls) {
            if (!(roll.length_mm > 0.0)) continue;
            const double metres = roll.length_mm / mm_a_metre;
            ShoppingItem item{"cloth", roll.fabric, metres, "m", 0, 0.0, {}, {}};
            const auto price = prices_.fabric_per_m2.find(roll.fabric);
            if (price != prices_.fabric_per_m2.end())
                item.cost = price->second * metres * roll.width_mm / mm_a_metre;
            add(item);
        }
    }

    /// What is mixed: what the job needs, what is left of cups too small to measure, and the test
    /// cup before them.
    [[nodiscard]] Grams mixed() const {
        Grams all(test_cup(job_).mix_resin_g);
        for (const RepairToBuy& repair : repairs_)
            all = all + copies_of(repair) * mixed_in_all(repair.quantities);
        for (const Cup& cup : shared_) all = all + Grams(cup.left_g);
        return all;
    }

    /// Resin alone and its hardener: what is mixed of epoxy holds both, and both come in cans.
    void add_resin() {
        const job::Resin& resin = job_.resin;
        const Recipe recipe = recipe_for(mixed(), resin);
        add_by_can(recipe, resin);
        ShoppingItem item{"hardener", "hardener of the resin", 0.0, "g", 0, 0.0, {}, {}};
        if (recipe.hardener) {
            item.amount =
                recipe.hardener->value() + moved_up(&Cup::mix_hardener_g, hardener_g(resin));
            item.cost = times(prices_.hardener_per_kg, item.amount / grams_a_kilogram);
        } else if (recipe.hardener_volume) {
            item.amount = recipe.hardener_volume->value() +
                          moved_up(&Cup::mix_hardener_mL, hardener_mL(resin));
            item.unit = "mL";
        }
        add(item);
    }

    static double hardener_g(const job::Resin& resin) {
        return recipe_for(Grams(1.0), resin).hardener->value();
    }
    static double hardener_mL(const job::Resin& resin) {
        return recipe_for(Grams(1.0), resin).hardener_volume->value();
    }

    /// What doses moved up from the lower end of hardener_range take beyond the percentage.
    [[nodiscard]] double moved_up(std::optional<double> Cup::*dose, double each) const {
        const auto more_in = [&](const Cup& cup) {
            return std::max(0.0, (cup.*dose).value_or(0.0) - each * cup.mix_resin_g);
        };
        double more = more_in(test_cup(job_));
        for (const RepairToBuy& repair : repairs_)
            for (const Stage& stage : repair.quantities.stages)
                for (const Cup& cup : stage.cups) more += copies_of(repair) * more_in(cup);
        for (const Cup& cup : shared_) more += more_in(cup);
        return more;
    }

    /// Cans bought whole; one by volume holds what the resin's density says, or `sizing_density`.
    void add_by_can(const Recipe& recipe, const job::Resin& resin) {
        const GramsPerMillilitre density = resin.density.value_or(sizing_density);
        const Grams can = resin.can.mass ? *resin.can.mass : *resin.can.volume * density;
        ShoppingItem item{"resin", resin_name(resin.kind), 0.0, "g", 0, can.value(), {}, {}};
        item.pack_text = resin.can.text;
        if (recipe.resin) {
            item.amount = recipe.resin->value();
        } else {
            item.amount = recipe.resin_volume->value();
            item.unit = "mL";
            item.pack = (can / density).value();
        }
        item.packs =
            static_cast<int>(std::ceil(item.amount / item.pack - tolerance::decimal_rounding));
        item.cost = times(prices_.resin_per_kg, item.packs * can.value() / grams_a_kilogram);
        add(item);
    }

    void add_finish() {
        for (const RepairToBuy& repair : repairs_) add_finish(repair);
    }

    void add_finish(const RepairToBuy& repair) {
        const Totals& totals = repair.quantities.totals;
        if (totals.topcoat_g)
            add_topcoat(Grams(*totals.topcoat_g), repair,
                        {"topcoat", "topcoat", "hardener of the topcoat"});
        // A sealing coat is sanded off: the finish takes another.
        if (const auto grams = gel_coat(repair.job, repair.areas);
            grams && !repair.job.topcoat.final_coat)
            add_topcoat(*grams, repair,
                        {"gel coat", "gel coat of the finish, unless it is painted",
                         "hardener of that gel coat"});
        const double compound = copies_of(repair) * totals.fairing_mL;
        add({"fairing",
             "fairing compound",
             compound,
             "mL",
             0,
             0.0,
             times(prices_.fairing_per_litre, compound / mL_a_litre),
             {}});
    }

    struct CoatNames {
        std::string kind, coat, hardener;
    };

    /// What is mixed of it: more than the coat needs where its cups leave some over or doses are
    /// moved inwards.
    void add_topcoat(Grams grams, const RepairToBuy& repair, const CoatNames& names) {
        const double copies = copies_of(repair);
        double topcoat = 0.0, hardener = 0.0;
        for (const Cup& cup : topcoat_cups(grams, repair.job)) {
            topcoat += copies * cup.mix_resin_g;
            hardener += copies * cup.mix_hardener_g.value_or(0.0);
        }
        add({names.kind,
             names.coat,
             topcoat,
             "g",
             0,
             0.0,
             times(prices_.topcoat_per_kg, topcoat / grams_a_kilogram),
             {}});
        // Priced as the resin's: one liquid for both, but for epoxy, whose price says nothing of
        // it.
        const bool same = job_.resin.kind != job::ResinKind::epoxy;
        add({names.kind + " hardener",
             names.hardener,
             hardener,
             "g",
             0,
             0.0,
             same ? times(prices_.hardener_per_kg, hardener / grams_a_kilogram) : std::nullopt,
             {}});
    }

    [[nodiscard]] Shopping take() {
        shopping_.currency = prices_.currency;
        shopping_.complete = std::all_of(shopping_.items.begin(), shopping_.items.end(),
                                         [](const ShoppingItem& item) { return item.cost; });
        return std::move(shopping_);
    }

private:
    static double copies_of(const RepairToBuy& repair) {
        return std::max(repair.job.layup.copies, 1);
    }

    /// What is bought for several repairs stands in one line.
    void add(const ShoppingItem& item) {
        if (!(item.amount > 0.0)) return;
        if (item.cost) shopping_.cost = shopping_.cost.value_or(0.0) + *item.cost;
        for (ShoppingItem& known : shopping_.items) {
            if (known.kind != item.kind || known.name != item.name || known.kind == "cloth")
                continue;
            known.amount += item.amount;
            if (item.cost) known.cost = known.cost.value_or(0.0) + *item.cost;
            return;
        }
        shopping_.items.push_back(item);
    }

    std::span<const RepairToBuy> repairs_;
    std::span<const Cup> shared_;
    const job::Job& job_;  ///< of any: for what they share
    job::Prices prices_;
    Shopping shopping_;
};

}  // namespace

bool takes_topcoat(const job::Job& job) {
    if (job.part.covered) return false;
    return job.resin.kind != job::ResinKind::epoxy || job.topcoat_given;
}

Shopping shopping_of(const job::Job& job, const Areas& areas, const Quantities& quantities,
                     std::span<const layout::Roll> rolls) {
    const RepairToBuy alone{job, areas, quantities};
    return shopping_of({&alone, 1}, {}, rolls);
}

Shopping shopping_of(std::span<const RepairToBuy> repairs, std::span<const Cup> shared,
                     std::span<const layout::Roll> rolls) {
    List list(repairs, shared);
    list.add_cloth(rolls);
    list.add_resin();
    list.add_finish();
    return list.take();
}

}  // namespace tearline::quantities

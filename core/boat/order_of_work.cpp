#include "core/boat/order_of_work.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "core/base/tolerances.h"
#include "core/quantities/cup_shares.h"
#include "core/quantities/cups.h"
#include "core/quantities/hardener.h"
#include "core/quantities/work_time.h"

namespace tearline::boat {

namespace {

using quantities::Batch;
using quantities::Cup;
using quantities::Quantities;
using quantities::Stage;

double resin_of(const Stage& stage) {
    double sum = 0.0;
    for (const Cup& cup : stage.cups) sum += cup.resin_g;
    return sum;
}

/// A place keeps its cups to itself where another's hand cannot be in them at the same time, or
/// they are mixed several times.
bool may_share(const Plan& plan) {
    return plan.parts.empty() && !plan.backing && !plan.core && plan.job.layup.copies <= 1 &&
           quantities::use_within(plan.job).has_value();
}

bool same_mixture(const job::Resin& a, const job::Resin& b) {
    const auto value = [](const auto& amount) {
        return amount ? std::optional(amount->value()) : std::nullopt;
    };
    return a.kind == b.kind && a.hardener_percent == b.hardener_percent &&
           a.hardener_parts == b.hardener_parts && a.hardener_basis == b.hardener_basis &&
           a.hardener_range == b.hardener_range && value(a.density) == value(b.density) &&
           value(a.hardener_density) == value(b.hardener_density);
}

/// One stage that takes what a cup holds; with it the priming coat where that is too small for a
/// cup of its own.
struct Portion {
    std::size_t repair = 0, stage = 0;
    Batch batch{Grams(0.0), SquareMetres(0.0)};
    bool primes = false;
};

Portion portion_of(std::size_t repair, const Quantities& quantities, std::size_t index) {
    const Stage& stage = quantities.stages[index];
    Portion out{repair,
                index,
                {Grams(resin_of(stage)), quantities::stage_area(quantities, index)},
                stage.primes_g > 0.0};
    out.batch.resin = out.batch.resin + Grams(stage.primes_g);
    return out;
}

/// What the stages of a go take, cup by cup; the priming coat of the next one's first cup left out.
std::vector<Portion> portions_of(const Go& go, const Quantities& quantities) {
    std::vector<Portion> out;
    for (const std::size_t index : go.stages)
        if (!quantities.stages[index].cups.empty() &&
            !(index == 0 && quantities::primed_from_next(quantities)))
            out.push_back(portion_of(go.repair, quantities, index));
    return out;
}

/// The one cup for a batch; none where it would take several, or a larger one than is mixed at
/// once.
std::optional<Cup> one_cup(const Batch& batch, const job::Job& job) {
    const std::vector<Cup> cups = quantities::cups_for(batch, job);
    if (cups.size() != 1) return std::nullopt;
    if (cups.front().mix_resin_g > job.resin.cup.value() + tolerance::decimal_rounding)
        return std::nullopt;
    return cups.front();
}

/// Whether each stage of a go takes one cup.
bool is_small(const Go& go, const Plan& plan) {
    const auto portions = portions_of(go, plan.quantities);
    return may_share(plan) && !portions.empty() &&
           std::all_of(portions.begin(), portions.end(), [&](const Portion& portion) {
               return portion.batch.resin <= plan.job.resin.cup &&
                      quantities::cups_for(portion.batch, plan.job).size() == 1;
           });
}

/// Goes of one place with how many cures come before each.
struct Ordered {
    Go go;
    int cures = 0, index = 0;  ///< within its part, from 0
};

std::vector<Ordered> goes_of(std::size_t repair, const Plan& plan) {
    std::vector<Ordered> out;
    const auto& stages = plan.quantities.stages;
    for (std::size_t i = 0; i < stages.size(); ++i) {
        const bool same_part = i > 0 && stages[i - 1].part == stages[i].part;
        if (same_part && stages[i - 1].plies.empty()) {
            out.back().go.stages.push_back(i);  // into the wet coat
            continue;
        }
        Ordered next{{repair, {i}, 0.0}, 0, 0};
        if (!out.empty()) {
            next.cures = out.back().cures + (same_part ? 0 : 1);
            next.index = same_part ? out.back().index + 1 : 0;
        }
        out.push_back(std::move(next));
    }
    return out;
}

/// Portions that go into one cup together.
class CupFiller {
public:
    CupFiller(std::vector<Repair>& repairs, std::vector<SharedCup>& cups)
        : repairs_(repairs), cups_(cups) {}

    void add(const Portion& portion) {
        if (!fits(portion)) close();
        held_.push_back(portion);
    }

    /// A cup of one place alone stays its own.
    void close() {
        std::set<std::size_t> places;
        for (const Portion& portion : held_) places.insert(portion.repair);
        if (places.size() > 1) pour();
        held_.clear();
    }

private:
    [[nodiscard]] const job::Job& job_of(const Portion& portion) const {
        return repairs_[portion.repair].plan->job;
    }

    [[nodiscard]] Batch with(const Portion* more) const {
        Batch sum{Grams(0.0), SquareMetres(0.0)};
        const auto add = [&](const Portion& portion) {
            sum.resin = sum.resin + portion.batch.resin;
            sum.area = sum.area + portion.batch.area;
        };
        for (const Portion& portion : held_) add(portion);
        if (more != nullptr) add(*more);
        return sum;
    }

    [[nodiscard]] bool fits(const Portion& portion) const {
        if (held_.empty()) return true;
        const job::Job& job = job_of(held_.front());
        return same_mixture(job.resin, job_of(portion).resin) &&
               one_cup(with(&portion), job).has_value();
    }

    void pour() {
        SharedCup shared;
        shared.number = static_cast<int>(cups_.size()) + 1;
        shared.cup = one_cup(with(nullptr), job_of(held_.front())).value();
        for (const Portion& portion : held_) take(portion, shared);
        cups_.push_back(std::move(shared));
    }

    void take(const Portion& portion, SharedCup& shared) {
        Quantities& quantities = repairs_[portion.repair].plan->quantities;
        Stage& stage = quantities.stages[portion.stage];
        const auto draw = [&](std::size_t index, double resin_g) {
            Stage& from = quantities.stages[index];
            const double area = quantities::stage_area(quantities, index).value();
            shared.takes.push_back({portion.repair, index, resin_g, area});
            from.boat_cup = shared.number;
            from.cups = {quantities::cup_of_another(Grams(resin_g), job_of(portion))};
        };
        const double primes_g = std::exchange(stage.primes_g, 0.0);
        if (portion.primes) draw(0, primes_g);
        draw(portion.stage, portion.batch.resin.value() - primes_g);
    }

    std::vector<Repair>& repairs_;
    std::vector<SharedCup>& cups_;
    std::vector<Portion> held_;
};

/// How many cures come before a place begins that lies on covers of others before it.
/// @param finished  of each place before it: how many have come when its last part has cured
int cures_before(std::size_t place, const PairsThatMeet& meeting,
                 const std::vector<int>& finished) {
    int cures = 0;
    for (const auto& [first, second] : meeting)
        if (second == place) cures = std::max(cures, finished[first]);
    return cures;
}

}  // namespace

std::vector<Round> order_of_work(const std::vector<Repair>& repairs, const PairsThatMeet& meeting) {
    std::map<std::pair<int, int>, std::vector<Go>> rounds;
    std::vector<int> finished(repairs.size(), 0);
    for (std::size_t i = 0; i < repairs.size(); ++i) {
        if (!repairs[i].plan) continue;
        const int before = cures_before(i, meeting, finished);
        for (Ordered& next : goes_of(i, *repairs[i].plan)) {
            const int cures = before + next.cures;
            finished[i] = cures + 1;
            rounds[{cures, next.index}].push_back(std::move(next.go));
        }
    }
    std::vector<Round> out;
    for (auto& [when, goes] : rounds) {
        std::stable_partition(goes.begin(), goes.end(),
                              [&](const Go& go) { return is_small(go, *repairs[go.repair].plan); });
        out.push_back({std::move(goes), when.first > 0 && when.second == 0});
    }
    return out;
}

std::vector<SharedCup> share_cups(const std::vector<Round>& rounds, std::vector<Repair>& repairs) {
    std::vector<SharedCup> cups;
    for (const Round& round : rounds) {
        CupFiller filler(repairs, cups);
        for (const Go& go : round.goes) {
            const Plan& plan = *repairs[go.repair].plan;
            if (!is_small(go, plan)) break;  // they come last
            for (const Portion& portion : portions_of(go, plan.quantities)) filler.add(portion);
        }
        filler.close();
    }
    return cups;
}

void time_rounds(const std::vector<Repair>& repairs, const std::vector<SharedCup>& cups,
                 std::vector<Round>& rounds) {
    std::map<std::pair<std::size_t, std::size_t>, int> mixes;  // shared cups, by who takes first
    for (const SharedCup& cup : cups) ++mixes[{cup.takes.front().repair, cup.takes.front().stage}];
    for (Round& round : rounds)
        for (Go& go : round.goes) {
            const Plan& plan = *repairs[go.repair].plan;
            const auto time =
                quantities::work_time(plan.job, plan.place.areas, plan.quantities).stage_minutes;
            for (const std::size_t index : go.stages) {
                go.minutes += time.at(index) * std::max(plan.job.layup.copies, 1);
                const auto first = mixes.find({go.repair, index});
                if (first != mixes.end())
                    go.minutes += quantities::minutes_to_mix_a_cup * first->second;
            }
        }
}

}  // namespace tearline::boat

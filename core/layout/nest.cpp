#include "core/layout/nest.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <numeric>
#include <optional>
#include <random>
#include <unordered_map>

#include "core/base/side_by_side.h"
#include "core/base/tolerances.h"
#include "core/plane/no_fit.h"
#include "core/plane/room.h"

namespace tearline::layout {

namespace {

Loop2 turned(const Loop2& loop, double degrees) {
    const double a = degrees * std::numbers::pi / 180.0;
    const double c = std::cos(a), s = std::sin(a);
    Loop2 out;
    out.reserve(loop.size());
    for (const Vec2& p : loop) out.emplace_back(c * p.x() - s * p.y(), s * p.x() + c * p.y());
    return out;
}

Loop2 moved(const Loop2& loop, const Vec2& by) {
    Loop2 out;
    out.reserve(loop.size());
    for (const Vec2& p : loop) out.push_back(p + by);
    return out;
}

/// A shape at one of its turns: its guard, and its own box, which alone must stay on the strip.
struct Turned {
    std::size_t id = 0;  ///< among the turns of all shapes
    double turn = 0.0;
    Loop2 guard;
    plane::Box box;
};

/// A turned shape on the strip.
struct Laid {
    const Turned* way = nullptr;
    Vec2 move{0, 0};
};

class Strip {
public:
    Strip(const std::vector<Shape>& shapes, double width, const NestOptions& options)
        : shapes_(shapes), width_(width), most_length_(options.most_length) {
        for (const Shape& shape : shapes) {
            const Loop2 guard = plane::guarded(shape.outline, 0.5 * options.gap);
            std::vector<Turned> ways;
            const auto add = [&](double turn) {
                ways.push_back({count_++, turn, turned(guard, turn),
                                plane::box_round(turned(shape.outline, turn))});
            };
            if (shape.locked) {
                add(shape.locked->turn);
            } else {
                for (const double turn : shape.turns) {
                    const plane::Box box = plane::box_round(turned(shape.outline, turn));
                    if (box.high.y() - box.low.y() > width + tolerance::outline_thinning) continue;
                    if (box.high.x() - box.low.x() > most_length_) continue;
                    add(turn);
                }
            }
            ways_.push_back(std::move(ways));
        }
        for (const Loop2& loop : options.blocked)
            blocked_.push_back({count_++, 0.0, loop, plane::box_round(loop)});
    }

    /// Orders that begin alike lie alike so far: each beginning is laid once.
    ///
    /// @param least  a length that an order has to stay below; what reaches it is not laid on
    /// @return       nothing where it does not
    [[nodiscard]] std::optional<Nest> lay(const std::vector<std::size_t>& order, double least) {
        std::vector<std::size_t> begun;
        const Strewn* so_far = &with_locked();
        for (const std::size_t i : order) {
            if (shapes_[i].locked) continue;
            begun.push_back(i);
            const auto [next, fresh] = strewn_.try_emplace(begun);
            if (fresh) next->second = with(*so_far, i);
            so_far = &next->second;
            if (so_far->made.length >= least) return std::nullopt;
        }
        return so_far->made;
    }

private:
    /// What lies on the strip once some shapes of an order do.
    struct Strewn {
        Nest made;
        std::vector<Laid> laid;

        void put(std::size_t i, const Turned& way, const Place& place) {
            made.places[i] = place;
            made.length = std::max(made.length, place.move.x() + way.box.high.x());
            laid.push_back({&way, place.move});
        }
    };

    /// What lies there before all others.
    const Strewn& with_locked() {
        const auto [first, fresh] = strewn_.try_emplace({});
        if (!fresh) return first->second;
        Strewn& begun = first->second;
        begun.made.places.resize(ways_.size());
        for (const Turned& loop : blocked_) begun.laid.push_back({&loop, Vec2(0, 0)});
        for (std::size_t i = 0; i < shapes_.size(); ++i)
            if (shapes_[i].locked) begun.put(i, ways_[i].front(), *shapes_[i].locked);
        return begun;
    }

    /// One more shape.
    [[nodiscard]] Strewn with(Strewn strewn, std::size_t i) {
        const std::vector<Turned>& ways = ways_[i];
        know_no_fits(ways, strewn.laid);
        std::vector<std::optional<Vec2>> moves(ways.size());
        side_by_side(ways.size(), [&](std::size_t k) {
            moves[k] = first_place(ways[k], strewn.laid, strewn.made.length);
        });
        const Turned* way = nullptr;
        Place place;
        double right = 0.0;
        for (std::size_t k = 0; k < ways.size(); ++k) {
            if (!moves[k]) continue;
            const double end = std::max(moves[k]->x() + ways[k].box.high.x(), 0.0);
            if (way != nullptr && end >= right) continue;
            way = &ways[k], place = {*moves[k], way->turn}, right = end;
        }
        if (way == nullptr)
            strewn.made.left_out += std::abs(signed_area(shapes_[i].outline));
        else
            strewn.put(i, *way, place);
        return strewn;
    }

    /// The farthest back, then lowest, free place of the shape's origin; on a strip that ends there
    /// may be none.
    [[nodiscard]] std::optional<Vec2> first_place(const Turned& way, const std::vector<Laid>& laid,
                                                  double length) const {
        std::vector<Loop2> forbidden;
        for (const Laid& other : laid)
            for (const Loop2& loop : known_.at(pair_of(*other.way, way)))
                forbidden.push_back(moved(loop, other.move));
        const Vec2 low(-way.box.low.x(), -way.box.low.y());
        // Past the end of what is laid, with the guard's width, there is always room.
        const double beyond = 4.0 * (way.box.high.x() - way.box.low.x()) + width_;
        const double end = std::min(low.x() + length + beyond, most_length_ - way.box.high.x());
        const Vec2 high(end, std::max(low.y(), width_ - way.box.high.y()));
        const std::vector<Vec2> corners = plane::free_corners(low, high, forbidden);
        if (corners.empty() && std::isfinite(most_length_)) return std::nullopt;
        if (corners.empty()) return Vec2(high.x(), low.y());
        // Back first, but not into the notch between two rounded guards at the cost of the row.
        constexpr double worth_of_height = 0.02;
        const auto cost = [](const Vec2& p) { return p.x() + worth_of_height * p.y(); };
        return *std::min_element(corners.begin(), corners.end(),
                                 [&](const Vec2& a, const Vec2& b) { return cost(a) < cost(b); });
    }

    [[nodiscard]] std::size_t pair_of(const Turned& fixed, const Turned& moving) const {
        return fixed.id * count_ + moving.id;
    }

    /// No-fit polygons do not change with the place: each is worked out once a search.
    void know_no_fits(const std::vector<Turned>& ways, const std::vector<Laid>& laid) {
        struct Asked {
            const Turned &fixed, &moving;
            std::vector<Loop2>& loops;
        };
        std::vector<Asked> asked;
        for (const Laid& other : laid)
            for (const Turned& way : ways) {
                const auto [found, fresh] = known_.try_emplace(pair_of(*other.way, way));
                if (fresh) asked.push_back({*other.way, way, found->second});
            }
        side_by_side(asked.size(), [&](std::size_t k) {
            asked[k].loops = plane::no_fit(asked[k].fixed.guard, asked[k].moving.guard);
        });
    }

    const std::vector<Shape>& shapes_;
    double width_, most_length_;
    std::size_t count_ = 0;  ///< of turns of all shapes
    std::vector<std::vector<Turned>> ways_;
    std::vector<Turned> blocked_;
    std::unordered_map<std::size_t, std::vector<Loop2>> known_;
    std::map<std::vector<std::size_t>, Strewn> strewn_;  ///< by the beginning of an order
};

/// Large first by area, then by the longer and the shorter side.
std::vector<std::vector<std::size_t>> sorted_orders(const std::vector<Shape>& shapes) {
    std::vector<double> sizes[3];
    for (const Shape& shape : shapes) {
        const plane::Box box = plane::box_round(shape.outline);
        sizes[0].push_back(std::abs(signed_area(shape.outline)));
        sizes[1].push_back((box.high - box.low).maxCoeff());
        sizes[2].push_back((box.high - box.low).minCoeff());
    }
    std::vector<std::vector<std::size_t>> orders;
    for (const auto& size : sizes) {
        std::vector<std::size_t> order(shapes.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return size[a] > size[b]; });
        orders.push_back(std::move(order));
    }
    return orders;
}

}  // namespace

int usual_passes(std::size_t count) {
    // Measured: ten passes of thirty irregular shapes take 0.6 to 0.8 s, of eight 0.02 to 0.03 s.
    // A pass of 150 takes 4 s: one must do.
    constexpr double work = 9000.0, most = 24.0;
    const double shapes = static_cast<double>(std::max<std::size_t>(count, 1));
    const double fewest = count > 100 ? 1.0 : 2.0;
    return static_cast<int>(std::clamp(work / (shapes * shapes), fewest, most));
}

namespace {

// Measured: a pass costs the square of its shapes, so of lots of fifty a thousand cost a few
// seconds; what is lost is the ragged end between two lots.
constexpr std::size_t most_in_one = 150, in_a_lot = 50;

bool same_shapes(const std::vector<Shape>& one, const std::vector<Shape>& other) {
    return std::equal(one.begin(), one.end(), other.begin(), other.end(),
                      [](const Shape& a, const Shape& b) {
                          return a.outline == b.outline && a.turns == b.turns && !a.locked &&
                                 !b.locked;
                      });
}

/// Many shapes on a strip without end, the large ones first, lot behind lot.
Nest nest_in_lots(const std::vector<Shape>& shapes, double width, const NestOptions& options) {
    const std::vector<std::size_t> order = sorted_orders(shapes).front();
    Nest all;
    all.places.resize(shapes.size());
    std::vector<Shape> before;
    Nest made;
    for (std::size_t first = 0; first < order.size(); first += in_a_lot) {
        const std::size_t end = std::min(first + in_a_lot, order.size());
        std::vector<Shape> lot;
        for (std::size_t k = first; k < end; ++k) lot.push_back(shapes[order[k]]);
        // Of a thousand copies most lots are the same.
        if (!same_shapes(lot, before)) made = nest(lot, width, options);
        before = std::move(lot);
        const double start = all.length > 0.0 ? all.length + options.gap : 0.0;
        for (std::size_t k = first; k < end; ++k) {
            all.places[order[k]] = made.places[k - first];
            if (all.places[order[k]]) all.places[order[k]]->move.x() += start;
        }
        if (made.length > 0.0) all.length = start + made.length;
        all.left_out += made.left_out;
    }
    return all;
}

}  // namespace

Nest nest(const std::vector<Shape>& shapes, double width, const NestOptions& options) {
    if (shapes.size() > most_in_one && !std::isfinite(options.most_length) &&
        options.blocked.empty())
        return nest_in_lots(shapes, width, options);
    const int most_passes =
        options.most_passes > 0 ? options.most_passes : usual_passes(shapes.size());
    Strip strip(shapes, width, options);
    Nest best;
    std::vector<std::size_t> best_order;
    int passes = 0;
    const auto attempt = [&](const std::vector<std::size_t>& order) {
        // Where nothing is left out only a shorter one is better.
        const bool all_laid = passes > 0 && !(best.left_out > 0.0);
        auto made =
            strip.lay(order, all_laid ? best.length : std::numeric_limits<double>::infinity());
        if (passes++ > 0) {
            if (!made) return;
            constexpr double none =
                1.0;  // [mm2] sums of the same areas in another order differ by less
            const double more = best.left_out - made->left_out;
            if (!(more > none || (more >= -none && made->length < best.length))) return;
        }
        best = *std::move(made), best_order = order;
    };
    for (const auto& order : sorted_orders(shapes))
        if (passes < most_passes) attempt(order);
    if (shapes.size() < 2) return best;
    std::mt19937 random(options.seed);
    while (passes < most_passes) {
        // Two shapes of the best order so far change places.
        std::vector<std::size_t> order = best_order;
        std::swap(order[random() % order.size()], order[random() % order.size()]);
        attempt(order);
    }
    return best;
}

}  // namespace tearline::layout

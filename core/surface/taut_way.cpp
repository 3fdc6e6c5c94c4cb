#include "core/surface/taut_way.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <limits>
#include <numbers>
#include <queue>
#include <utility>

#include "core/surface/intrinsic.h"
#include "core/surface/tolerances.h"

namespace tearline::surface {
namespace {

using Strip = std::vector<std::size_t>;  ///< triangles, each joined to the next by an edge

Vec2 chart_middle(const Patch& patch, std::size_t t) {
    const auto& v = patch.mesh.triangle[t];
    return (patch.chart[v[0]] + patch.chart[v[1]] + patch.chart[v[2]]) / 3.0;
}

/// The strip that is shortest in the chart by the middles of its triangles (A*); empty where the
/// patch does not join them.
Strip first_strip(const Patch& patch, std::size_t from, std::size_t to) {
    const Vec2 target = chart_middle(patch, to);
    struct Reached {
        double come = std::numeric_limits<double>::infinity();
        std::int32_t before = -1;
    };
    std::vector<Reached> reached(patch.mesh.triangle.size());
    using Next = std::pair<double, std::size_t>;  // come so far and still to go at least
    std::priority_queue<Next, std::vector<Next>, std::greater<>> next;
    reached[from].come = 0.0;
    next.emplace(0.0, from);
    while (!next.empty()) {
        const std::size_t t = next.top().second;
        next.pop();
        if (t == to) break;
        const Vec2 here = chart_middle(patch, t);
        for (const std::int32_t other : patch.neighbour[t]) {
            if (other < 0) continue;
            const Vec2 there = chart_middle(patch, static_cast<std::size_t>(other));
            const double come = reached[t].come + (there - here).norm();
            if (!(come < reached[other].come)) continue;
            reached[other] = {come, static_cast<std::int32_t>(t)};
            next.emplace(come + (target - there).norm(), static_cast<std::size_t>(other));
        }
    }
    if (!std::isfinite(reached[to].come)) return {};
    Strip strip{to};
    while (strip.back() != from)
        strip.push_back(static_cast<std::size_t>(reached[strip.back()].before));
    std::ranges::reverse(strip);
    return strip;
}

int corner_of(const Patch& patch, std::size_t t, std::int32_t vertex) {
    const auto& v = patch.mesh.triangle[t];
    return v[0] == vertex ? 0 : v[1] == vertex ? 1 : 2;
}

/// [rad] from 0 to pi
double flat_angle(const Vec2& a, const Vec2& b) {
    return std::atan2(std::abs(cross2(a, b)), a.dot(b));
}

double corner_angle(const Patch& patch, std::size_t t, std::int32_t vertex) {
    const int i = corner_of(patch, t, vertex);
    const FlatTriangle flat = lay_flat(patch.mesh.edge_length[t]);
    return flat_angle(flat[(i + 1) % 3] - flat[i], flat[(i + 2) % 3] - flat[i]);
}

enum Side : std::size_t { left, right };

/// The edge between two triangles of a strip, laid in the plane with them; left and right as seen
/// by one who goes along the strip.
struct Gate {
    std::array<std::int32_t, 2> vertex{};
    std::array<Vec2, 2> at;
};

/// A strip laid in the plane.
struct Unrolled {
    std::vector<Gate> gates;
    Vec2 from{0, 0}, to{0, 0};
};

Vec2 in_plane(const FlatTriangle& flat, const Vec3& weights) {
    return weights[0] * flat[0] + weights[1] * flat[1] + weights[2] * flat[2];
}

Unrolled unroll(const Patch& patch, const Strip& strip, const Location& from, const Location& to) {
    Unrolled unrolled;
    FlatTriangle flat = lay_flat(patch.mesh.edge_length[strip.front()]);
    unrolled.from = in_plane(flat, from.weights);
    for (std::size_t k = 0; k + 1 < strip.size(); ++k) {
        const std::size_t t = strip[k], next = strip[k + 1];
        int i = 0;
        while (i < 2 && patch.neighbour[t][i] != static_cast<std::int32_t>(next)) ++i;
        const int j = (i + 1) % 3;
        const auto& v = patch.mesh.triangle[t];
        const Gate gate{{v[j], v[i]}, {flat[j], flat[i]}};
        unrolled.gates.push_back(gate);
        // The same edge runs the other way round in the next triangle.
        const int a = corner_of(patch, next, gate.vertex[left]);
        const auto& length = patch.mesh.edge_length[next];
        FlatTriangle laid;
        laid[a] = gate.at[left];
        laid[(a + 1) % 3] = gate.at[right];
        laid[(a + 2) % 3] =
            third_corner(gate.at[left], gate.at[right], length[(a + 1) % 3], length[(a + 2) % 3]);
        flat = laid;
    }
    unrolled.to = in_plane(flat, to.weights);
    return unrolled;
}

/// Where a way in a strip turns: an end of the gates first to last.
struct Bend {
    Side side = left;
    std::size_t first = 0, last = 0;
    std::int32_t vertex = -1;
    Vec2 at{0, 0};
};

/// The bends of the shortest way inside a strip, by its funnel: what is seen of the gate reached so
/// far from the apex, between two chains that bend towards each other.
class Funnel {
public:
    explicit Funnel(const Unrolled& unrolled) : unrolled_(unrolled) {
        nodes_.push_back({{left, 0, 0, -1, unrolled.from}, 0});
    }

    std::vector<Bend> bends() {
        for (std::size_t k = 0; k < unrolled_.gates.size(); ++k)
            for (const Side side : {left, right}) {
                const Gate& gate = unrolled_.gates[k];
                if (k > 0 && gate.vertex[side] == unrolled_.gates[k - 1].vertex[side]) continue;
                std::size_t last = k;
                while (last + 1 < unrolled_.gates.size() &&
                       unrolled_.gates[last + 1].vertex[side] == gate.vertex[side])
                    ++last;
                add({side, k, last, gate.vertex[side], gate.at[side]});
            }
        add({left, 0, 0, -1, unrolled_.to});
        std::vector<Bend> found;
        for (std::size_t n = nodes_.back().before; n != 0; n = nodes_[n].before)
            found.push_back(nodes_[n].bend);
        std::ranges::reverse(found);
        return found;
    }

private:
    struct Node {
        Bend bend;
        std::size_t before = 0;  ///< the node that its shortest way comes from
    };

    /// > 0: `c` lies to `side` of one who goes from a to b.
    [[nodiscard]] double turn(std::size_t a, std::size_t b, const Vec2& c, Side side) const {
        const double area = cross2(nodes_[b].bend.at - nodes_[a].bend.at, c - nodes_[a].bend.at);
        return side == left ? area : -area;
    }

    void add(const Bend& bend) {
        auto& own = chain_[bend.side];
        auto& other = chain_[bend.side == left ? right : left];
        const auto before_last = [&] { return own.size() > 1 ? own[own.size() - 2] : apex_; };
        while (!own.empty() && !(turn(before_last(), own.back(), bend.at, bend.side) > 0.0))
            own.pop_back();
        if (own.empty())
            while (!other.empty() && turn(apex_, other.front(), bend.at, bend.side) < 0.0) {
                apex_ = other.front();
                other.pop_front();
            }
        const std::size_t before = own.empty() ? apex_ : own.back();
        own.push_back(nodes_.size());
        nodes_.push_back({bend, before});
    }

    const Unrolled& unrolled_;
    std::vector<Node> nodes_;
    std::array<std::deque<std::size_t>, 2> chain_;
    std::size_t apex_ = 0;
};

/// The way over a bend's other side: the triangles from `first` to `last` round its vertex.
struct OtherSide {
    Strip between;
    double angle = 0.0;  ///< [rad] from the way's coming to its going
};

/// @return nothing where the rim lies there
std::optional<OtherSide> other_side(const Patch& patch, const Strip& strip,
                                    const std::vector<Gate>& gates, const Bend& bend,
                                    const Vec2& coming, const Vec2& going) {
    const Side far = bend.side == left ? right : left;
    const std::size_t first = strip[bend.first], last = strip[bend.last + 1];
    OtherSide other;
    other.angle = corner_angle(patch, first, bend.vertex) + corner_angle(patch, last, bend.vertex) -
                  flat_angle(coming - bend.at, gates[bend.first].at[far] - bend.at) -
                  flat_angle(going - bend.at, gates[bend.last].at[far] - bend.at);
    // Out of each triangle by the edge at the vertex that it was not entered by.
    std::size_t t = first;
    std::int32_t entered = gates[bend.first].vertex[far];
    while (true) {
        const int i = corner_of(patch, t, bend.vertex);
        const auto& v = patch.mesh.triangle[t];
        const bool ahead = v[(i + 1) % 3] != entered;
        const std::int32_t next = patch.neighbour[t][ahead ? i : (i + 2) % 3];
        if (next < 0) return std::nullopt;
        entered = v[(i + (ahead ? 1 : 2)) % 3];
        t = static_cast<std::size_t>(next);
        if (t == last) return other;
        if (t == first) return std::nullopt;  // two sheets that touch in this vertex alone
        other.between.push_back(t);
        other.angle += corner_angle(patch, t, bend.vertex);
    }
}

/// A strip pulled taut: its gates and where the way through them bends.
struct Taut {
    Strip strip;
    Unrolled unrolled;
    std::vector<Bend> bends;
};

/// Turns the strip over round bends until no turn shortens the way.
std::optional<Taut> pull(const Patch& patch, const Location& from, const Location& to) {
    Taut taut;
    taut.strip = first_strip(patch, from.triangle.index(), to.triangle.index());
    if (taut.strip.empty()) return std::nullopt;
    // Each pass shortens the way, so that none comes twice; rounding alone could go on for ever.
    constexpr int most_passes = 2000;
    for (int pass = 0; pass < most_passes; ++pass) {
        taut.unrolled = unroll(patch, taut.strip, from, to);
        taut.bends = Funnel(taut.unrolled).bends();
        bool turned = false, held = false;
        // From the end, so that what is left of the strip keeps its numbers.
        std::size_t untouched = taut.strip.size();
        for (std::size_t b = taut.bends.size(); b-- > 0;) {
            const Bend& bend = taut.bends[b];
            const Vec2& coming = b > 0 ? taut.bends[b - 1].at : taut.unrolled.from;
            const Vec2& going = b + 1 < taut.bends.size() ? taut.bends[b + 1].at : taut.unrolled.to;
            // A way that begins or ends in a vertex does not bend there.
            if (!((coming - bend.at).norm() > tolerance::taut_apart) ||
                !((going - bend.at).norm() > tolerance::taut_apart))
                continue;
            // Two turns that share a triangle could lead there and back by one edge.
            if (bend.last + 1 >= untouched) continue;
            auto other = other_side(patch, taut.strip, taut.unrolled.gates, bend, coming, going);
            if (!other) {
                held = true;
                continue;
            }
            if (!(other->angle < std::numbers::pi - tolerance::taut_turn)) continue;
            const auto begin = taut.strip.begin();
            const auto after = taut.strip.erase(begin + static_cast<std::ptrdiff_t>(bend.first) + 1,
                                                begin + static_cast<std::ptrdiff_t>(bend.last) + 1);
            taut.strip.insert(after, other->between.begin(), other->between.end());
            untouched = bend.first;
            turned = true;
        }
        if (!turned) return held ? std::nullopt : std::optional(taut);
    }
    return std::nullopt;
}

/// Puts the way of a taut strip together, stretch by stretch.
class Stretches {
public:
    Stretches(const Patch& patch, const Taut& taut, const Location& from)
        : patch_(patch), taut_(taut), weights_(from.weights), at_(taut.unrolled.from) {}

    std::vector<Stretch> made(const Location& to) {
        const auto& bends = taut_.bends;
        std::size_t passed = 0;  // bends
        for (gate_ = 0; gate_ < taut_.unrolled.gates.size(); ++gate_) {
            bool through_vertex = passed > 0 && gate_ <= bends[passed - 1].last;
            if (through_vertex) go_to(share_of(bends[passed - 1]));
            for (; passed < bends.size() && bends[passed].first <= gate_; ++passed) {
                // From one end of the gate to the other the way is in the triangle behind it.
                if (through_vertex) enter();
                go_to(share_of(bends[passed]));
                through_vertex = true;
            }
            if (!through_vertex) go_to(crossed(passed));
            enter();
        }
        add(to.weights, taut_.unrolled.to);
        return std::move(stretches_);
    }

private:
    static double share_of(const Bend& bend) { return bend.side == left ? 0.0 : 1.0; }

    /// Where the way after `passed` bends crosses the gate: 0 at its left end, 1 at its right.
    [[nodiscard]] double crossed(std::size_t passed) const {
        const auto& bends = taut_.bends;
        const Gate& gate = taut_.unrolled.gates[gate_];
        const Vec2& a = passed > 0 ? bends[passed - 1].at : taut_.unrolled.from;
        const Vec2& b = passed < bends.size() ? bends[passed].at : taut_.unrolled.to;
        const double on_left = cross2(b - a, gate.at[left] - a);
        const double on_right = cross2(b - a, gate.at[right] - a);
        const double apart = on_left - on_right;
        return apart > 0.0 ? std::clamp(on_left / apart, 0.0, 1.0) : 0.5;
    }

    /// On in the triangle where the way is, to a place of the gate.
    void go_to(double share) {
        const Gate& gate = taut_.unrolled.gates[gate_];
        share_ = share;
        add(on_gate(), gate.at[left] + share * (gate.at[right] - gate.at[left]));
    }

    /// Into the triangle behind the gate.
    void enter() {
        triangle_ = gate_ + 1;
        weights_ = on_gate();
    }

    /// The weights of the place on the gate in the triangle where the way is.
    [[nodiscard]] Vec3 on_gate() const {
        const Gate& gate = taut_.unrolled.gates[gate_];
        const std::size_t t = taut_.strip[triangle_];
        Vec3 weights = Vec3::Zero();
        weights[corner_of(patch_, t, gate.vertex[left])] = 1.0 - share_;
        weights[corner_of(patch_, t, gate.vertex[right])] = share_;
        return weights;
    }

    void add(const Vec3& weights, const Vec2& at) {
        const double length = (at - at_).norm();
        if (length > tolerance::taut_apart)
            stretches_.push_back({TriangleId(taut_.strip[triangle_]), weights_, weights, length});
        weights_ = weights;
        at_ = at;
    }

    const Patch& patch_;
    const Taut& taut_;
    std::vector<Stretch> stretches_;
    std::size_t gate_ = 0, triangle_ = 0;
    double share_ = 0.0;
    Vec3 weights_;
    Vec2 at_;
};

}  // namespace

std::optional<std::vector<Stretch>> taut_way(const Patch& patch, const Location& from,
                                             const Location& to) {
    const auto taut = pull(patch, from, to);
    if (!taut) return std::nullopt;
    auto stretches = Stretches(patch, *taut, from).made(to);
    if (stretches.empty()) return std::nullopt;
    return stretches;
}

}  // namespace tearline::surface

#include "core/ground/wrap_tube.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <optional>
#include <string>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/ground/ground.h"
#include "core/ground/round_lines.h"
#include "core/ground/tolerances.h"
#include "core/patch/unroll_tube.h"
#include "core/plane/nearest_on_line.h"
#include "core/plane/offset_region.h"
#include "core/plane/turned.h"
#include "core/surface/chart.h"
#include "core/surface/locate_near.h"
#include "core/surface/surface_behind.h"
#include "core/surface/winding.h"

namespace tearline::ground {
namespace {

using Line = std::vector<Vec2>;

/// [mm] how far lines beside a joint stand off it: what is turned round must reach over it.
constexpr double beside = 10.0;
/// [mm] between places of a joint.
constexpr double line_step = 2.0;
/// [mm] lines go on so far beyond the chart, so that they part regions for certain.
constexpr double beyond = 2000.0;

/// A dish round a tube: of all places of the chart that are one, the deepest.
class DishRoundTube final : public dish::DepthField {
public:
    DishRoundTube(std::unique_ptr<const dish::DepthField> unrolled, surface::Patch patch)
        : unrolled_(std::move(unrolled)), patch_(std::move(patch)) {}

    [[nodiscard]] double depth(const Vec2& chart_point) const override {
        double deepest = unrolled_->depth(chart_point);
        for (const int turns : {-1, 1})
            if (const auto same = patch_.behind->winding()->turned(patch_, chart_point, turns))
                deepest = std::max(deepest, unrolled_->depth(*same));
        return deepest;
    }
    [[nodiscard]] double deepest() const override { return unrolled_->deepest(); }
    [[nodiscard]] std::span<const Vec2> profile() const override { return unrolled_->profile(); }
    [[nodiscard]] bool measured() const override { return unrolled_->measured(); }
    [[nodiscard]] const dish::ScannedDish* scan() const override { return unrolled_->scan(); }

private:
    std::unique_ptr<const dish::DepthField> unrolled_;
    surface::Patch patch_;
};

/// What one turn is in the chart: a shift, or about some place a turn.
struct ChartTurn {
    Vec2 from{0, 0};     ///< the middle of the damage
    Vec2 step{0, 0};     ///< [mm] from there to itself a turn on, straight
    double angle = 0.0;  ///< [rad] that the chart turns by meanwhile

    /// Length of the arc from the damage to itself [mm].
    [[nodiscard]] double girth() const {
        const double half = 0.5 * angle;
        return std::abs(half) < tolerance::no_turn ? step.norm()
                                                   : step.norm() * half / std::sin(half);
    }
    /// The place `way` mm on along that arc, and the direction along it.
    [[nodiscard]] std::pair<Vec2, Vec2> at(double way) const {
        const double share = way / girth();
        const double half = 0.5 * angle;
        const Vec2 along = plane::turned(step.normalized(), angle * share - half);
        if (std::abs(half) < tolerance::no_turn) return {from + share * step, along};
        const double radius = 0.5 * step.norm() / std::sin(half);
        const Vec2 centre =
            from + 0.5 * step + radius * std::cos(half) * turned_left(step.normalized());
        return {centre - radius * turned_left(along), along};
    }
    /// How far it is from a place of the arc to where all lines square to it meet; infinite for a
    /// shift.
    [[nodiscard]] double to_centre() const {
        return std::abs(angle) < tolerance::no_turn ? std::numeric_limits<double>::infinity()
                                                    : girth() / angle;
    }
};

std::optional<ChartTurn> chart_turn(const surface::Patch& patch, const surface::Winding& winding,
                                    const Vec2& from) {
    const auto pairs = winding.pairs(patch);
    if (pairs.size() < 8) return std::nullopt;
    Vec2 mean_a(0, 0), mean_b(0, 0);
    for (const auto& [a, b] : pairs) {
        mean_a += patch.chart[a] / static_cast<double>(pairs.size());
        mean_b += patch.chart[b] / static_cast<double>(pairs.size());
    }
    double c = 0.0, s = 0.0;
    for (const auto& [a, b] : pairs) {
        const Vec2 p = patch.chart[a] - mean_a, q = patch.chart[b] - mean_b;
        c += p.dot(q);
        s += cross2(p, q);
    }
    ChartTurn turn;
    turn.from = from;
    turn.angle = std::atan2(s, c);
    turn.step = mean_b + plane::turned(Vec2(from - mean_a), turn.angle) - from;
    return turn;
}

/// A place on the way round: so far on from the damage, and whether a turn on from there.
struct OnWay {
    double way = 0.0;  ///< [mm]
    bool turned = false;
};

/// One ply's joint: its two ends in the chart.
struct Window {
    OnWay from, to;
    Line left, right;
    Region2 between;
};

/// Joints and what lies beside them, in the chart.
class Joints {
public:
    Joints() = default;
    Joints(const Joints&) = delete;
    Joints& operator=(const Joints&) = delete;
    virtual ~Joints() = default;

    /// From the damage right round to itself [mm].
    [[nodiscard]] virtual double girth() const = 0;
    /// The line square to the way round; short of two points beyond the chart.
    [[nodiscard]] virtual Line line(const OnWay& at) const = 0;
    /// What lies between two of them.
    [[nodiscard]] virtual Region2 between(const OnWay& first, const OnWay& second) const = 0;
    /// Whether a place of the chart, on its rim too, lies in a window.
    [[nodiscard]] virtual bool holds(const Window& window, const Vec2& place) const = 0;
};

/// Where one turn moves the chart as a whole, a shift or a turn about some place.
class RigidJoints final : public Joints {
public:
    RigidJoints(const surface::Patch& patch, const ChartTurn& turn) : patch_(patch), turn_(turn) {}

    [[nodiscard]] double girth() const override { return turn_.girth(); }
    [[nodiscard]] Line line(const OnWay& at) const override {
        return at.turned ? turned_on(across(at.way)) : across(at.way);
    }
    [[nodiscard]] Region2 between(const OnWay& first, const OnWay& second) const override {
        return between(line(first), line(second));
    }
    [[nodiscard]] bool holds(const Window& window, const Vec2& place) const override {
        return contains(window.between, place);
    }

private:

    /// The line square to the way round, `way` mm on from the damage; where it lies in the chart,
    /// and straight on from there.
    [[nodiscard]] Line across(double way) const {
        const auto [middle, along] = turn_.at(way);
        const Vec2 left = turned_left(along);
        Line down = half(middle, -left), line(down.rbegin(), down.rend());
        line.push_back(middle);
        const Line up = half(middle, left);
        line.insert(line.end(), up.begin(), up.end());
        return line;
    }

    /// A line a turn on, by the places of the tube where the chart has them.
    [[nodiscard]] Line turned_on(const Line& line) const {
        Line out;
        for (const Vec2& p : line) {
            if (!patch_.locate(p)) continue;
            if (const auto same = patch_.behind->winding()->turned(patch_, p, 1))
                out.push_back(*same);
        }
        if (out.size() < 2) return out;
        out.front() += beyond_end(out.front()) * (out.front() - out[1]).normalized();
        out.back() += beyond_end(out.back()) * (out.back() - out[out.size() - 2]).normalized();
        return out;
    }

    /// What lies between two lines that run the same way.
    [[nodiscard]] Region2 between(const Line& first, const Line& second) const {
        Region2 region{first, {}};
        add_arc(first.back(), second.back(), region.outer);
        region.outer.insert(region.outer.end(), second.rbegin(), second.rend());
        add_arc(second.front(), first.front(), region.outer);
        if (signed_area(region.outer) < 0.0) std::reverse(region.outer.begin(), region.outer.end());
        return region;
    }

    [[nodiscard]] bool shifts() const { return !std::isfinite(turn_.to_centre()); }
    [[nodiscard]] Vec2 centre() const {
        const auto [on_arc, along] = turn_.at(0.0);
        return on_arc + turn_.to_centre() * turned_left(along);
    }

    /// How far a line may go on beyond one of its ends: never to where all of them meet.
    [[nodiscard]] double beyond_end(const Vec2& end) const {
        constexpr double share = 0.3;  // [-] of the way to there
        return shifts() ? beyond : share * (end - centre()).norm();
    }

    /// The way from one place to another as the chart turns between them, without both.
    void add_arc(const Vec2& from, const Vec2& to, Loop2& out) const {
        if (shifts()) return;
        const Vec2 a = from - centre(), b = to - centre();
        const double angle = std::atan2(cross2(a, b), a.dot(b));
        constexpr int parts = 24;
        for (int k = 1; k < parts; ++k) {
            const double share = static_cast<double>(k) / parts;
            const double length = (1.0 - share) * a.norm() + share * b.norm();
            out.push_back(centre() + length * plane::turned(a.normalized(), share * angle));
        }
    }

    [[nodiscard]] Line half(const Vec2& from, const Vec2& way) const {
        Line line;
        Vec2 at = from;
        while (patch_.locate(at + line_step * way)) line.push_back(at += line_step * way);
        line.push_back(at + beyond_end(at) * way);
        return line;
    }

    const surface::Patch& patch_;
    ChartTurn turn_;
};

/// Where the chart is only nearly true, as round a foot.
class BentJoints final : public Joints {
public:
    explicit BentJoints(RoundLines lines) : lines_(std::move(lines)) {}

    [[nodiscard]] double girth() const override { return lines_.girth(); }
    [[nodiscard]] Line line(const OnWay& at) const override { return lines_.at(turns(at)); }
    [[nodiscard]] Region2 between(const OnWay& first, const OnWay& second) const override {
        return lines_.between(turns(first), turns(second));
    }
    [[nodiscard]] bool holds(const Window& window, const Vec2& place) const override {
        const double turn = lines_.turn_at(place);
        return turns(window.from) < turn && turn < turns(window.to);
    }

private:
    [[nodiscard]] double turns(const OnWay& at) const {
        return at.way / girth() + (at.turned ? 1.0 : 0.0);
    }

    RoundLines lines_;
};

std::unique_ptr<Joints> joints_round(const Ground& ground) {
    // A tube rolls out truly to a few parts in a hundred; with its foot it does not.
    constexpr double true_to = 0.8;  // [-]
    const auto quality = surface::chart_quality(ground.patch.mesh, ground.patch.chart);
    if (quality.least_stretch < true_to || quality.most_stretch > 1.0 / true_to) {
        auto lines = RoundLines::of(ground.patch, ground.frame.chart);
        if (!lines) return nullptr;
        return std::make_unique<BentJoints>(*std::move(lines));
    }
    const auto turn =
        chart_turn(ground.patch, *ground.patch.behind->winding(), ground.frame.chart);
    if (!turn) return nullptr;
    return std::make_unique<RigidJoints>(ground.patch, *turn);
}

class TubeWrapper {
public:
    /// @param apart  [mm] joints of successive plies
    TubeWrapper(Ground& ground, const Joints& joints, double apart)
        : ground_(ground),
          patch_(ground.patch),
          winding_(*ground.patch.behind->winding()),
          girth_(joints.girth()),
          apart_(apart),
          joints_(joints) {}

    /// @return  whether the joints keep off the damage; else nothing is changed
    Result<bool> run() {
        const double reach = 0.5 * apart_ + beside;
        const double far = -0.5 * girth_;
        left_band_ = joints_.between({far - reach}, {far + reach});
        right_band_ = joints_.between({far - reach, true}, {far + reach, true});
        if (left_band_.outer.size() < 3 || right_band_.outer.size() < 3)
            return refused("is too narrow to be rolled out");
        const Window middle = window(0.0), early = window(-0.5 * apart_),
                     late = window(0.5 * apart_);
        for (const Window* way : {&middle, &early, &late})
            if (way->between.outer.size() < 3) return refused("is too narrow to be rolled out");
        for (const Vec2& p : ground_.outline.chart)
            if (!holds(early, p) || !holds(late, p)) return false;
        TubeWrap wrap{girth_, apart_, {}};
        for (std::size_t i = 0; i < ground_.levels.plies.size(); ++i) {
            plies::NetRegion& net = ground_.ply_regions[i];
            const bool round = meets(net, middle);
            wrap.seams.emplace_back();
            if (!round) {
                net = inside(net, middle);
                continue;
            }
            const Window& own = i % 2 == 0 ? early : late;
            net = inside(net, own);
            wrap.seams.back() = {own.left, own.right};
        }
        for (plies::NetRegion& net : ground_.regions) net = inside(net, middle);
        ground_.dish = std::make_unique<DishRoundTube>(std::move(ground_.dish), patch_);
        ground_.wrap = std::move(wrap);
        return true;
    }

    [[nodiscard]] tl::unexpected<Error> refused(const std::string& why) const {
        return no_safe_answer("damage",
                              "the repair goes right round a tube that " + why + " (girth " +
                                  fixed(girth_, 0) +
                                  " mm); make the repair smaller, or wrap it by hand",
                              ground_.frame.middle);
    }

private:
    [[nodiscard]] Window window(double way) const {
        Window out;
        const OnWay left{way - 0.5 * girth_}, right{left.way, true};
        out.from = left;
        out.to = right;
        out.left = joints_.line(left);
        out.right = joints_.line(right);
        if (out.left.size() > 1 && out.right.size() > 1)
            out.between = joints_.between(left, right);
        return out;
    }

    [[nodiscard]] bool holds(const Window& window, const Vec2& place) const {
        return joints_.holds(window, place);
    }

    /// Whether a ply that is as wide as in the chart would come to a joint.
    [[nodiscard]] bool meets(const plies::NetRegion& net, const Window& window) const {
        for (const Region2& region : net.chart)
            for (const Vec2& p : region.outer)
                if (!holds(window, p)) return true;
        return false;
    }

    /// Loops of a region, each a turn on or back.
    [[nodiscard]] std::vector<Region2> turned(const std::vector<Region2>& regions,
                                              int turns) const {
        std::vector<Region2> out;
        const auto loop = [&](const Loop2& from) {
            Loop2 to;
            for (const Vec2& p : from)
                if (const auto same = winding_.turned(patch_, p, turns)) to.push_back(*same);
            return to;
        };
        for (const Region2& region : regions) {
            Region2 there{loop(region.outer), {}};
            for (const Loop2& hole : region.holes) there.holes.push_back(loop(hole));
            if (there.outer.size() > 2) out.push_back(std::move(there));
        }
        return out;
    }

    /// A region of the tube: what of it lies in a window of the chart, by itself or a turn away.
    [[nodiscard]] plies::NetRegion inside(const plies::NetRegion& net, const Window& window) const {
        std::vector<Region2> all = net.chart;
        for (auto& region : turned(plane::common_region(net.chart, {left_band_}), 1))
            all.push_back(std::move(region));
        for (auto& region : turned(plane::common_region(net.chart, {right_band_}), -1))
            all.push_back(std::move(region));
        plies::NetRegion out{net.offset, {}, {}, net.cut_at_hull_end};
        out.chart = plane::common_region(plane::united_regions(all), {window.between});
        std::erase_if(out.chart,
                      [](const Region2& part) { return area(part) < tolerance::least_island; });
        for (Region2& part : out.chart) {
            Region3 lifted{on_hull(part.outer), {}};
            for (Loop2& hole : part.holes) lifted.holes.push_back(on_hull(hole));
            out.on_base.push_back(std::move(lifted));
        }
        return out;
    }

    [[nodiscard]] Loop3 on_hull(Loop2& loop) const {
        Loop3 out;
        for (Vec2& p : loop) {
            const auto near = surface::locate_near(patch_, p);
            p = near.chart;
            out.push_back(patch_.sample(near.at).position);
        }
        return out;
    }

    Ground& ground_;
    const surface::Patch& patch_;
    const surface::Winding& winding_;
    double girth_, apart_;
    const Joints& joints_;
    Region2 left_band_, right_band_;
};

}  // namespace

Result<void> wrap_tube(Ground& ground) {
    const surface::Winding* winding = ground.patch.behind->winding();
    if (winding == nullptr) return {};
    const std::unique_ptr<Joints> joints = joints_round(ground);
    if (!joints)
        return no_safe_answer("damage",
                              "the repair goes right round a tube that is too narrow to be rolled "
                              "out; make the repair smaller, or wrap it by hand",
                              ground.frame.middle);
    // Where the damage reaches joints that lie a quarter of the girth apart they move nearer to its
    // far side, and so to each other.
    constexpr double nearer = 0.8;  // [-] from try to try
    const double least = std::min(patch::least_joints_apart, patch::joints_apart(joints->girth()));
    double apart = patch::joints_apart(joints->girth());
    for (;;) {
        TubeWrapper wrapper(ground, *joints, apart);
        const auto wrapped = wrapper.run();
        if (!wrapped) return tl::unexpected(wrapped.error());
        if (*wrapped) return {};
        if (!(apart > least))
            return wrapper.refused("is damaged so far round that no joint keeps off it");
        apart = std::max(least, nearer * apart);
    }
}

}  // namespace tearline::ground

#include "core/flattening/pin_jointed_net.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/flattening/tolerances.h"

namespace tearline::flattening {

namespace {

/// The yarns at the start of a net, a unit long each.
struct FirstYarns {
    Vec2 along, across;
};

FirstYarns first_yarns(const Metric& g, const Vec2& warp) {
    const Vec2 along = warp / g.length(warp);
    const Vec2 square = turned_left(g.times(along));
    return {along, square / g.length(square)};
}

}  // namespace

PinJointedNet::PinJointedNet(const MetricChart& chart, double cell, const Reach& reach)
    : chart_(&chart), cell_(cell), reach_(reach.round), warp_(reach.warp), weft_(reach.weft) {
    const auto side = static_cast<std::size_t>(2 * reach_ + 1);
    node_.assign(side * side, Vec2::Zero());
    there_.assign(side * side, false);
    shear_.assign(side * side, 0.0);
}

Result<PinJointedNet> PinJointedNet::laid(const MetricChart& chart, const Vec2& start,
                                          const Vec2& warp, const NetOptions& options) {
    const Metric g = chart.metric(start);
    const FirstYarns yarns = first_yarns(g, warp);
    double farthest = 0.0;
    std::array<double, 2> along{0.0, 0.0}, across{0.0, 0.0};  // forwards, backwards
    for (const Vec2& p : chart.places()) {
        const double x = g.product(p - start, yarns.along), y = g.product(p - start, yarns.across);
        farthest = std::max(farthest, (p - start).norm());
        along = {std::max(along[0], x), std::max(along[1], -x)};
        across = {std::max(across[0], y), std::max(across[1], -y)};
    }
    Vec2 missed = start;
    // Where cloth opens, more yarns are needed than the way is long: further out each time. To the
    // sides of a long piece too, where yarns turn off. On a surface that hardly bends little more
    // will do, if what is answered then is what a wider net would answer.
    constexpr double close_by = 0.05;
    for (const double more : {close_by, 0.2, 0.6, 1.4}) {
        const auto cells = [&](double way) {
            return static_cast<int>(std::ceil((way + more * farthest) / options.cell)) + 2;
        };
        const Reach reach{cells(farthest),
                          {cells(along[0]), cells(along[1])},
                          {cells(across[0]), cells(across[1])}};
        PinJointedNet net(chart, options.cell, reach);
        net.lay_first_yarns(start, yarns.along, yarns.across);
        for (const int i : {1, -1})
            for (const int j : {1, -1}) net.lay_quadrant(i, j);
        net.measure_shear();
        net.index_cells();
        if (options.hopeless && options.hopeless(net))
            return no_safe_answer("the cloth shears too far for it to be followed on");
        const auto bare = std::find_if(chart.places().begin(), chart.places().end(),
                                       [&](const Vec2& p) {
                                           return more == close_by ? !net.settled_at(p)
                                                                   : !net.cloth_at(p);
                                       });
        if (bare == chart.places().end()) return net;
        missed = *bare;
    }
    return no_safe_answer("the cloth shears shut before it covers the piece, " +
                          fixed((missed - start).norm(), 0) +
                          " mm from where it is pressed down first");
}

void PinJointedNet::lay_first_yarns(const Vec2& start, const Vec2& along, const Vec2& across) {
    node_[slot(0, 0)] = start;
    there_[slot(0, 0)] = true;
    for (const int sign : {1, -1}) {
        MetricChart::Step u{start, sign * along}, v{start, sign * across};
        for (int k = 1; k <= reach_; ++k) {
            u = chart_->geodesic_step(u, cell_);
            v = chart_->geodesic_step(v, cell_);
            node_[slot(sign * k, 0)] = u.at;
            node_[slot(0, sign * k)] = v.at;
            there_[slot(sign * k, 0)] = there_[slot(0, sign * k)] = true;
        }
    }
}

std::optional<Vec2> PinJointedNet::crossing(const Vec2& a, const Vec2& b, const Vec2& c) const {
    Vec2 x = a + b - c, step(0, 0);
    MetricChart::Trail trail_a = MetricChart::no_trail, trail_b = MetricChart::no_trail;
    for (int i = 0; i < tolerance::most_net_steps; ++i) {
        const auto from_a = chart_->stroke(a, x, trail_a), from_b = chart_->stroke(b, x, trail_b);
        const double miss_a = from_a.length - cell_, miss_b = from_b.length - cell_;
        const double turn = cross2(from_a.slope, from_b.slope);
        if (!(std::abs(turn) > tolerance::net_shut)) return std::nullopt;
        step = Vec2((miss_a * from_b.slope.y() - miss_b * from_a.slope.y()) / turn,
                    (miss_b * from_a.slope.x() - miss_a * from_b.slope.x()) / turn);
        x -= step;
        if (step.squaredNorm() <= std::pow(tolerance::net_node * cell_, 2)) return x;
    }
    // Beyond the rim the metric jumps: a crossing on a jump is stepped over to and fro for ever.
    if (step.squaredNorm() <= std::pow(tolerance::net_jump * cell_, 2)) return x;
    return std::nullopt;
}

void PinJointedNet::lay_quadrant(int sign_i, int sign_j) {
    const int columns = std::min(reach_, warp_[sign_i > 0 ? 0 : 1]);
    const int rows = std::min(reach_, weft_[sign_j > 0 ? 0 : 1]);
    for (int j = 1; j <= rows; ++j)
        for (int i = 1; i <= columns; ++i) {
            // Corners of the square of yarns lie farther out than any part of the piece.
            if (i * i + j * j > reach_ * reach_) break;
            const int si = sign_i * i, sj = sign_j * j;
            const int pi = si - sign_i, pj = sj - sign_j;
            if (!has(pi, sj) || !has(si, pj) || !has(pi, pj)) break;
            const Vec2 &a = node_[slot(pi, sj)], &b = node_[slot(si, pj)], &c = node_[slot(pi, pj)];
            // Turned over or shut: nothing that cloth does.
            if (!(sign_i * sign_j * cross2(b - c, a - c) > 0.0)) break;
            const auto x = crossing(a, b, c);
            if (!x || !(sign_i * sign_j * cross2(a - *x, b - *x) > 0.0)) break;
            node_[slot(si, sj)] = *x;
            there_[slot(si, sj)] = true;
        }
}

void PinJointedNet::measure_shear() {
    for (int j = -reach_; j <= reach_; ++j)
        for (int i = -reach_; i <= reach_; ++i) {
            if (!has(i, j)) continue;
            const Vec2& p = node_[slot(i, j)];
            const Metric g = chart_->metric(p);
            double sum = 0.0;
            int count = 0;
            std::array<Vec2, 2> along, across;  // forwards, backwards
            std::array<double, 2> length_along{}, length_across{};
            for (const int way : {0, 1}) {
                const int step = 1 - 2 * way;
                if (has(i + step, j)) along[way] = node_[slot(i + step, j)] - p;
                if (has(i, j + step)) across[way] = node_[slot(i, j + step)] - p;
                if (has(i + step, j)) length_along[way] = g.length(along[way]);
                if (has(i, j + step)) length_across[way] = g.length(across[way]);
            }
            for (const int u : {0, 1})
                for (const int v : {0, 1}) {
                    const int di = 1 - 2 * u, dj = 1 - 2 * v;
                    if (!has(i + di, j) || !has(i, j + dj) || !has(i + di, j + dj)) continue;
                    const double cosine =
                        g.product(along[u], across[v]) / (length_along[u] * length_across[v]);
                    // asin of it is a quarter turn less the angle; across the yarn it changes sign.
                    sum += di * dj * std::asin(std::clamp(cosine, -1.0, 1.0));
                    ++count;
                }
            if (count > 0) shear_[slot(i, j)] = sum / count;
        }
}

void PinJointedNet::index_cells() {
    surface::SurfaceMesh halves;
    for (int j = -reach_; j < reach_; ++j)
        for (int i = -reach_; i < reach_; ++i) {
            if (!has(i, j) || !has(i + 1, j) || !has(i, j + 1) || !has(i + 1, j + 1)) continue;
            cells_.push_back({i, j});
            const auto a = static_cast<std::int32_t>(slot(i, j));
            const auto b = static_cast<std::int32_t>(slot(i + 1, j));
            const auto c = static_cast<std::int32_t>(slot(i + 1, j + 1));
            const auto d = static_cast<std::int32_t>(slot(i, j + 1));
            halves.triangle.push_back({a, b, c});
            halves.triangle.push_back({a, c, d});
        }
    grid_ = surface::build_chart_grid(halves, node_);
}

std::optional<PinJointedNet::InCell> PinJointedNet::cell_over(const Vec2& p) const {
    for (const TriangleId half : grid_.near(p)) {
        const auto [i, j] = cells_[half.index() / 2];
        const Vec2 &a = node_[slot(i, j)], &b = node_[slot(i + 1, j)];
        const Vec2 &c = node_[slot(i + 1, j + 1)], &d = node_[slot(i, j + 1)];
        const Vec2 low = a.cwiseMin(b).cwiseMin(c.cwiseMin(d));
        const Vec2 high = a.cwiseMax(b).cwiseMax(c.cwiseMax(d));
        const double rim = tolerance::barycentric_slack * cell_;
        if (!((p - low).minCoeff() >= -rim && (high - p).minCoeff() >= -rim)) continue;
        // Bilinear over the cell, turned round by Newton's method.
        Vec2 w(0.5, 0.5);
        for (int step = 0; step < tolerance::most_net_steps; ++step) {
            const Vec2 twist = a - b + c - d;
            const Vec2 miss = a + w.x() * (b - a) + w.y() * (d - a) + w.x() * w.y() * twist - p;
            const Vec2 du = b - a + w.y() * twist, dv = d - a + w.x() * twist;
            const double whole = cross2(du, dv);
            if (!(whole > 0.0)) break;
            const Vec2 move(cross2(miss, dv) / whole, cross2(du, miss) / whole);
            w -= move;
            if (move.squaredNorm() < std::pow(tolerance::net_node, 2)) break;
        }
        const double slack = tolerance::barycentric_slack;
        if (!(w.minCoeff() >= -slack && w.maxCoeff() <= 1.0 + slack)) continue;
        return InCell{i, j, w};
    }
    return std::nullopt;
}

ClothPoint PinJointedNet::cloth_in(const InCell& cell) const {
    const auto& [i, j, w] = cell;
    const double shear = (1.0 - w.x()) * (1.0 - w.y()) * shear_[slot(i, j)] +
                         w.x() * (1.0 - w.y()) * shear_[slot(i + 1, j)] +
                         w.x() * w.y() * shear_[slot(i + 1, j + 1)] +
                         (1.0 - w.x()) * w.y() * shear_[slot(i, j + 1)];
    return {cell_ * (Vec2(i, j) + w), shear};
}

std::optional<ClothPoint> PinJointedNet::cloth_at(const Vec2& p) const {
    const auto cell = cell_over(p);
    if (!cell) return std::nullopt;
    return cloth_in(*cell);
}

bool PinJointedNet::is_settled(int i, int j) const {
    for (int dj = -1; dj <= 1; ++dj)
        for (int di = -1; di <= 1; ++di)
            if (!has(i + di, j + dj)) return false;
    return true;
}

std::optional<ClothPoint> PinJointedNet::settled_at(const Vec2& p) const {
    const auto cell = cell_over(p);
    if (!cell) return std::nullopt;
    for (const int di : {0, 1})
        for (const int dj : {0, 1})
            if (!is_settled(cell->i + di, cell->j + dj)) return std::nullopt;
    return cloth_in(*cell);
}

std::optional<Vec2> PinJointedNet::most_sheared() const {
    std::optional<Vec2> worst;
    double most = 0.0;
    for (int j = -reach_; j <= reach_; ++j)
        for (int i = -reach_; i <= reach_; ++i) {
            const double shear = std::abs(shear_[slot(i, j)]);
            if (!(shear > most) || !is_settled(i, j) || !chart_->triangle_at(node_[slot(i, j)]))
                continue;
            most = shear;
            worst = node_[slot(i, j)];
        }
    return worst;
}

std::optional<Vec2> PinJointedNet::place_of(const Vec2& cloth) const {
    const Vec2 q = cloth / cell_;
    const int i = static_cast<int>(std::floor(q.x())), j = static_cast<int>(std::floor(q.y()));
    if (!has(i, j) || !has(i + 1, j) || !has(i, j + 1) || !has(i + 1, j + 1)) return std::nullopt;
    const double u = q.x() - i, v = q.y() - j;
    return Vec2((1.0 - u) * (1.0 - v) * node_[slot(i, j)] + u * (1.0 - v) * node_[slot(i + 1, j)] +
                u * v * node_[slot(i + 1, j + 1)] + (1.0 - u) * v * node_[slot(i, j + 1)]);
}

std::optional<Vec2> PinJointedNet::node(int i, int j) const {
    if (!has(i, j)) return std::nullopt;
    return node_[slot(i, j)];
}

std::optional<double> PinJointedNet::shear(int i, int j) const {
    if (!has(i, j)) return std::nullopt;
    return shear_[slot(i, j)];
}

}  // namespace tearline::flattening

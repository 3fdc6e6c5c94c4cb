#include "core/flattening/metric_chart.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "core/base/tolerances.h"
#include "core/flattening/tolerances.h"
#include "core/plane/box.h"
#include "core/plane/segment.h"
#include "core/surface/intrinsic.h"

namespace tearline::flattening {

double Metric::length(const Vec2& d) const {
    return std::sqrt(std::max(product(d, d), 0.0));
}

namespace {

using Corners = std::array<std::int32_t, 3>;

/// The metric that gives a triangle of the picture its edge lengths on the surface.
Metric metric_of(const std::array<double, 3>& length, const std::array<Vec2, 3>& picture) {
    const surface::FlatTriangle rest = surface::lay_flat(length);
    Eigen::Matrix2d now, true_shape;
    now << picture[1] - picture[0], picture[2] - picture[0];
    true_shape << rest[1] - rest[0], rest[2] - rest[0];
    const double whole = now.determinant();
    Eigen::Matrix2d inverse;
    inverse << now(1, 1), -now(0, 1), -now(1, 0), now(0, 0);
    const Eigen::Matrix2d map = true_shape * inverse / whole;
    const Eigen::Matrix2d g = map.transpose() * map;
    return {g(0, 0), g(0, 1), g(1, 1)};
}

Vec3 as_vector(const Metric& m) {
    return {m.xx, m.xy, m.yy};
}

Metric mixed(const Metric& a, const Metric& b, const Metric& c, const Vec3& w) {
    const Vec3 m = w[0] * as_vector(a) + w[1] * as_vector(b) + w[2] * as_vector(c);
    return {m[0], m[1], m[2]};
}

/// Sums for a plane fitted through triangle values round a vertex, weighted by area.
struct PlaneFit {
    Eigen::Matrix3d square = Eigen::Matrix3d::Zero();
    Eigen::Matrix3d right = Eigen::Matrix3d::Zero();
    double size = 0.0;

    void add(const Vec2& offset, double area, const Metric& value) {
        const Vec3 row(1.0, offset.x(), offset.y());
        square += area * row * row.transpose();
        right += area * row * as_vector(value).transpose();
        size += area;
    }
    /// The plane's value and slopes at the vertex; level where the triangles lie in line.
    [[nodiscard]] MetricChart::Sample plane() const {
        const double hold = tolerance::plane_fit_hold * (square(1, 1) + square(2, 2));
        Eigen::Matrix3d held = square;
        held(1, 1) += hold;
        held(2, 2) += hold;
        const Eigen::Matrix3d rows = held.ldlt().solve(right);
        const auto metric = [&](Eigen::Index row) {
            return Metric{rows(row, 0), rows(row, 1), rows(row, 2)};
        };
        return {metric(0), metric(1), metric(2)};
    }
};

}  // namespace

MetricChart::MetricChart(const surface::SurfaceMesh& mesh, std::vector<Vec2> places)
    : triangle_(mesh.triangle), places_(std::move(places)) {
    grid_ = surface::build_chart_grid(mesh, places_);
    recover_metric(mesh);
    spread_rim(mesh);
}

void MetricChart::recover_metric(const surface::SurfaceMesh& mesh) {
    std::vector<std::vector<std::int32_t>> round(places_.size());
    std::vector<Metric> flat(triangle_.size());
    std::vector<Vec2> centre(triangle_.size());
    std::vector<double> area(triangle_.size());
    for (std::size_t t = 0; t < triangle_.size(); ++t) {
        const auto& v = triangle_[t];
        const std::array<Vec2, 3> p{places_[v[0]], places_[v[1]], places_[v[2]]};
        flat[t] = metric_of(mesh.edge_length[t], p);
        centre[t] = (p[0] + p[1] + p[2]) / 3.0;
        area[t] = 0.5 * cross2(p[1] - p[0], p[2] - p[0]);
        for (const std::int32_t i : v) round[i].push_back(static_cast<std::int32_t>(t));
    }
    std::vector<bool> rim(places_.size(), false);
    for (const auto& loop : surface::boundary_loops(mesh))
        for (const std::int32_t v : loop) rim[v] = true;
    metric_.resize(places_.size());
    std::vector<std::int32_t> used;
    for (std::size_t v = 0; v < places_.size(); ++v) {
        used = round[v];
        // One ring lies to one side of a rim vertex: a second one steadies the plane's slope.
        if (rim[v])
            for (const std::int32_t t : round[v])
                for (const std::int32_t w : triangle_[t])
                    used.insert(used.end(), round[w].begin(), round[w].end());
        std::sort(used.begin(), used.end());
        used.erase(std::unique(used.begin(), used.end()), used.end());
        PlaneFit fit;
        for (const std::int32_t t : used) fit.add(centre[t] - places_[v], area[t], flat[t]);
        if (fit.size > 0.0) metric_[v] = fit.plane();
    }
}

double MetricChart::rim_distance(std::size_t edge, const Vec2& at) const {
    const auto [t, i] = rim_[edge];
    return plane::distance_to_segment(places_[triangle_[t][i]], places_[triangle_[t][(i + 1) % 3]],
                                      at);
}

void MetricChart::spread_rim(const surface::SurfaceMesh& mesh) {
    const auto across = surface::neighbours(mesh);
    for (std::size_t t = 0; t < across.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (across[t][i] < 0) rim_.push_back({static_cast<std::int32_t>(t), i});
    const auto [low, high] = plane::box_round(places_);
    constexpr double cells = 160.0;
    const double extent = (high - low).maxCoeff();
    raster_cell_ = std::max(grid_.cell, 2.0 * extent / cells);
    raster_low_ = low - Vec2(0.5 * extent, 0.5 * extent);
    raster_columns_ = static_cast<std::int32_t>((high.x() - low.x() + extent) / raster_cell_) + 1;
    raster_rows_ = static_cast<std::int32_t>((high.y() - low.y() + extent) / raster_cell_) + 1;
    nearest_rim_.assign(static_cast<std::size_t>(raster_columns_) * raster_rows_, -1);

    const auto centre = [&](std::int32_t c, std::int32_t r) {
        return Vec2(raster_low_ + raster_cell_ * Vec2(c + 0.5, r + 0.5));
    };
    const auto offer = [&](std::int32_t c, std::int32_t r, std::int32_t edge) {
        auto& held = nearest_rim_[static_cast<std::size_t>(r) * raster_columns_ + c];
        if (edge < 0 || edge == held) return;
        if (held < 0 || rim_distance(edge, centre(c, r)) < rim_distance(held, centre(c, r)))
            held = edge;
    };
    for (std::size_t e = 0; e < rim_.size(); ++e) {
        const auto [t, i] = rim_[e];
        const Vec2 middle =
            0.5 * (places_[triangle_[t][i]] + places_[triangle_[t][(i + 1) % 3]]) - raster_low_;
        offer(static_cast<std::int32_t>(middle.x() / raster_cell_),
              static_cast<std::int32_t>(middle.y() / raster_cell_), static_cast<std::int32_t>(e));
    }
    // Two sweeps hand the nearest edge on from cell to cell, as distance transforms do.
    const auto hand_on = [&](std::int32_t c, std::int32_t r, int dc, int dr) {
        const std::int32_t fc = c + dc, fr = r + dr;
        if (fc < 0 || fr < 0 || fc >= raster_columns_ || fr >= raster_rows_) return;
        offer(c, r, nearest_rim_[static_cast<std::size_t>(fr) * raster_columns_ + fc]);
    };
    for (int sweep = 0; sweep < 2; ++sweep) {
        for (std::int32_t r = 0; r < raster_rows_; ++r) {
            for (std::int32_t c = 0; c < raster_columns_; ++c)
                for (const auto& [dc, dr] : {std::pair{-1, 0}, {-1, -1}, {0, -1}, {1, -1}})
                    hand_on(c, r, dc, dr);
            for (std::int32_t c = raster_columns_ - 1; c >= 0; --c) hand_on(c, r, 1, 0);
        }
        for (std::int32_t r = raster_rows_ - 1; r >= 0; --r) {
            for (std::int32_t c = raster_columns_ - 1; c >= 0; --c)
                for (const auto& [dc, dr] : {std::pair{1, 0}, {1, 1}, {0, 1}, {-1, 1}})
                    hand_on(c, r, dc, dr);
            for (std::int32_t c = 0; c < raster_columns_; ++c) hand_on(c, r, -1, 0);
        }
    }
}

std::optional<MetricChart::Found> MetricChart::within(std::int32_t triangle, const Vec2& p,
                                                      double slack) const {
    const auto& v = triangle_[triangle];
    const Vec2 &a = places_[v[0]], &b = places_[v[1]], &c = places_[v[2]];
    const double w0 = cross2(b - p, c - p), w1 = cross2(c - p, a - p);
    const double w2 = cross2(a - p, b - p), whole = w0 + w1 + w2;
    const double least = slack * whole;
    if (w0 >= least && w1 >= least && w2 >= least && whole > 0.0)
        return Found{triangle, Vec3(w0, w1, w2) / whole, true};
    return std::nullopt;
}

std::optional<MetricChart::Found> MetricChart::locate(const Vec2& p) const {
    for (const TriangleId t : grid_.near(p))
        if (const auto found = within(t.value, p, -tolerance::barycentric_slack)) return found;
    return std::nullopt;
}

std::optional<std::int32_t> MetricChart::triangle_at(const Vec2& place) const {
    const auto found = locate(place);
    if (!found) return std::nullopt;
    return found->triangle;
}

MetricChart::Found MetricChart::at_rim(const Vec2& p) const {
    const auto clamped = [&](double x, std::int32_t count) {
        return static_cast<std::size_t>(
            std::clamp(x / raster_cell_, 0.0, static_cast<double>(count - 1)));
    };
    const std::size_t cell =
        clamped(p.y() - raster_low_.y(), raster_rows_) * static_cast<std::size_t>(raster_columns_) +
        clamped(p.x() - raster_low_.x(), raster_columns_);
    const auto [t, i] = rim_[nearest_rim_[cell]];
    const double along =
        plane::nearest_share(places_[triangle_[t][i]], places_[triangle_[t][(i + 1) % 3]], p);
    Found found;
    found.triangle = t;
    found.weights[i] = 1.0 - along;
    found.weights[(i + 1) % 3] = along;
    return found;
}

Metric MetricChart::metric(const Found& found) const {
    const auto& v = triangle_[found.triangle];
    return mixed(metric_[v[0]].here, metric_[v[1]].here, metric_[v[2]].here, found.weights);
}

Metric MetricChart::metric(const Vec2& at) const {
    const auto inside = locate(at);
    return metric(inside ? *inside : at_rim(at));
}

MetricChart::Sample MetricChart::sample(const Vec2& at) const {
    const auto inside = locate(at);
    const Found found = inside ? *inside : at_rim(at);
    const auto& v = triangle_[found.triangle];
    const Sample &a = metric_[v[0]], &b = metric_[v[1]], &c = metric_[v[2]];
    const Metric none{0.0, 0.0, 0.0};
    Sample out{mixed(a.here, b.here, c.here, found.weights), none, none};
    if (!found.inside) return out;
    // The recovered slopes, not those of the triangle: a geodesic along a line of edges would
    // lean to the side whose triangle is met first.
    out.along_x = mixed(a.along_x, b.along_x, c.along_x, found.weights);
    out.along_y = mixed(a.along_y, b.along_y, c.along_y, found.weights);
    return out;
}

double MetricChart::steepest() const {
    double most = 0.0;
    for (const Sample& s : metric_)
        for (const Metric& slope : {s.along_x, s.along_y})
            most = std::max({most, std::abs(slope.xx), std::abs(slope.xy), std::abs(slope.yy)});
    return most;
}

MetricChart::Stroke MetricChart::stroke(const Vec2& from, const Vec2& to, Trail& trail) const {
    // Well inside a triangle a place lies in no other, and need not be looked for among them.
    const auto metric_at = [this](const Vec2& at, std::int32_t& last) {
        auto found = last < 0 ? std::nullopt : within(last, at, tolerance::well_inside_triangle);
        if (!found) found = locate(at);
        last = found ? found->triangle : -1;
        return metric(found ? *found : at_rim(at));
    };
    // Gauss, two points: exact for a cubic, and the same both ways.
    const double half = 0.5 / std::sqrt(3.0);
    const Vec2 d = to - from;
    Stroke out;
    for (std::size_t k = 0; k < trail.size(); ++k) {
        const double t = k == 0 ? 0.5 - half : 0.5 + half;
        const Vec2 gd = metric_at(from + t * d, trail[k]).times(d);
        const double length = std::sqrt(std::max(gd.dot(d), 0.0));
        if (!(length > 0.0)) continue;
        out.length += 0.5 * length;
        out.slope += 0.5 * gd / length;
    }
    return out;
}

MetricChart::Step MetricChart::geodesic_step(const Step& from, double length) const {
    // q'' = -g^-1 ((q' . grad) g q' - grad(q' g q') / 2).
    const auto bend = [&](const Vec2& at, const Vec2& u) {
        const Sample s = sample(at);
        const Vec2 turn = u.x() * s.along_x.times(u) + u.y() * s.along_y.times(u) -
                          0.5 * Vec2(s.along_x.product(u, u), s.along_y.product(u, u));
        const double whole = s.here.xx * s.here.yy - s.here.xy * s.here.xy;
        return Vec2(-(s.here.yy * turn.x() - s.here.xy * turn.y()) / whole,
                    -(s.here.xx * turn.y() - s.here.xy * turn.x()) / whole);
    };
    const double h = length;
    const Vec2 q = from.at, u = from.direction;
    const Vec2 k1 = bend(q, u);
    const Vec2 u2 = u + 0.5 * h * k1, k2 = bend(q + 0.5 * h * u, u2);
    const Vec2 u3 = u + 0.5 * h * k2, k3 = bend(q + 0.5 * h * u2, u3);
    const Vec2 u4 = u + h * k3, k4 = bend(q + h * u3, u4);
    Step out{q + h / 6.0 * (u + 2.0 * u2 + 2.0 * u3 + u4),
             u + h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4)};
    out.direction /= metric(out.at).length(out.direction);
    return out;
}

}  // namespace tearline::flattening

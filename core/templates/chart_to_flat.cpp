#include "core/templates/chart_to_flat.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"

namespace tearline::templates {

ChartToFlat::ChartToFlat(const pieces::Piece& piece) : piece_(piece) {
    if (piece.chart.empty()) {
        cells_.resize(1);
        return;
    }
    low_ = piece.chart.front();
    Vec2 high = low_;
    for (const Vec2& p : piece.chart) low_ = low_.cwiseMin(p), high = high.cwiseMax(p);
    const Vec2 size = high - low_;
    const double triangles =
        static_cast<double>(std::max<std::size_t>(piece.lay.triangle.size(), 1));
    step_ = std::max(std::sqrt(std::max(size.x() * size.y(), 1.0) / triangles),
                     size.maxCoeff() / 2000.0);
    columns_ = static_cast<std::size_t>(size.x() / step_) + 1;
    rows_ = static_cast<std::size_t>(size.y() / step_) + 1;
    cells_.resize(columns_ * rows_);
    for (std::size_t t = 0; t < piece.lay.triangle.size(); ++t) {
        Vec2 from = piece.chart[static_cast<std::size_t>(piece.lay.triangle[t][0])], to = from;
        for (const std::int32_t v : piece.lay.triangle[t]) {
            from = from.cwiseMin(piece.chart[static_cast<std::size_t>(v)]);
            to = to.cwiseMax(piece.chart[static_cast<std::size_t>(v)]);
        }
        const std::size_t first = cell(from.x(), from.y()), last = cell(to.x(), to.y());
        for (std::size_t row = first / columns_; row <= last / columns_; ++row)
            for (std::size_t column = first % columns_; column <= last % columns_; ++column)
                cells_[row * columns_ + column].push_back(static_cast<std::int32_t>(t));
    }
}

std::size_t ChartToFlat::cell(double x, double y) const {
    const auto index = [](double offset, double step, std::size_t count) {
        return static_cast<std::size_t>(
            std::clamp(offset / step, 0.0, static_cast<double>(count - 1)));
    };
    return index(y - low_.y(), step_, rows_) * columns_ + index(x - low_.x(), step_, columns_);
}

std::optional<Vec2> ChartToFlat::operator()(const Vec2& chart_point) const {
    for (const std::int32_t t : cells_[cell(chart_point.x(), chart_point.y())]) {
        const auto& corner = piece_.lay.triangle[static_cast<std::size_t>(t)];
        const auto at = [&](int i) {
            return static_cast<std::size_t>(corner[static_cast<std::size_t>(i)]);
        };
        const Vec2 &a = piece_.chart[at(0)], &b = piece_.chart[at(1)], &c = piece_.chart[at(2)];
        const double twice = cross2(b - a, c - a);
        if (!(std::abs(twice) > 0.0)) continue;
        const double wb = cross2(chart_point - a, c - a) / twice;
        const double wc = cross2(b - a, chart_point - a) / twice;
        const double least = std::min({wb, wc, 1.0 - wb - wc});
        if (least < -tolerance::barycentric_slack) continue;
        return piece_.flat[at(0)] * (1.0 - wb - wc) + piece_.flat[at(1)] * wb +
               piece_.flat[at(2)] * wc;
    }
    return std::nullopt;
}

std::vector<ChartToFlat::Run> ChartToFlat::runs(const Loop2& chart_loop) const {
    std::vector<Run> found;
    if (chart_loop.empty()) return found;
    // Begin after a gap, so that no run is cut in two by the loop's own start.
    std::vector<std::optional<Vec2>> flat;
    for (const Vec2& p : chart_loop) flat.push_back((*this)(p));
    const auto gap = std::find(flat.begin(), flat.end(), std::nullopt);
    if (gap == flat.end()) {
        Run run{{}, true};
        for (const auto& p : flat) run.points.push_back(*p);
        return {run};
    }
    std::rotate(flat.begin(), gap, flat.end());
    for (const auto& p : flat) {
        if (!p) {
            found.emplace_back();
        } else {
            found.back().points.push_back(*p);
        }
    }
    std::erase_if(found, [](const Run& run) { return run.points.size() < 2; });
    return found;
}

}  // namespace tearline::templates

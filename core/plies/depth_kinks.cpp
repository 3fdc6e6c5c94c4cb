#include "core/plies/depth_kinks.h"

#include <algorithm>

#include "core/base/tolerances.h"
#include "core/plane/nearest_on_line.h"
#include "core/plies/tolerances.h"

namespace tearline::plies {

std::vector<double> depth_kinks(std::span<const Vec2> dish, const PlyLevel& ply) {
    std::vector<double> kinks;
    if (dish.empty() || ply.lies == Lies::level) return kinks;
    const double edge = ply.edge_offset - tolerance::chart_merge;
    const auto add = [&](double offset) {
        if (offset < edge && offset >= 0.0) kinks.push_back(offset);
    };
    // A cover rests on the plies under it while those lie lower than the dish's wall.
    const bool resting = ply.lies == Lies::resting;
    const double rest = resting ? ply.rest_depth : dish.front().y();
    for (std::size_t i = 0; i < dish.size(); ++i) {
        if (!resting || dish[i].y() < rest) add(dish[i].x());
        if (i == 0 || !resting) continue;
        const double before = dish[i - 1].y() - rest, after = dish[i].y() - rest;
        if (before > 0.0 && after < 0.0)
            add(dish[i - 1].x() + before / (before - after) * (dish[i].x() - dish[i - 1].x()));
    }
    std::sort(kinks.begin(), kinks.end());
    kinks.erase(std::unique(kinks.begin(), kinks.end()), kinks.end());
    return kinks;
}

std::vector<std::vector<Vec2>> edge_lines(const NetRegion& region) {
    std::vector<std::vector<Vec2>> lines;
    const auto add = [&](const Loop2& loop) {
        if (loop.empty()) return;
        lines.push_back(loop);
        lines.back().push_back(loop.front());
    };
    for (const Region2& part : region.chart) {
        add(part.outer);
        for (const Loop2& hole : part.holes) add(hole);
    }
    return lines;
}

std::vector<std::vector<Vec2>> without_shared_runs(const std::vector<std::vector<Vec2>>& lines) {
    std::vector<std::vector<Vec2>> out;
    for (auto line = lines.rbegin(); line != lines.rend(); ++line) {
        std::vector<std::vector<Vec2>> parts(1);
        for (const Vec2& p : *line)
            if (plane::distance_to_lines(out, p) > tolerance::one_line)
                parts.back().push_back(p);
            else if (!parts.back().empty())
                parts.emplace_back();
        for (std::vector<Vec2>& part : parts)
            if (part.size() > 1) out.push_back(std::move(part));
    }
    return out;
}

}  // namespace tearline::plies

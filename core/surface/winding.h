#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "core/base/vec.h"
#include "core/surface/patch.h"

namespace tearline::surface {

/// How a patch winds round a tube: its chart is the tube unrolled for more than one turn, and
/// places that lie a turn apart in it are one place of the hull.
class Winding {
public:
    /// @param source  per triangle of the patch: the one of the tube that it stands for
    /// @param turn    per triangle: how many turns on
    Winding(std::vector<std::int32_t> source, std::vector<int> turn);

    /// The chart point of the same place of the hull, `turns` turns on; nothing where the chart
    /// ends before.
    [[nodiscard]] std::optional<Vec2> turned(const Patch& patch, const Vec2& chart_point,
                                             int turns) const;

    /// Per triangle: whether no copy of it lies a turn before.
    [[nodiscard]] std::vector<bool> first_copies() const;

    /// Vertices of the patch with the same ones a turn on.
    [[nodiscard]] std::vector<std::pair<std::int32_t, std::int32_t>> pairs(
        const Patch& patch) const;

private:
    std::vector<std::int32_t> source_;
    std::vector<int> turn_;
    std::map<std::pair<std::int32_t, int>, std::int32_t> triangle_;  ///< by source and turn
};

}  // namespace tearline::surface

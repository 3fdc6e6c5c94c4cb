#pragma once
#include <cstdint>
#include <vector>

#include "core/base/vec.h"

namespace tearline::hull {

/// Points halved again and again, to find those near a line however they lie.
class PointTree {
public:
    /// @param points  [mm] all points of the model
    /// @param chosen  numbers of those in the tree
    PointTree(const std::vector<Vec3>& points, std::vector<std::int32_t> chosen);

    /// Numbers of the points within `reach` of the line from a to b, its ends included.
    void near_line(const Vec3& a, const Vec3& b, double reach,
                   std::vector<std::int32_t>& found) const;

    /// All numbers, near ones near each other: asked for in this order the tree is quickest.
    [[nodiscard]] const std::vector<std::int32_t>& numbers() const { return numbers_; }

private:
    struct Node {
        Vec3 low, high;  ///< [mm] of the box about its points
        std::size_t first = 0, last = 0;
        std::size_t second_half = 0;  ///< the first half is the next node; 0 for none
    };
    void add(const std::vector<Vec3>& points, std::size_t first, std::size_t last);

    std::vector<std::int32_t> numbers_;
    std::vector<Vec3> points_;  ///< [mm] of the numbers
    std::vector<Node> nodes_;
};

}  // namespace tearline::hull

#pragma once
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <unordered_map>
#include <vector>

#include "core/base/vec.h"

namespace tearline::scan {

/// A small place of the scan.
struct Spot {
    Vec3 at{0, 0, 0};      ///< [mm]
    Vec3 normal{0, 0, 0};  ///< unit, all on one side of the skin; zero: not known
    double bend = 0.0;     ///< [1/mm] the most that the normals turn about it
    Vec3 across{0, 0, 0};  ///< unit: the way they turn along
    bool taken = false;    ///< on a line that was found
    [[nodiscard]] Vec3 along() const { return normal.cross(across); }
};

/// Small places of a scan, and how its skin turns about them.
class Spots {
public:
    /// @param width    [mm] of the places that normals are taken from: three spots each way
    /// @param outward  roughly which way the skin faces
    Spots(const std::vector<Vec3>& points, double width, const Vec3& outward);

    std::vector<Spot> all;
    [[nodiscard]] double width() const { return width_; }
    template <class Do>
    void near(const Vec3& at, double reach, const Do& with) const {
        const auto around = static_cast<std::int64_t>(std::ceil(reach / width_));
        const auto middle = cube_of(at, width_);
        for (std::int64_t x = -around; x <= around; ++x)
            for (std::int64_t y = -around; y <= around; ++y)
                for (std::int64_t z = -around; z <= around; ++z) {
                    const auto found =
                        held_.find(key({middle[0] + x, middle[1] + y, middle[2] + z}));
                    if (found == held_.end()) continue;
                    for (const std::size_t i : found->second)
                        if ((all[i].at - at).squaredNorm() <= reach * reach) with(i);
                }
    }

private:
    void find_normals();
    void orient(const Vec3& outward);
    void find_bends();
    using Cube = std::array<std::int64_t, 3>;
    static Cube cube_of(const Vec3& at, double size) {
        return {static_cast<std::int64_t>(std::floor(at.x() / size)),
                static_cast<std::int64_t>(std::floor(at.y() / size)),
                static_cast<std::int64_t>(std::floor(at.z() / size))};
    }
    static std::int64_t key(const Cube& cube) {
        return (cube[0] * 1'000'003 + cube[1]) * 1'000'003 + cube[2];
    }
    double width_;
    std::unordered_map<std::int64_t, std::vector<std::size_t>> held_;
};

}  // namespace tearline::scan

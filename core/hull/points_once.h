#pragma once
#include <cstdint>
#include <vector>

#include "core/base/vec.h"

namespace tearline::hull {

/// Points of which each is kept once, where a file repeats them with every facet.
class PointsOnce {
public:
    /// @param kept  none yet; those that are kept come to stand there as they come
    explicit PointsOnce(std::vector<Vec3>& kept);
    /// Room for so many.
    void reserve(std::size_t points);

    /// The number of a point among those that are kept.
    ///
    /// @param p  finite
    std::int32_t number_of(const Vec3& p);

private:
    [[nodiscard]] std::size_t slot_of(const Vec3& p) const;
    void rehash(std::size_t slots);

    std::vector<Vec3>& kept_;
    std::vector<std::int32_t> slots_;  ///< open hash of those kept; -1: empty
};

}  // namespace tearline::hull

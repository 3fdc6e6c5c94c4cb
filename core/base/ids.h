#pragma once
#include <array>
#include <compare>
#include <cstddef>
#include <cstdint>

namespace tearline {

/// An index that knows what it counts: a vertex is no triangle.
template <class Tag>
struct Id {
    std::int32_t value = -1;  ///< -1: none

    constexpr Id() = default;
    constexpr explicit Id(std::int32_t v) : value(v) {}
    constexpr explicit Id(std::size_t v) : value(static_cast<std::int32_t>(v)) {}
    [[nodiscard]] constexpr bool valid() const { return value >= 0; }
    [[nodiscard]] constexpr std::size_t index() const { return static_cast<std::size_t>(value); }
    constexpr auto operator<=>(const Id&) const = default;
};

/// The bare indices, for what takes no ids.
template <class Tag>
[[nodiscard]] constexpr std::array<std::int32_t, 3> values(const std::array<Id<Tag>, 3>& ids) {
    return {ids[0].value, ids[1].value, ids[2].value};
}

using VertexId = Id<struct VertexTag>;
using TriangleId = Id<struct TriangleTag>;
using FaceId = Id<struct FaceTag>;  ///< a face of the CAD model

}  // namespace tearline

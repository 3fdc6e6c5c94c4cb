#include "core/hull/points_once.h"

#include <bit>

namespace tearline::hull {

namespace {

/// Slots of which so many points fill three quarters at most.
std::size_t slots_for(std::size_t points) {
    return std::bit_ceil(4 * points / 3 + 1);
}

std::uint64_t hash_of(const Vec3& p) {
    std::uint64_t h = 0;
    for (int k = 0; k < 3; ++k) {
        // Plus nought: the two noughts are one.
        h = (h ^ std::bit_cast<std::uint64_t>(p[k] + 0.0)) * 0x9E3779B97F4A7C15ull;
        h ^= h >> 29;
    }
    return h;
}

}  // namespace

PointsOnce::PointsOnce(std::vector<Vec3>& kept) : kept_(kept), slots_(slots_for(1), -1) {}

void PointsOnce::reserve(std::size_t points) {
    kept_.reserve(points);
    if (slots_for(points) > slots_.size()) rehash(slots_for(points));
}

std::int32_t PointsOnce::number_of(const Vec3& p) {
    std::size_t slot = slot_of(p);
    if (slots_[slot] >= 0) return slots_[slot];
    if (slots_for(kept_.size() + 1) > slots_.size()) {
        rehash(2 * slots_.size());
        slot = slot_of(p);
    }
    const auto number = static_cast<std::int32_t>(kept_.size());
    kept_.push_back(p);
    slots_[slot] = number;
    return number;
}

std::size_t PointsOnce::slot_of(const Vec3& p) const {
    const std::size_t mask = slots_.size() - 1;
    std::size_t i = hash_of(p) & mask;
    while (slots_[i] >= 0 && kept_[static_cast<std::size_t>(slots_[i])] != p) i = (i + 1) & mask;
    return i;
}

void PointsOnce::rehash(std::size_t slots) {
    slots_.assign(slots, -1);
    for (std::size_t i = 0; i < kept_.size(); ++i)
        slots_[slot_of(kept_[i])] = static_cast<std::int32_t>(i);
}

}  // namespace tearline::hull

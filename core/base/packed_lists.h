#pragma once
#include <cstdint>
#include <numeric>
#include <span>
#include <vector>

namespace tearline {

/// A list of items for each thing of one kind, all in one row: for many short lists that are known
/// at once.
template <class Key, class Item>
class PackedLists {
public:
    PackedLists() = default;
    /// @param each  calls what it is given with every key and item; asked twice, the same both
    /// times
    template <class Each>
    PackedLists(std::size_t keys, Each each) : first_(keys + 1, 0) {
        each([&](Key key, const Item&) { ++first_[key.index() + 1]; });
        std::partial_sum(first_.begin(), first_.end(), first_.begin());
        items_.resize(first_.back());
        std::vector<std::uint32_t> end(first_.begin(), first_.end() - 1);
        each([&](Key key, const Item& item) { items_[end[key.index()]++] = item; });
    }

    /// In the order in which they were told.
    [[nodiscard]] std::span<const Item> operator[](Key key) const {
        return {items_.data() + first_[key.index()], items_.data() + first_[key.index() + 1]};
    }

private:
    std::vector<std::uint32_t> first_;  ///< into `items_`; one more than keys
    std::vector<Item> items_;
};

}  // namespace tearline

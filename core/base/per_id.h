#pragma once
#include <utility>
#include <vector>

#include "core/base/ids.h"

namespace tearline {

/// Ids from the first to the last of a kind, for loops.
template <class Key>
class IdRange {
public:
    explicit IdRange(std::size_t count) : count_(count) {}
    struct Iterator {
        std::size_t at;
        Key operator*() const { return Key(at); }
        Iterator& operator++() { return ++at, *this; }
        bool operator==(const Iterator&) const = default;
    };
    [[nodiscard]] Iterator begin() const { return {0}; }
    [[nodiscard]] Iterator end() const { return {count_}; }

private:
    std::size_t count_;
};

/// What each thing of one kind has, numbered by its ids: no other kind of id reads it.
template <class Key, class T>
class PerId {
public:
    using Reference = typename std::vector<T>::reference;
    using ConstReference = typename std::vector<T>::const_reference;

    PerId() = default;
    explicit PerId(std::size_t count, const T& item = T()) : items_(count, item) {}
    explicit PerId(std::vector<T> items) : items_(std::move(items)) {}  ///< in the ids' order

    [[nodiscard]] Reference operator[](Key id) { return items_[id.index()]; }
    [[nodiscard]] ConstReference operator[](Key id) const { return items_[id.index()]; }
    Key add(T item) {
        items_.push_back(std::move(item));
        return Key(items_.size() - 1);
    }
    [[nodiscard]] bool empty() const { return items_.empty(); }
    [[nodiscard]] std::size_t size() const { return items_.size(); }
    void resize(std::size_t count, const T& item = T()) { items_.resize(count, item); }
    [[nodiscard]] IdRange<Key> ids() const { return IdRange<Key>(items_.size()); }
    [[nodiscard]] auto begin() { return items_.begin(); }
    [[nodiscard]] auto end() { return items_.end(); }
    [[nodiscard]] auto begin() const { return items_.begin(); }
    [[nodiscard]] auto end() const { return items_.end(); }

private:
    std::vector<T> items_;
};

}  // namespace tearline

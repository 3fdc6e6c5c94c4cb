#pragma once
#include <array>
#include <concepts>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/job/schema/key.h"

/// The kinds of values of the job file, each made for the member that it fills.
namespace tearline::job {

/// What a member holds, as a node of a job file; an empty optional is nothing.
[[nodiscard]] Node node_of(std::same_as<bool> auto truth) {
    return {.kind = Node::Kind::boolean, .truth = truth};
}
[[nodiscard]] Node node_of(int number);
[[nodiscard]] Node node_of(double number);
[[nodiscard]] Node node_of(std::string_view text);
[[nodiscard]] Node node_of(const std::string& text);
[[nodiscard]] Node node_of(const std::array<double, 2>& pair);
[[nodiscard]] Node node_of(const Vec3& point);
[[nodiscard]] Node node_of(GramsPerSquareMetre weight);
[[nodiscard]] Node node_of(Grams mass);
[[nodiscard]] Node node_of(const Can& can);
template <class Tag>
[[nodiscard]] Node node_of(Quantity<Tag> amount) {
    return node_of(amount.value());
}
template <class T>
[[nodiscard]] Node node_of(const std::optional<T>& value) {
    return value ? node_of(*value) : Node::nothing();
}
template <class T>
[[nodiscard]] Node node_of(const std::vector<T>& list) {
    Node out{.kind = Node::Kind::array};
    for (const T& item : list) out.items.push_back(node_of(item));
    return out;
}

/// A value that `read(TableReader&, key, member)` reads.
template <class T, class M, class Read>
Value<T> value_of(std::string_view kind, M T::*part, Read read, std::optional<Range> range = {},
                  std::string_view unit = {}) {
    return {kind,
            [part, read](TableReader& in, std::string_view key, T& out, Job&) {
                read(in, key, out.*part);
            },
            [part](const T& of) { return node_of(of.*part); },
            range,
            unit,
            {}};
}

template <class T, class M>
Value<T> length(M T::*part, const Range& range) {
    const auto read = [range](auto& in, auto key, M& mm) { in.length(key, mm, range); };
    return value_of("length", part, read, range, "mm");
}
template <class T, class M>
Value<T> number(M T::*part, const Range& range, std::string_view unit = {}) {
    const auto read = [=](auto& in, auto key, M& value) { in.number(key, value, range, unit); };
    return value_of("number", part, read, range, unit);
}
template <class T, class M>
Value<T> stress(M T::*part, const Range& range) {
    const auto read = [range](auto& in, auto key, M& mpa) { in.stress(key, mpa, range); };
    return value_of("stress", part, read, range, "MPa");
}
template <class T>
Value<T> areal_weight(GramsPerSquareMetre T::*part, const Range& range) {
    const auto read = [range](auto& in, auto key, auto& of) { in.areal_weight(key, of, range); };
    return value_of("areal weight", part, read, range, "g/m2");
}
template <class T>
Value<T> mass(Grams T::*part, const Range& range) {
    const auto read = [range](auto& in, auto key, Grams& of) { in.mass(key, of, range); };
    return value_of("mass", part, read, range, "g");
}
/// What resin is sold in, by mass or by volume.
template <class T>
Value<T> can(Can T::*part, const Range& range) {
    const auto read = [range](auto& in, auto key, Can& of) { in.can(key, of, range); };
    return value_of("can", part, read, range, "g");
}
template <class T>
Value<T> whole_number(int T::*part, int least, int most) {
    const auto read = [=](auto& in, auto key, int& of) { in.whole_number(key, of, least, most); };
    return value_of("whole number", part, read, between(least, most));
}
template <class T, class M>
Value<T> truth(M T::*part) {
    return value_of("truth", part, [](auto& in, auto key, M& of) { in.truth(key, of); });
}
template <class T>
Value<T> text(std::string T::*part) {
    return value_of("text", part, [](auto& in, auto key, std::string& of) { in.text(key, of); });
}
template <class T>
Value<T> direction(Vec3 T::*part) {
    return value_of("direction", part, [](auto& in, auto key, Vec3& of) { in.direction(key, of); });
}
template <class T>
Value<T> lengths(std::vector<double> T::*part, const Range& range) {
    const auto read = [range](auto& in, auto key, auto& mm) { in.lengths(key, mm, range); };
    return value_of("lengths", part, read, range, "mm");
}
/// Two numbers within a range.
template <class T>
Value<T> pair(std::optional<std::array<double, 2>> T::*part, const Range& range) {
    const auto read = [range](TableReader& in, auto key, auto& of) {
        std::array<double, 2> both{};
        if (!in.has(key)) return;
        in.pair(key, both, range);
        of = both;
    };
    return value_of("pair", part, read, range);
}

/// A text out of a few.
template <class T, class M>
Value<T> word(M T::*part, const std::vector<std::string_view>& words) {
    const auto read = [words](TableReader& in, auto key, M& of) {
        std::string chosen;
        in.word(key, chosen, words);
        if (!chosen.empty()) of = chosen;
    };
    Value<T> value = value_of("choice", part, read);
    value.choices = words;
    return value;
}

template <class E>
using Words = std::vector<std::pair<std::string_view, E>>;

template <class E>
std::string_view word_for(const Words<E>& words, E value) {
    for (const auto& [word, named] : words)
        if (named == value) return word;
    return {};
}

template <class M>
struct Unwrapped {
    using type = M;
};
template <class M>
struct Unwrapped<std::optional<M>> {
    using type = M;
};

/// One of named values.
template <class T, class M>
Value<T> choice(M T::*part, const Words<typename Unwrapped<M>::type>& words) {
    using E = typename Unwrapped<M>::type;
    Value<T> value{.kind = "choice"};
    value.read = [part, words](TableReader& in, std::string_view key, T& out, Job&) {
        E chosen{};
        if (in.choice(key, chosen, words)) out.*part = chosen;
    };
    value.write = [part, words](const T& of) {
        const std::optional<E> held = of.*part;
        return held ? node_of(word_for(words, *held)) : Node::nothing();
    };
    for (const auto& [name, unused] : words) value.choices.push_back(name);
    return value;
}

/// Where points go that are found on the hull, and which one the next is.
[[nodiscard]] TableReader::Taping taping_of(Job& job, TapedPoint::Use use);

template <class T, class M>
Value<T> point(M T::*part, TapedPoint::Use use) {
    Value<T> value{.kind = "point"};
    value.read = [part, use](TableReader& in, std::string_view key, T& out, Job& job) {
        std::optional<Vec3> at;
        in.point(key, at, taping_of(job, use));
        if (at) out.*part = *at;
    };
    value.write = [part](const T& of) { return node_of(of.*part); };
    return value;
}

/// A value of a member of a member.
template <class T, class P>
Value<T> within(P T::*part, const Value<P>& inner) {
    return {inner.kind,
            [=](TableReader& in, std::string_view key, T& out, Job& job) {
                inner.read(in, key, out.*part, job);
            },
            [=](const T& of) { return inner.write(of.*part); },
            inner.range,
            inner.unit,
            inner.choices};
}

/// A table within a table; its own reader reads it.
template <class T, class M>
Value<T> table(M T::*part, const Table<typename Unwrapped<M>::type>& keys) {
    Value<T> value{.kind = "table"};
    value.write = [part, &keys](const T& of) {
        const std::optional<typename Unwrapped<M>::type>& held = of.*part;
        return held ? written(keys, *held) : Node::nothing();
    };
    return value;
}
/// Any number of tables within a table.
template <class T, class P>
Value<T> tables(std::vector<P> T::*part, const Table<P>& keys) {
    Value<T> value{.kind = "tables"};
    value.write = [part, &keys](const T& of) {
        if ((of.*part).empty()) return Node::nothing();
        Node out{.kind = Node::Kind::array};
        for (const P& each : of.*part) out.items.push_back(written(keys, each));
        return out;
    };
    return value;
}

}  // namespace tearline::job

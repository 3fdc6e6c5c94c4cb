#pragma once
#include <array>
#include <concepts>
#include <optional>
#include <string>
#include <type_traits>
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

template <class M>
struct Unwrapped {
    using type = M;
};
template <class M>
struct Unwrapped<std::optional<M>> {
    using type = M;
};

/// A value that a reader of TableReader reads, with what else it takes.
template <class T, class M, class X, class... Hows>
Value<T> value_of(std::string_view kind, M T::*part,
                  std::optional<X> (TableReader::*reader)(const Node&, const std::string&, Hows...),
                  std::type_identity_t<Hows>... hows) {
    Value<T> value{.kind = kind};
    value.read = [=](TableReader& in, std::string_view key, T& out, Job&) {
        if (const auto read = in.read(key, reader, hows...))
            out.*part = static_cast<typename Unwrapped<M>::type>(*read);
    };
    value.write = [part](const T& of) { return node_of(of.*part); };
    return value;
}

/// The same of what has a range and a unit.
template <class T, class M, class X>
Value<T> ranged(std::string_view kind, M T::*part,
                std::optional<X> (TableReader::*reader)(const Node&, const std::string&, Range,
                                                        std::string_view),
                Range range, std::string_view unit) {
    Value<T> value = value_of(kind, part, reader, range, unit);
    value.range = range;
    value.unit = unit;
    return value;
}

template <class T, class M>
Value<T> number(M T::*part, Range range, std::string_view unit = {}) {
    return ranged("number", part, &TableReader::number, range, unit);
}
template <class T, class M>
Value<T> length(M T::*part, Range range) {
    return ranged("length", part, &TableReader::length, range, "mm");
}
template <class T, class M>
Value<T> stress(M T::*part, Range range) {
    return ranged("stress", part, &TableReader::stress, range, "MPa");
}
template <class T, class M>
Value<T> areal_weight(M T::*part, Range range) {
    return ranged("areal weight", part, &TableReader::areal_weight, range, "g/m2");
}
template <class T>
Value<T> mass(Grams T::*part, Range range) {
    return ranged("mass", part, &TableReader::mass, range, "g");
}
/// What resin is sold in, by mass or by volume.
template <class T>
Value<T> can(Can T::*part, Range range) {
    return ranged("can", part, &TableReader::can, range, "g");
}
template <class T>
Value<T> whole_number(int T::*part, int least, int most) {
    return ranged("whole number", part, &TableReader::whole_number, between(least, most), "");
}
template <class T>
Value<T> pair(std::optional<std::array<double, 2>> T::*part, Range range,
              std::string_view unit = {}) {
    return ranged("pair", part, &TableReader::pair, range, unit);
}
template <class T>
Value<T> lengths(std::vector<double> T::*part, Range range) {
    return ranged("lengths", part, &TableReader::lengths, range, "mm");
}
template <class T, class M>
Value<T> truth(M T::*part) {
    return value_of("truth", part, &TableReader::truth);
}
template <class T>
Value<T> text(std::string T::*part) {
    return value_of("text", part, &TableReader::text);
}
template <class T>
Value<T> file(std::string T::*part) {
    return value_of("text", part, &TableReader::file);
}
template <class T>
Value<T> direction(Vec3 T::*part) {
    return value_of("direction", part, &TableReader::direction);
}
template <class T, class M>
Value<T> place(M T::*part) {
    return value_of("place", part, &TableReader::place);
}
template <class T>
Value<T> places(std::vector<Vec3> T::*part) {
    Value<T> value = value_of("places", part, &TableReader::places);
    value.write = [part](const T& of) {
        return (of.*part).empty() ? Node::nothing() : node_of(of.*part);
    };
    return value;
}
/// A text out of a few.
template <class T, class M>
Value<T> word(M T::*part, const std::vector<std::string_view>& words) {
    Value<T> value = value_of("choice", part, &TableReader::word, words);
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

/// One of named values.
template <class T, class M>
Value<T> choice(M T::*part, const Words<typename Unwrapped<M>::type>& words) {
    Value<T> value{.kind = "choice"};
    for (const auto& [name, unused] : words) value.choices.push_back(name);
    value.read = [=, names = value.choices](TableReader& in, std::string_view key, T& out, Job&) {
        const auto chosen = in.read(key, &TableReader::word, names);
        for (const auto& [name, named] : words)
            if (chosen == name) out.*part = named;
    };
    value.write = [=](const T& of) {
        const std::optional<typename Unwrapped<M>::type> held = of.*part;
        return held ? node_of(word_for(words, *held)) : Node::nothing();
    };
    return value;
}

/// Where points go that are found on the hull, and which one the next is.
[[nodiscard]] TableReader::Taping taping_of(Job& job, TapedPoint::Use use);

template <class T, class M>
Value<T> point(M T::*part, TapedPoint::Use use) {
    Value<T> value{.kind = "point"};
    value.read = [=](TableReader& in, std::string_view key, T& out, Job& job) {
        if (const auto at = in.read(key, &TableReader::point, taping_of(job, use))) out.*part = *at;
    };
    value.write = [=](const T& of) { return node_of(of.*part); };
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

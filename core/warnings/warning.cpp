#include "core/warnings/warning.h"

#include <algorithm>
#include <array>

namespace tearline {

namespace {

template <std::size_t... I>
constexpr bool all_differ(std::index_sequence<I...> all) {
    const std::array names{std::variant_alternative_t<I, WarningCause>::code.name...};
    for (std::size_t i = 0; i < all.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (names[i] == names[j]) return false;
    return true;
}
static_assert(all_differ(std::make_index_sequence<std::variant_size_v<WarningCause>>()),
              "two warnings have one code");

const WarningCode& code_of(const Warning& warning) {
    return std::visit([](const auto& cause) -> const WarningCode& { return cause.code; },
                      warning.cause);
}

/// What differs from ply to ply, where each is told of the same cause.
std::string by_its_own(const Warning& warning) {
    if (warning.at) return ", by its own depth,";
    return is<warn::PlyAsCover>(warning) ? ", at its own height," : "";
}

std::string_view to_count(WarningRank rank) {
    switch (rank) {
        case WarningRank::stop:
            return "to stop and decide";
        case WarningRank::act:
            return "to do";
        case WarningRank::know:
            return "to know";
    }
    return "";
}

/// The sentence with the part of the repair before it.
Sentence of_part(const std::string& part, Sentence words) {
    words.told.insert(0, part + ": ");
    words.subject.insert(0, part + ": ");
    return words;
}

}  // namespace

std::string_view Warning::code() const {
    return code_of(*this).name;
}

WarningRank Warning::rank() const {
    return code_of(*this).rank;
}

Sentence Warning::words() const {
    Sentence words = std::visit(
        [this](const auto& of) {
            if constexpr (requires { of.words(*this); })
                return of.words(*this);
            else
                return of.words();
        },
        cause);
    if (!part.empty()) words = of_part(part, std::move(words));
    if (likewise.empty()) return words;
    return words + "; likewise" + by_its_own(*this) + " for ply " + listed(likewise);
}

WarningRank highest_rank(const Warnings& warnings) {
    WarningRank highest = WarningRank::know;
    for (const Warning& warning : warnings) highest = std::min(highest, warning.rank());
    return highest;
}

std::string counted_by_rank(const Warnings& warnings) {
    std::string text;
    for (const WarningRank rank : warning_ranks) {
        const auto count =
            std::count_if(warnings.begin(), warnings.end(),
                          [&](const Warning& warning) { return warning.rank() == rank; });
        if (count == 0) continue;
        text += (text.empty() ? "" : ", ") + std::to_string(count) + " ";
        text += to_count(rank);
    }
    return text;
}

}  // namespace tearline

#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/base/quantity.h"
#include "core/base/units.h"

namespace tearline {

/// A sentence formed once and told to three readers: the command line and plan.json, where it names
/// keys of the job file and mm, and the sheets, where it has plain words and the reader's units.
struct Sentence {
    std::string told;    ///< with key paths and mm
    std::string metric;  ///< plain, mm
    std::string us;      ///< plain, inches
    /// Ply or piece that the plain words begin with, "ply 3"; `metric` and `us` go on from there.
    std::string subject = {};

    Sentence() = default;
    Sentence(const std::string& text) : told(text), metric(text), us(text) {}  // NOLINT: implicit
    Sentence(const char* text) : Sentence(std::string(text)) {}                // NOLINT: implicit
    Sentence(std::string as_told, std::string in_metric, std::string in_us)
        : told(std::move(as_told)), metric(std::move(in_metric)), us(std::move(in_us)) {}

    Sentence& operator+=(const Sentence& more);
    [[nodiscard]] const std::string& after_subject(Units units) const {
        return units == Units::metric ? metric : us;
    }
    [[nodiscard]] std::string plain(Units units) const { return subject + after_subject(units); }
};

[[nodiscard]] Sentence operator+(Sentence first, const Sentence& more);

/// Words of which the sheets know only the plain ones.
///
/// @param told   a key path of the job file, mostly
/// @param plain  what a repairer calls it; may be nothing
[[nodiscard]] Sentence plainly(const std::string& told, const std::string& plain);

/// A ply or piece as the subject of a sentence.
[[nodiscard]] Sentence of_ply(const std::optional<int>& number);
[[nodiscard]] Sentence of_piece(const std::string& id);

/// "3, 4, 7".
[[nodiscard]] std::string listed(const std::vector<int>& numbers);

/// A length, told in mm and shown in the reader's unit.
///
/// @param mm        [mm]
/// @param decimals  of a mm
[[nodiscard]] Sentence said_length(double mm, int decimals);

/// A length as it was given; on sheets to 0.01 mm at most.
///
/// @param mm  [mm]
[[nodiscard]] Sentence said_length(double mm);

/// A thickness of laminate: thousandths of an inch in US units.
///
/// @param mm        [mm]
/// @param decimals  of a mm
[[nodiscard]] Sentence said_thickness(double mm, int decimals);

/// A mass: grams, in US units ounces before them, since scales show both.
[[nodiscard]] Sentence said_mass(Grams mass, int decimals);

/// A temperature: C as it was given, or whole F.
[[nodiscard]] Sentence said_warmth(Celsius temperature);

}  // namespace tearline

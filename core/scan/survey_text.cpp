#include <cmath>
#include <numbers>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/scan/survey.h"

namespace tearline::scan {

namespace {

std::string line(const std::string& name, const std::string& text) {
    constexpr std::size_t column = 16;
    return name + std::string(column - name.size(), ' ') + text + "\n";
}

std::string holes_words(const Survey& survey, Units units) {
    if (survey.holes.empty()) return "none seen";
    const hull::Scanned::Hole& largest = survey.holes.front();
    return std::to_string(survey.holes.size()) + " (missing data), the largest about " +
           length_text(2.0 * std::sqrt(largest.area_mm2 / std::numbers::pi), 0, units) +
           " wide near " + place_text(largest.at) + " mm";
}

}  // namespace

std::string survey_text(const Survey& survey, const Scan& scan, job::ScanKind kind, Units units) {
    const Vec3 size = survey.high - survey.low;
    const Noise known = noise_of_kind(kind);
    std::string text = line("format", scan.format + ", in " + scan.unit + ", a scan");
    text += line("points", std::to_string(survey.points) +
                               (scan.triangles.empty()
                                    ? ", without facets"
                                    : ", " + std::to_string(scan.triangles.size()) + " facets"));
    text +=
        line("extent", length_text(size.x(), 0, units) + " x " + length_text(size.y(), 0, units) +
                           " x " + length_text(size.z(), 0, units) + ", from " +
                           place_text(survey.low) + " to " + place_text(survey.high) + " mm");
    text += line("spacing", "about " + length_text(survey.spacing, 2, units));
    text +=
        line("noise", length_text(survey.noise.spread, 3, units) + " as seen at " +
                          std::to_string(survey.places) + " places; for kind \"" + kind_word(kind) +
                          "\" never taken for less than " + length_text(known.spread, 2, units));
    text += line("correlation", length_text(survey.noise.correlation, 1, units));
    text += line("fairness", length_text(survey.fairness, 0, units) +
                                 " would be chosen: shorter waves are taken for noise");
    text += line("islands", survey.islands == 0 ? "none"
                                                : std::to_string(survey.islands) + ", of " +
                                                      std::to_string(survey.island_points) +
                                                      " points, apart from the largest part");
    text += line("holes", holes_words(survey, units));
    text += line("tightest bend",
                 survey.tightest_radius > 0.0
                     ? "radius about " + length_text(survey.tightest_radius, 0, units) + " near " +
                           place_text(survey.tightest_at) +
                           " mm; a chine shows as a bend here, rounded off with the waves"
                     : "none found");
    return text;
}

}  // namespace tearline::scan

#include "core/job/amounts.h"

#include <cmath>
#include <initializer_list>
#include <optional>
#include <utility>

#include "core/base/numbers.h"
#include "core/base/us_constants.h"
#include "core/job/trimmed.h"

namespace tearline::job {

namespace {

struct Unit {
    std::string_view name;
    double factor;
};

struct Split {
    double number;
    std::string_view unit;
};

tl::unexpected<std::string> wrong(std::string right) {
    return tl::unexpected<std::string>(std::move(right));
}

/// "3", "3/4" or "1 3/4".
std::optional<double> read_mixed(std::string_view text) {
    text = trimmed(text);
    const auto slash = text.find('/');
    if (slash == std::string_view::npos) return read_number(text);
    double whole = 0.0;
    bool has_whole = false;
    std::string_view top = text.substr(0, slash);
    if (const auto space = top.find(' '); space != std::string_view::npos) {
        const auto read = read_number(top.substr(0, space));
        if (!read || !(*read >= 0.0)) return std::nullopt;
        whole = *read;
        has_whole = true;
        top = trimmed(top.substr(space));
    }
    const auto over = read_number(top), under = read_number(trimmed(text.substr(slash + 1)));
    if (!over || !under || !(*under > 0.0)) return std::nullopt;
    // "1 -3/4" is a slip of "1-3/4", not a quarter.
    if (has_whole && !(*over >= 0.0)) return std::nullopt;
    return whole + *over / *under;
}

std::optional<Split> split(std::string_view text) {
    text = trimmed(text);
    // The exponent's e must not be taken for a unit: longest numeric prefix wins.
    const auto unit_at = text.find_first_not_of("0123456789+-.,/ eE\t");
    std::size_t end = unit_at == std::string_view::npos ? text.size() : unit_at;
    while (end > 0 && (text[end - 1] == 'e' || text[end - 1] == 'E')) --end;
    const auto number = read_mixed(text.substr(0, end));
    if (!number || !std::isfinite(*number)) return std::nullopt;
    return Split{*number, trimmed(text.substr(end))};
}

std::optional<double> in_unit(const Split& read, std::initializer_list<Unit> units) {
    for (const Unit& unit : units)
        if (read.unit == unit.name) return read.number * unit.factor;
    return std::nullopt;
}

/// Whether the unit begins with a space that no keyboard shows as another one: no-break, narrow
/// no-break, thin.
bool after_special_space(const Split& read) {
    for (const std::string_view space : {"\u00a0", "\u202f", "\u2009"})
        if (read.unit.starts_with(space)) return true;
    return false;
}

/// "1 ft 3 in" as inches; nothing where it is not feet and inches.
std::optional<double> feet_and_inches(std::string_view text) {
    for (const std::string_view foot : {"ft", "feet", "'"}) {
        const auto at = text.find(foot);
        if (at == std::string_view::npos) continue;
        const auto feet = read_mixed(text.substr(0, at));
        const auto rest = split(text.substr(at + foot.size()));
        if (!feet || !rest || !(*feet >= 0.0) || !(rest->number >= 0.0)) return std::nullopt;
        const auto inches =
            in_unit(*rest, {{"in", 1.0}, {"inch", 1.0}, {"inches", 1.0}, {"\"", 1.0}});
        if (!inches) return std::nullopt;
        return 12.0 * *feet + *inches;
    }
    return std::nullopt;
}

std::optional<double> in_millimetres(const Split& read) {
    return in_unit(read, {{"mm", 1.0},
                          {"cm", 10.0},
                          {"m", 1000.0},
                          {"in", us::mm_per_inch},
                          {"inch", us::mm_per_inch},
                          {"inches", us::mm_per_inch},
                          {"\"", us::mm_per_inch},
                          {"ft", us::mm_per_foot},
                          {"feet", us::mm_per_foot},
                          {"yd", 3.0 * us::mm_per_foot},
                          {"mil", us::mm_per_inch / 1000.0},
                          {"mils", us::mm_per_inch / 1000.0}});
}

/// The unit in small letters.
std::string small(std::string_view unit) {
    std::string out(unit);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

}  // namespace

Amount<double> read_length(std::string_view text) {
    if (const auto inches = feet_and_inches(text)) return *inches * us::mm_per_inch;
    const std::string right = "a number of mm, or text with a unit such as \"25 mm\" or \"1 in\"";
    const auto read = split(text);
    if (!read) return wrong("write " + right + " (decimal point, no comma)");
    if (read->unit.empty()) return wrong("the unit is missing; write " + right);
    if (after_special_space(*read))
        return wrong(
            "number and unit stand apart by a special space (no-break or thin); put a "
            "plain space, as in \"25 mm\"");
    const auto mm = in_millimetres(*read);
    const std::string unit = small(read->unit);
    if (!mm && in_millimetres({read->number, unit}))
        return wrong("units are written in small letters: \"" + unit + "\"");
    if (!mm) return wrong("unknown unit of length; known are mm, cm, m, in, ft, yd, mil");
    return *mm;
}

Amount<GramsPerSquareMetre> read_areal_weight(std::string_view text) {
    const std::string right = "\"450 g/m2\", \"1.5 oz/ft2\" or \"24 oz/yd2\"";
    const auto read = split(text);
    if (!read) return wrong("write a weight with its unit, such as " + right);
    if (read->unit.empty()) return wrong("an areal weight always carries its unit: " + right);
    if (read->unit == "oz")
        return wrong(
            "a bare \"oz\" can mean two weights: mat is sold by the ounce a square foot "
            "(\"1.5 oz/ft2\" = 458 g/m2), woven cloth by the ounce a square yard (\"24 oz/yd2\" = "
            "814 g/m2); write which");
    const auto grams = in_unit(*read, {{"g/m2", 1.0},
                                       {"g/m\u00b2", 1.0},
                                       {"gsm", 1.0},
                                       {"kg/m2", 1000.0},
                                       {"oz/ft2", us::gsm_per_ounce_per_foot2},
                                       {"oz/ft\u00b2", us::gsm_per_ounce_per_foot2},
                                       {"oz/yd2", us::gsm_per_ounce_per_yard2},
                                       {"oz/yd\u00b2", us::gsm_per_ounce_per_yard2}});
    if (!grams) return wrong("unknown unit of areal weight; write for example " + right);
    return GramsPerSquareMetre(*grams);
}

bool is_bare_ounces(std::string_view text) {
    const auto read = split(text);
    return read && small(read->unit) == "oz";
}

Amount<Grams> read_mass(std::string_view text) {
    const auto read = split(text);
    if (!read) return wrong("write a mass with its unit, such as \"250 g\" or \"5 kg\"");
    if (is_bare_ounces(text))
        return wrong(
            "a bare \"oz\" can mean weight or liquid measure; write \"oz wt\" for weight, as in "
            "\"8 oz wt\"; \"fl oz\" is liquid measure");
    const auto grams = in_unit(
        *read,
        {{"g", 1.0}, {"kg", 1000.0}, {"oz wt", us::grams_per_ounce}, {"lb", us::grams_per_pound}});
    if (!grams) return wrong("a mass needs one of the units g, kg, oz wt, lb");
    return Grams(*grams);
}

Amount<Millilitres> read_volume(std::string_view text) {
    const auto read = split(text);
    if (!read) return wrong("write a volume with its unit, such as \"250 mL\" or \"8 fl oz\"");
    const auto volume = in_unit(*read, {{"mL", 1.0},
                                        {"ml", 1.0},
                                        {"L", 1000.0},
                                        {"l", 1000.0},
                                        {"fl oz", us::millilitres_per_fluid_ounce},
                                        {"pt", 16.0 * us::millilitres_per_fluid_ounce},
                                        {"qt", 32.0 * us::millilitres_per_fluid_ounce},
                                        {"gal", 128.0 * us::millilitres_per_fluid_ounce}});
    if (!volume) return wrong("a volume needs one of the units mL, L, fl oz, pt, qt, gal");
    return Millilitres(*volume);
}

Amount<double> read_stress(std::string_view text) {
    const auto read = split(text);
    if (!read) return wrong("write a stress in MPa, such as 10 or \"10 MPa\"");
    const auto stress = in_unit(*read, {{"MPa", 1.0},
                                        {"N/mm2", 1.0},
                                        {"GPa", 1000.0},
                                        {"psi", us::mpa_per_psi},
                                        {"ksi", 1000.0 * us::mpa_per_psi},
                                        {"Msi", 1'000'000.0 * us::mpa_per_psi}});
    if (!stress) return wrong("unknown unit of stress; known are MPa, N/mm2, GPa, psi, ksi, Msi");
    return *stress;
}

Amount<SquareMetres> read_area(std::string_view text) {
    const auto read = split(text);
    const std::string right = "write an area with its unit, such as \"0.6 m2\" or \"6.5 ft2\"";
    if (!read) return wrong(right);
    constexpr double m2_per_ft2 = us::mm_per_foot * us::mm_per_foot / 1'000'000.0;
    const auto area = in_unit(*read, {{"m2", 1.0},
                                      {"m\u00b2", 1.0},
                                      {"cm2", 1.0 / 10'000.0},
                                      {"mm2", 1.0 / 1'000'000.0},
                                      {"ft2", m2_per_ft2},
                                      {"ft\u00b2", m2_per_ft2},
                                      {"yd2", 9.0 * m2_per_ft2},
                                      {"in2", m2_per_ft2 / 144.0}});
    if (!area) return wrong(right);
    return SquareMetres(*area);
}

}  // namespace tearline::job

#include "core/job/table_reader.h"

#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/job/amounts.h"
#include "core/job/job.h"
#include "core/job/limits.h"
#include "core/job/nearest_name.h"
#include "core/job/trimmed.h"

namespace tearline::job {

namespace {

bool is_taped_point(const Node& node) {
    return node.kind == Node::Kind::table && !node.items.empty();
}

}  // namespace

void Refusals::refuse(const Node& value, const std::string& path, const std::string& right) {
    const std::string of = of_.empty() ? "" : " of \"" + of_ + "\"";
    refuse(value.line, path, "value " + value.shown() + of + ": " + right);
}

void Refusals::refuse(int line, const std::string& path, const std::string& what) {
    if (first_) return;
    first_ = Error{.key = path, .what = what, .file = file_, .line = line};
}

bool Range::holds(double value) const {
    // Written so that NaN is outside.
    const bool above = least_itself ? value >= least : value > least;
    const bool below = most_itself ? value <= most : value < most;
    return above && below;
}

std::string Range::words(std::string_view unit) const {
    const std::string tail = unit.empty() ? "" : " " + std::string(unit);
    // 100000, not 1e+05.
    const auto plain = [](double limit) {
        return std::abs(limit) >= 1.0 && limit == std::round(limit) ? fixed(limit, 0)
                                                                    : shortest(limit);
    };
    return std::string("must be ") + (least_itself ? "at least " : "above ") + plain(least) +
           " and " + (most_itself ? "at most " : "below ") + plain(most) + tail;
}

std::string listed(const std::vector<std::string_view>& words) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) out += i + 1 == words.size() ? " or " : ", ";
        out += '"' + std::string(words[i]) + '"';
    }
    return out;
}

TableReader::TableReader(Refusals& refusals, const Node* table, std::string path,
                         std::vector<std::string_view> keys)
    : refusals_(&refusals), table_(table), path_(std::move(path)) {
    if (table_ != nullptr && table_->kind != Node::Kind::table) {
        refusals_->refuse(*table_, path_, "must be a table, written [" + path_ + "]");
        table_ = nullptr;
    }
    check_keys(keys);
}

void TableReader::check_keys(const std::vector<std::string_view>& keys) {
    if (table_ == nullptr) return;
    for (const Node& item : table_->items) {
        if (std::find(keys.begin(), keys.end(), item.key) != keys.end()) continue;
        const std::string path = path_of(quotable(item.key));
        refusals_->refuse(
            item.line, path,
            "unknown key; the nearest known one is " + path_of(nearest_name(item.key, keys)));
    }
}

const Node* TableReader::find(std::string_view key) const {
    return table_ == nullptr ? nullptr : table_->find(key);
}

int TableReader::line() const {
    return table_ == nullptr ? refusals_->last_line() : table_->line;
}

std::string TableReader::path_of(std::string_view key) const {
    return path_.empty() ? std::string(key) : path_ + "." + std::string(key);
}

bool TableReader::require(std::string_view key, const std::string& right) {
    const Node* node = find(key);
    if (node == nullptr)
        refusals_->refuse(line(), path_of(key), "missing: " + right);
    else if (node->kind == Node::Kind::text && trimmed(node->text).empty())
        refusals_->refuse(*node, path_of(key), "says nothing: " + right);
    else
        return true;
    return false;
}

void TableReader::refuse(std::string_view key, const std::string& right) {
    if (const Node* node = find(key))
        refusals_->refuse(*node, path_of(key), right);
    else
        refusals_->refuse(line(), path_of(key), right);
}

std::nullopt_t TableReader::wrong(const Node& value, const std::string& path,
                                  const std::string& right) {
    refusals_->refuse(value, path, right);
    return std::nullopt;
}

std::optional<double> TableReader::finite(const Node& node, const std::string& path,
                                          const std::string& right) {
    if (node.kind != Node::Kind::number) return wrong(node, path, right);
    if (!std::isfinite(node.number)) return wrong(node, path, "not a finite number; " + right);
    return node.number;
}

template <class T>
std::optional<double> TableReader::amount(const Node& node, const std::string& path,
                                          Amount<T> (*read)(std::string_view),
                                          const std::string& right) {
    if (node.kind != Node::Kind::text) return finite(node, path, right);
    const auto value = read(node.text);
    if (!value) return wrong(node, path, value.error());
    if constexpr (std::is_same_v<T, double>)
        return *value;
    else
        return value->value();
}

std::optional<double> TableReader::in_range(const Node& node, const std::string& path,
                                            const std::optional<double>& value, const Range& range,
                                            std::string_view unit) {
    if (!value || range.holds(*value)) return value;
    return wrong(node, path, range.words(unit));
}

std::optional<double> TableReader::number(const Node& node, const std::string& path, Range range,
                                          Unit unit) {
    const std::string what =
        "must be a number" + (unit.empty() ? "" : " in " + std::string(unit)) + ", without quotes";
    return in_range(node, path, finite(node, path, what), range, unit);
}

std::optional<int> TableReader::whole_number(const Node& node, const std::string& path, Range range,
                                             Unit) {
    if (node.kind == Node::Kind::number && node.integer && range.holds(node.number))
        return static_cast<int>(node.number);
    return wrong(
        node, path,
        "must be a whole number from " + fixed(range.least, 0) + " to " + fixed(range.most, 0));
}

std::optional<double> TableReader::length(const Node& node, const std::string& path, Range range,
                                          Unit unit) {
    const auto mm = amount(node, path, read_length,
                           "must be a length: a number of mm or text such as \"25 mm\"");
    return in_range(node, path, mm, range, unit);
}

std::optional<double> TableReader::stress(const Node& node, const std::string& path, Range range,
                                          Unit unit) {
    const auto mpa = amount(node, path, read_stress,
                            "must be a stress: a number of MPa or text such as \"10 MPa\"");
    return in_range(node, path, mpa, range, unit);
}

std::optional<double> TableReader::mass(const Node& node, const std::string& path, Range range,
                                        Unit unit) {
    const auto grams =
        amount(node, path, read_mass, "must be a mass: a number of g or text such as \"5 kg\"");
    return in_range(node, path, grams, range, unit);
}

std::optional<double> TableReader::areal_weight(const Node& node, const std::string& path,
                                                Range range, Unit unit) {
    if (node.kind != Node::Kind::text)
        return wrong(node, path,
                     "an areal weight always carries its unit: \"450 g/m2\", \"1.5 oz/ft2\" or "
                     "\"24 oz/yd2\"");
    return in_range(node, path, amount(node, path, read_areal_weight, {}), range, unit);
}

std::optional<Can> TableReader::can(const Node& node, const std::string& path, Range range,
                                    Unit unit) {
    if (node.kind != Node::Kind::text) {
        const auto grams = mass(node, path, range, unit);
        if (!grams) return std::nullopt;
        return Can{Grams(*grams), std::nullopt, shortest(*grams) + " g"};
    }
    if (const auto volume = read_volume(node.text)) {
        if (!in_range(node, path, volume->value(), range, "mL")) return std::nullopt;
        return Can{std::nullopt, *volume, node.text};
    }
    const auto mass = read_mass(node.text);
    if (!mass)
        return wrong(node, path,
                     is_bare_ounces(node.text)
                         ? mass.error()
                         : "write what one can holds with its unit, such as \"5 kg\", \"1 qt\" or "
                           "\"1 gal\"");
    if (!in_range(node, path, mass->value(), range, unit)) return std::nullopt;
    return Can{*mass, std::nullopt, node.text};
}

std::optional<bool> TableReader::truth(const Node& node, const std::string& path) {
    if (node.kind == Node::Kind::boolean) return node.truth;
    return wrong(node, path, "must be true or false, without quotes");
}

std::optional<std::string> TableReader::text(const Node& node, const std::string& path) {
    if (node.kind != Node::Kind::text) return wrong(node, path, "must be text in quotes");
    if (const auto fault = fault_of_text(node.text)) return wrong(node, path, *fault);
    return node.text;
}

std::optional<std::string> TableReader::file(const Node& node, const std::string& path) {
    if (node.kind != Node::Kind::text) return wrong(node, path, "must be text in quotes");
    // The system would take it for the name up to there.
    if (node.text.find('\0') != std::string::npos)
        return wrong(node, path, "holds a zero byte, which no file's name may");
    return node.text;
}

std::optional<std::string> TableReader::word(const Node& node, const std::string& path,
                                             Names words) {
    if (node.kind == Node::Kind::text &&
        std::find(words.begin(), words.end(), node.text) != words.end())
        return node.text;
    return wrong(node, path, "must be " + listed(words));
}

std::optional<std::array<double, 2>> TableReader::pair(const Node& node, const std::string& path,
                                                       Range range, Unit) {
    const std::string right = "must be two numbers in brackets, such as [1.0, 2.0]";
    if (node.kind != Node::Kind::array || node.items.size() != 2) return wrong(node, path, right);
    std::array<double, 2> read{};
    for (std::size_t i = 0; i < 2; ++i) {
        const auto value = finite(node.items[i], path, right);
        if (!in_range(node, path, value, range, "")) return std::nullopt;
        read[i] = *value;
    }
    return read;
}

std::optional<double> TableReader::coordinate(const Node& node, const std::string& path) {
    const auto value = amount(node, path, read_length, "a coordinate is a finite number of mm");
    if (value && !(std::abs(*value) <= farthest_coordinate))
        return wrong(
            node, path,
            "a coordinate lies within 10 km of the origin: is the unit mm? A model or scan in a "
            "survey's coordinates is moved near the origin first: subtract the same three "
            "numbers from its points and from every place here");
    return value;
}

std::optional<Vec3> TableReader::triple(const Node& node, const std::string& path) {
    if (is_taped_point(node))
        return wrong(node, path, "cannot be measured from marks; write [x, y, z] in mm");
    if (node.kind != Node::Kind::array || node.items.size() != 3)
        return wrong(node, path, "must be three numbers, [x, y, z]");
    Vec3 read;
    for (int i = 0; i < 3; ++i) {
        const auto value = coordinate(node.items[static_cast<std::size_t>(i)], path);
        if (!value) return std::nullopt;
        read[i] = *value;
    }
    return read;
}

std::optional<std::vector<Vec3>> TableReader::places(const Node& node, const std::string& path) {
    if (node.kind != Node::Kind::array)
        return wrong(node, path, "must be places, [[x, y, z], [x, y, z], ...]");
    std::vector<Vec3> all;
    for (const Node& item : node.items) {
        const auto read = triple(item, path + "[" + std::to_string(all.size() + 1) + "]");
        if (!read) return std::nullopt;
        all.push_back(*read);
    }
    return all;
}

std::optional<Vec3> TableReader::direction(const Node& node, const std::string& path) {
    const auto read = triple(node, path);
    if (!read) return std::nullopt;
    // Scaled first, so that the squares of tiny or huge components stay within range.
    const double scale = read->cwiseAbs().maxCoeff();
    if (!(scale > 0.0))
        return wrong(node, path, "a direction cannot be zero; write for example [1, 0, 0]");
    return (*read / scale).normalized();
}

}  // namespace tearline::job

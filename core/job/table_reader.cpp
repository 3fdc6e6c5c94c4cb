#include "core/job/table_reader.h"

#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/job/amounts.h"
#include "core/job/job.h"
#include "core/job/nearest_name.h"

namespace tearline::job {

namespace {

/// [mm] no coordinate of a hull lies farther out: 10 km.
constexpr double farthest = 10'000'000.0;

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

bool TableReader::has(std::string_view key) const {
    return find(key) != nullptr;
}

int TableReader::line() const {
    return table_ == nullptr ? refusals_->last_line() : table_->line;
}

std::string TableReader::path_of(std::string_view key) const {
    return path_.empty() ? std::string(key) : path_ + "." + std::string(key);
}

bool TableReader::require(std::string_view key, const std::string& right) {
    if (has(key)) return true;
    refusals_->refuse(line(), path_of(key), "missing: " + right);
    return false;
}

void TableReader::refuse(std::string_view key, const std::string& right) {
    if (const Node* node = find(key))
        refusals_->refuse(*node, path_of(key), right);
    else
        refusals_->refuse(line(), path_of(key), right);
}

std::optional<double> TableReader::finite(const Node& node, const std::string& path,
                                          const std::string& right) {
    if (node.kind != Node::Kind::number) {
        refusals_->refuse(node, path, right);
        return std::nullopt;
    }
    if (!std::isfinite(node.number)) {
        refusals_->refuse(node, path, "not a finite number; " + right);
        return std::nullopt;
    }
    return node.number;
}

bool TableReader::in_range(const Node& node, std::string_view key, double value, const Range& range,
                           std::string_view unit) {
    if (range.holds(value)) return true;
    refusals_->refuse(node, path_of(key), range.words(unit));
    return false;
}

void TableReader::length(std::string_view key, std::optional<double>& mm, const Range& range) {
    const Node* node = find(key);
    if (node == nullptr) return;
    std::optional<double> value;
    if (node->kind == Node::Kind::text) {
        const auto read = read_length(node->text);
        if (!read) return refusals_->refuse(*node, path_of(key), read.error());
        value = *read;
    } else {
        value = finite(*node, path_of(key),
                       "must be a length: a number of mm or text such as \"25 mm\"");
    }
    if (value && in_range(*node, key, *value, range, "mm")) mm = value;
}

void TableReader::length(std::string_view key, double& mm, const Range& range) {
    std::optional<double> read;
    length(key, read, range);
    if (read) mm = *read;
}

void TableReader::number(std::string_view key, std::optional<double>& value, const Range& range,
                         std::string_view unit) {
    const Node* node = find(key);
    if (node == nullptr) return;
    const std::string what =
        "must be a number" + (unit.empty() ? "" : " in " + std::string(unit)) + ", without quotes";
    const auto read = finite(*node, path_of(key), what);
    if (read && in_range(*node, key, *read, range, unit)) value = read;
}

void TableReader::number(std::string_view key, double& value, const Range& range,
                         std::string_view unit) {
    std::optional<double> read;
    number(key, read, range, unit);
    if (read) value = *read;
}

void TableReader::whole_number(std::string_view key, int& value, int least, int most) {
    const Node* node = find(key);
    if (node == nullptr) return;
    const std::string right =
        "must be a whole number from " + std::to_string(least) + " to " + std::to_string(most);
    if (node->kind != Node::Kind::number || !node->integer ||
        !between(least, most).holds(node->number))
        return refusals_->refuse(*node, path_of(key), right);
    value = static_cast<int>(node->number);
}

void TableReader::areal_weight(std::string_view key, GramsPerSquareMetre& weight,
                               const Range& range) {
    const Node* node = find(key);
    if (node == nullptr) return;
    if (node->kind != Node::Kind::text)
        return refusals_->refuse(*node, path_of(key),
                                 "an areal weight always carries its unit: \"450 g/m2\", \"1.5 "
                                 "oz/ft2\" or \"24 oz/yd2\"");
    const auto read = read_areal_weight(node->text);
    if (!read) return refusals_->refuse(*node, path_of(key), read.error());
    if (in_range(*node, key, read->value(), range, "g/m2")) weight = *read;
}

void TableReader::mass(std::string_view key, Grams& grams, const Range& range) {
    const Node* node = find(key);
    if (node == nullptr) return;
    std::optional<double> value;
    if (node->kind == Node::Kind::text) {
        const auto read = read_mass(node->text);
        if (!read) return refusals_->refuse(*node, path_of(key), read.error());
        value = read->value();
    } else {
        value =
            finite(*node, path_of(key), "must be a mass: a number of g or text such as \"5 kg\"");
    }
    if (value && in_range(*node, key, *value, range, "g")) grams = Grams(*value);
}

void TableReader::can(std::string_view key, Can& can, const Range& range) {
    const Node* node = find(key);
    if (node == nullptr) return;
    if (node->kind != Node::Kind::text) {
        Grams grams;
        mass(key, grams, range);
        can = {grams, std::nullopt, shortest(grams.value()) + " g"};
        return;
    }
    if (const auto volume = read_volume(node->text)) {
        if (in_range(*node, key, volume->value(), range, "mL"))
            can = {std::nullopt, *volume, node->text};
        return;
    }
    const auto mass = read_mass(node->text);
    if (!mass)
        return refusals_->refuse(*node, path_of(key),
                                 is_bare_ounces(node->text)
                                     ? mass.error()
                                     : "write what one can holds with its unit, such as \"5 kg\", "
                                       "\"1 qt\" or \"1 gal\"");
    if (in_range(*node, key, mass->value(), range, "g")) can = {*mass, std::nullopt, node->text};
}

void TableReader::stress(std::string_view key, std::optional<double>& mpa, const Range& range) {
    const Node* node = find(key);
    if (node == nullptr) return;
    std::optional<double> value;
    if (node->kind == Node::Kind::text) {
        const auto read = read_stress(node->text);
        if (!read) return refusals_->refuse(*node, path_of(key), read.error());
        value = *read;
    } else {
        value = finite(*node, path_of(key),
                       "must be a stress: a number of MPa or text such as \"10 MPa\"");
    }
    if (value && in_range(*node, key, *value, range, "MPa")) mpa = value;
}

void TableReader::truth(std::string_view key, std::optional<bool>& value) {
    const Node* node = find(key);
    if (node == nullptr) return;
    if (node->kind != Node::Kind::boolean)
        return refusals_->refuse(*node, path_of(key), "must be true or false, without quotes");
    value = node->truth;
}

void TableReader::truth(std::string_view key, bool& value) {
    std::optional<bool> read;
    truth(key, read);
    if (read) value = *read;
}

void TableReader::text(std::string_view key, std::string& value) {
    const Node* node = find(key);
    if (node == nullptr) return;
    if (node->kind != Node::Kind::text)
        return refusals_->refuse(*node, path_of(key), "must be text in quotes");
    value = node->text;
}

void TableReader::word(std::string_view key, std::string& value,
                       const std::vector<std::string_view>& words) {
    const Node* node = find(key);
    if (node == nullptr) return;
    const bool known = node->kind == Node::Kind::text &&
                       std::find(words.begin(), words.end(), node->text) != words.end();
    if (!known) return refusals_->refuse(*node, path_of(key), "must be " + listed(words));
    value = node->text;
}

void TableReader::pair(std::string_view key, std::array<double, 2>& values, const Range& range) {
    const Node* node = find(key);
    if (node == nullptr) return;
    const std::string right = "must be two numbers in brackets, such as [1.0, 2.0]";
    if (node->kind != Node::Kind::array || node->items.size() != 2)
        return refusals_->refuse(*node, path_of(key), right);
    std::array<double, 2> read{};
    for (std::size_t i = 0; i < 2; ++i) {
        const auto value = finite(node->items[i], path_of(key), right);
        if (!value || !in_range(*node, key, *value, range, "")) return;
        read[i] = *value;
    }
    values = read;
}

std::optional<double> TableReader::millimetres(const Node& node, const std::string& path,
                                               const std::string& right) {
    if (node.kind != Node::Kind::text) return finite(node, path, right);
    const auto read = read_length(node.text);
    if (read) return *read;
    refusals_->refuse(node, path, read.error());
    return std::nullopt;
}

std::optional<double> TableReader::coordinate(const Node& node, const std::string& path) {
    const auto value = millimetres(node, path, "a coordinate is a finite number of mm");
    if (value && !(std::abs(*value) <= farthest)) {
        refusals_->refuse(node, path,
                          "a coordinate lies within 10 km of the origin; is the unit mm?");
        return std::nullopt;
    }
    return value;
}

std::optional<Vec3> TableReader::triple(const Node& node, const std::string& path) {
    if (is_taped_point(node)) {
        refusals_->refuse(node, path, "cannot be measured from marks; write [x, y, z] in mm");
        return std::nullopt;
    }
    if (node.kind != Node::Kind::array || node.items.size() != 3) {
        refusals_->refuse(node, path, "must be three numbers, [x, y, z]");
        return std::nullopt;
    }
    Vec3 read;
    for (int i = 0; i < 3; ++i) {
        const auto value = coordinate(node.items[static_cast<std::size_t>(i)], path);
        if (!value) return std::nullopt;
        read[i] = *value;
    }
    return read;
}

void TableReader::point(std::string_view key, std::optional<Vec3>& mm) {
    const Node* node = find(key);
    if (node == nullptr) return;
    if (const auto read = triple(*node, path_of(key))) mm = read;
}

void TableReader::direction(std::string_view key, Vec3& unit_vector) {
    const Node* node = find(key);
    if (node == nullptr) return;
    const auto read = triple(*node, path_of(key));
    if (!read) return;
    // Scaled first, so that the squares of tiny or huge components stay within range.
    const double scale = read->cwiseAbs().maxCoeff();
    if (!(scale > 0.0))
        return refusals_->refuse(*node, path_of(key),
                                 "a direction cannot be zero; write for example [1, 0, 0]");
    unit_vector = (*read / scale).normalized();
}

void TableReader::points(std::string_view key, std::vector<Vec3>& mm) {
    const Node* node = find(key);
    if (node == nullptr) return;
    if (node->kind != Node::Kind::array)
        return refusals_->refuse(
            *node, path_of(key),
            "must be a list of points, [[x, y, z], [x, y, z], [x, y, z], ...]");
    for (std::size_t i = 0; i < node->items.size(); ++i) {
        const auto read = triple(node->items[i], path_of(key) + "[" + std::to_string(i + 1) + "]");
        if (!read) return;
        mm.push_back(*read);
    }
}

}  // namespace tearline::job

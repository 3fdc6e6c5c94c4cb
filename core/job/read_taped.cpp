#include <cmath>

#include "core/base/numbers.h"
#include "core/job/amounts.h"
#include "core/job/schema/tables.h"

/// Points measured by tape and lists of lengths.
namespace tearline::job {

namespace {

/// [mm] no tape over a hull is longer.
constexpr double longest_tape = 20'000.0;

std::string numbered(std::string_view path, std::size_t index) {
    return std::string(path) + "[" + std::to_string(index + 1) + "]";
}

}  // namespace

std::optional<double> TableReader::length_of(const Node& node, const std::string& path,
                                             const Range& range) {
    const auto value =
        millimetres(node, path, "must be a length: a number of mm or text such as \"25 mm\"");
    if (value && !range.holds(*value)) {
        refusals_->refuse(node, path, range.words("mm"));
        return std::nullopt;
    }
    return value;
}

void TableReader::lengths(std::string_view key, std::vector<double>& mm, const Range& range) {
    const Node* node = find(key);
    if (node == nullptr) return;
    if (node->kind != Node::Kind::array)
        return refusals_->refuse(*node, path_of(key), "must be a list of lengths, [a, b, ...]");
    for (std::size_t i = 0; i < node->items.size(); ++i) {
        const auto value = length_of(node->items[i], numbered(path_of(key), i), range);
        if (!value) return;
        mm.push_back(*value);
    }
}

void TableReader::length_table(std::string_view key, std::vector<std::vector<double>>& mm,
                               std::vector<int>& lines, const Range& range) {
    const Node* node = find(key);
    if (node == nullptr) return;
    const std::string right = "must be rows of lengths, [[a, b, ...], [c, d, ...], ...]";
    if (node->kind != Node::Kind::array || node->items.empty())
        return refusals_->refuse(*node, path_of(key), right);
    for (std::size_t row = 0; row < node->items.size(); ++row) {
        const Node& line = node->items[row];
        const std::string path = numbered(path_of(key), row);
        if (line.kind != Node::Kind::array) return refusals_->refuse(line, path, right);
        if (line.items.size() != node->items.front().items.size())
            return refusals_->refuse(line, path,
                                     "has " + std::to_string(line.items.size()) +
                                         " figures and the first row " +
                                         std::to_string(node->items.front().items.size()) +
                                         "; every row must have as many");
        mm.emplace_back();
        lines.push_back(line.line);
        for (std::size_t i = 0; i < line.items.size(); ++i) {
            const auto value = length_of(line.items[i], numbered(path, i), range);
            if (!value) return;
            mm.back().push_back(*value);
        }
    }
}

std::optional<Vec3> TableReader::anywhere(const Node& node, const std::string& path,
                                          Taping& taping) {
    TapedPoint taped{taping.use, taping.index, path, node.line, {}, TapedSide::none, {0, 0, 0}};
    if (taping.on_plane && node.kind == Node::Kind::array && node.items.size() == 2) {
        for (int i = 0; i < 2; ++i) {
            const auto value = coordinate(node.items[static_cast<std::size_t>(i)], path);
            if (!value) return std::nullopt;
            taped.at[i] = *value;
        }
        taping.taped.push_back(taped);
        return taped.at;
    }
    if (node.kind != Node::Kind::table) return triple(node, path);
    for (const Node& item : node.items) {
        if (item.key == "side") {
            for (const auto& [word, side] : side_words())
                if (item.kind == Node::Kind::text && item.text == word) taped.side = side;
            if (taped.side == TapedSide::none) {
                refusals_->refuse(
                    item, path + ".side",
                    R"(must be "up", "down", "forward", "aft", "port" or "starboard")");
                return std::nullopt;
            }
            continue;
        }
        const std::string mark = quotable(item.key);
        const auto value = length_of(item, path + "." + mark, above_zero_to(longest_tape));
        if (!value) return std::nullopt;
        taped.distances.emplace_back(item.key, *value);
    }
    if (taped.distances.size() < 2) {
        refusals_->refuse(node, path,
                          "needs the distances from two marks or more, such as {A = \"412 mm\", B "
                          "= \"655 mm\", side = \"up\"}");
        return std::nullopt;
    }
    if (taped.distances.size() == 2 && taped.side == TapedSide::none) {
        refusals_->refuse(node, path,
                          "two places have these two distances; say which one with side = \"up\", "
                          "\"down\", \"forward\", \"aft\", \"port\" or \"starboard\"");
        return std::nullopt;
    }
    taping.taped.push_back(taped);
    return Vec3(0, 0, 0);
}

void TableReader::point(std::string_view key, std::optional<Vec3>& mm, Taping taping) {
    const Node* node = find(key);
    if (node == nullptr) return;
    if (const auto read = anywhere(*node, path_of(key), taping)) mm = read;
}

void TableReader::points(std::string_view key, std::vector<Vec3>& mm, Taping taping) {
    const Node* node = find(key);
    if (node == nullptr) return;
    if (node->kind != Node::Kind::array)
        return refusals_->refuse(
            *node, path_of(key),
            "must be a list of points, [[x, y, z], [x, y, z], [x, y, z], ...]");
    for (std::size_t i = 0; i < node->items.size(); ++i) {
        taping.index = i;
        const auto read = anywhere(node->items[i], numbered(path_of(key), i), taping);
        if (!read) return;
        mm.push_back(*read);
    }
}

}  // namespace tearline::job

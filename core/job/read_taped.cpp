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

std::optional<std::vector<double>> TableReader::lengths(const Node& node, const std::string& path,
                                                        Range range, Unit unit) {
    if (node.kind != Node::Kind::array)
        return wrong(node, path, "must be a list of lengths, [a, b, ...]");
    std::vector<double> mm;
    for (std::size_t i = 0; i < node.items.size(); ++i) {
        const auto value = length(node.items[i], numbered(path, i), range, unit);
        if (!value) return std::nullopt;
        mm.push_back(*value);
    }
    return mm;
}

std::optional<std::vector<std::vector<double>>> TableReader::length_rows(const Node& node,
                                                                         const std::string& path,
                                                                         Range range, Unit unit) {
    const std::string right = "must be rows of lengths, [[a, b, ...], [c, d, ...], ...]";
    if (node.kind != Node::Kind::array || node.items.empty()) return wrong(node, path, right);
    std::vector<std::vector<double>> mm;
    for (std::size_t row = 0; row < node.items.size(); ++row) {
        const Node& line = node.items[row];
        if (line.kind != Node::Kind::array) return wrong(line, numbered(path, row), right);
        if (line.items.size() != node.items.front().items.size())
            return wrong(line, numbered(path, row),
                         "has " + std::to_string(line.items.size()) +
                             " figures and the first row " +
                             std::to_string(node.items.front().items.size()) +
                             "; every row must have as many");
        auto read = lengths(line, numbered(path, row), range, unit);
        if (!read) return std::nullopt;
        mm.push_back(std::move(*read));
    }
    return mm;
}

std::optional<Vec3> TableReader::point(const Node& node, const std::string& path, Taping taping) {
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
            if (taped.side == TapedSide::none)
                return wrong(item, path + ".side",
                             R"(must be "up", "down", "forward", "aft", "port" or "starboard")");
            continue;
        }
        const std::string mark = quotable(item.key);
        const auto value = length(item, path + "." + mark, above_zero_to(longest_tape), "mm");
        if (!value) return std::nullopt;
        taped.distances.emplace_back(item.key, *value);
    }
    if (taped.distances.size() < 2)
        return wrong(node, path,
                     "needs the distances from two marks or more, such as {A = \"412 mm\", B "
                     "= \"655 mm\", side = \"up\"}");
    if (taped.distances.size() == 2 && taped.side == TapedSide::none)
        return wrong(node, path,
                     "two places have these two distances; say which one with side = \"up\", "
                     "\"down\", \"forward\", \"aft\", \"port\" or \"starboard\"");
    taping.taped.push_back(taped);
    return Vec3(0, 0, 0);
}

std::optional<std::vector<Vec3>> TableReader::points(const Node& node, const std::string& path,
                                                     Taping taping) {
    if (node.kind != Node::Kind::array)
        return wrong(node, path,
                     "must be a list of points, [[x, y, z], [x, y, z], [x, y, z], ...]");
    std::vector<Vec3> mm;
    for (std::size_t i = 0; i < node.items.size(); ++i) {
        taping.index = i;
        const auto read = point(node.items[i], numbered(path, i), taping);
        if (!read) return std::nullopt;
        mm.push_back(*read);
    }
    return mm;
}

}  // namespace tearline::job

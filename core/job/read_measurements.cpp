#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "core/base/numbers.h"
#include "core/job/read_tables.h"

namespace tearline::job {

namespace {

/// Figures of a table of offsets or a grid, in all and along one side.
constexpr std::size_t most_lines = 60, least_lines = 3;

/// A table within another, by the last part of its path.
template <class T>
KeyReader<T> inner_table(TableReader& outer, const Table<T>& keys, T& out, Job& job) {
    const std::string_view name = keys.path.substr(keys.path.find('.') + 1);
    return {outer.refusals(), outer.find(name), std::string(keys.path), keys, out, job};
}

void read_battens(TableReader& hull, Job& job) {
    BattenGaps gaps;
    KeyReader table = inner_table(hull, batten_keys(), gaps, job);
    if (!table.given()) return;
    if (const Node* node = table.find("gap_along")) gaps.line = node->line;
    table.rest();
    job.hull.measured = gaps;
}

void check_lines(TableReader& table, std::string_view key, std::size_t count,
                 const std::string& what) {
    if (count >= least_lines && count <= most_lines) return;
    table.refuse(key, "has " + std::to_string(count) + " " + what + "; give " +
                          std::to_string(least_lines) + " to " + std::to_string(most_lines));
}

void read_grid(TableReader& hull, Job& job) {
    OffsetGrid grid;
    KeyReader table = inner_table(hull, grid_keys(), grid, job);
    if (!table.given()) return;
    table.rest();
    if (grid.offsets.empty()) return;
    check_lines(table, "offsets", grid.offsets.size(), "rows");
    check_lines(table, "offsets", grid.offsets.front().size(), "figures in a row");
    job.hull.grid = std::move(grid);
}

void check_ascending(TableReader& table, std::string_view key, const std::vector<double>& values) {
    for (std::size_t i = 1; i < values.size(); ++i)
        if (!(values[i] > values[i - 1]))
            return table.refuse(key, "number " + std::to_string(i + 1) + ", " +
                                         shortest(values[i]) +
                                         " mm, does not lie beyond the one "
                                         "before it; they must ascend");
}

void read_offset_table(TableReader& hull, Job& job) {
    OffsetTable offsets;
    KeyReader table = inner_table(hull, section_keys(), offsets, job);
    if (!table.given()) return;
    table.rest();
    check_ascending(table, "stations", offsets.stations);
    check_ascending(table, "waterlines", offsets.waterlines);
    check_lines(table, "stations", offsets.stations.size(), "stations");
    check_lines(table, "waterlines", offsets.waterlines.size(), "waterlines");
    if (offsets.half_breadths.empty()) return;
    if (offsets.half_breadths.size() != offsets.stations.size() ||
        offsets.half_breadths.front().size() != offsets.waterlines.size())
        return table.refuse("half_breadths",
                            "has " + std::to_string(offsets.half_breadths.size()) + " rows of " +
                                std::to_string(offsets.half_breadths.front().size()) +
                                " figures; there are " + std::to_string(offsets.stations.size()) +
                                " stations and " + std::to_string(offsets.waterlines.size()) +
                                " waterlines");
    job.hull.sections = std::move(offsets);
}

/// A batten and its gaps, which tell nothing without each other.
void check_gaps(TableReader& table, std::string_view batten, std::string_view gaps,
                const std::optional<double>& length,
                const std::optional<std::array<double, 2>>& both) {
    if (table.has(gaps) && !table.has(batten))
        table.require(
            batten, "the length of the batten that " + std::string(gaps) + " were measured under");
    if (table.has(batten) && !table.has(gaps))
        table.require(gaps, "the gaps under that batten on either flat, [a, b]");
    if (!length || !both) return;
    const double most = 0.25 * *length;
    for (const double gap : *both)
        if (std::abs(gap) > most)
            return table.refuse(gaps, shortest(gap) + " mm is over a quarter of the batten, " +
                                          shortest(most) + " mm; use a shorter one");
}

/// A section by contour gauge: from below, or aft, across the line of the marks.
void check_profile(TableReader& table, const Corner& corner) {
    constexpr std::size_t fewest = 5;
    const auto& profile = corner.profile;
    if (profile.size() < fewest || profile.size() > most_lines)
        return table.refuse("profile", "has " + std::to_string(profile.size()) + " points; give " +
                                           std::to_string(fewest) + " to " +
                                           std::to_string(most_lines));
    if (profile.front().size() != 2)
        return table.refuse("profile", "must be points [u, v]: across, and out towards you");
    for (std::size_t i = 1; i < profile.size(); ++i)
        if (!(profile[i][0] > profile[i - 1][0]))
            return table.refuse("profile", "point " + std::to_string(i + 1) + ", across " +
                                               shortest(profile[i][0]) +
                                               " mm, does not lie beyond the one before it; they "
                                               "must ascend, from below or from aft");
    if (!(profile.front()[0] < 0.0 && profile.back()[0] > 0.0))
        table.refuse("profile",
                     "across is counted from the line of the marks, negative below or aft of it: "
                     "it must begin below 0 and end above it");
}

void read_corner(TableReader& hull, Job& job) {
    Corner corner;
    KeyReader table = inner_table(hull, corner_keys(), corner, job);
    if (!table.given()) return;
    const bool by_gauge = table.has("profile");
    if (by_gauge) {
        for (const auto key : {"radius", "angle", "convex"})
            if (table.has(key)) table.refuse(key, "goes without profile, which tells the bend");
    } else {
        table.require("radius",
                      "the radius of the bend, such as \"20 mm\", or its section by "
                      "contour gauge, profile = [[u, v], ...]");
        table.require("angle", "the degrees that the face turns through; deck to coaming 90");
        table.require("convex", "true where the corner bulges towards you, false in a hollow");
        table.require("flats",
                      "how far the two flats reach from where the bend ends, such as "
                      "[\"300 mm\", \"300 mm\"]");
    }
    table.rest();
    if (by_gauge && !corner.profile.empty()) check_profile(table, corner);
    check_gaps(table, "batten", "gaps_along", corner.batten, corner.gaps_along);
    check_gaps(table, "batten_across", "gaps_across", corner.batten_across, corner.gaps_across);
    if (corner.gaps_across && !corner.flats)
        table.refuse("gaps_across", "goes with flats, which say how far that bend goes on");
    job.hull.corner = std::move(corner);
}

/// The depth where none is given: the deepest sounding. What is read under a straightedge holds the
/// bend of the hull too; such a depth stays 0 until the hull is known.
void take_deepest_sounding(TableReader& table, Damage& damage) {
    double deepest = 0.0;
    for (const Sounding& sounding : damage.soundings) {
        if (sounding.after != 0) continue;
        if (sounding.from == Sounding::From::straightedge) return;
        deepest = std::max(deepest, sounding.depth);
    }
    damage.depth = deepest;
    if (!(deepest > 0.0))
        table.refuse("sounding", "none of the soundings is deeper than 0; the dish has no depth");
}

}  // namespace

void read_measurements(TableReader& hull, Job& job) {
    std::string first;
    for (const std::string_view way : {"model", "measured", "grid", "sections", "corner"}) {
        if (!hull.has(way)) continue;
        if (!first.empty())
            return hull.refuse(way,
                               "the hull is given by hull." + first + " already; take one out");
        first = way;
    }
    if (first.empty() || first == "model") return;
    read_battens(hull, job);
    read_grid(hull, job);
    read_offset_table(hull, job);
    read_corner(hull, job);
    HullOptions& out = job.hull;
    // A table that is wrong was refused; nothing is read from a model then.
    if (!out.by_hand()) out.measured = BattenGaps{};
    out.model = out.sections ? "table of offsets" : "hull measured by hand";
    for (const std::string_view key : {"unit", "outward"})
        if (hull.has(key)) hull.refuse(key, "goes with hull.model only");
    if (!out.sections && hull.has("mirror"))
        hull.refuse("mirror", "a patch measured by hand has no other half; remove it");
}

void read_marks(const JobSource& source, Job& job) {
    const Node* marks = source.root->find("marks");
    if (marks == nullptr) return;
    if (marks->kind != Node::Kind::table)
        return source.refusals->refuse(*marks, "marks", "must be tables, written [marks.A]");
    for (const Node& item : marks->items) {
        const std::string path = "marks." + quotable(item.key);
        if (item.key == "side" || item.key == "at")
            return source.refusals->refuse(item.line, path, "cannot be the name of a mark");
        Mark mark{item.key, std::nullopt, item.line};
        const std::size_t index = job.marks.size();
        if (item.kind == Node::Kind::table && item.find("at") != nullptr) {
            KeyReader<Mark>(*source.refusals, &item, path, mark_keys(), mark, job).rest();
        } else if (!job.hull.by_hand()) {
            source.refusals->refuse(item.line, path,
                                    "needs its place on the model, at = [x, y, z]");
        } else if (item.kind == Node::Kind::table) {
            // By its distances from the marks before it; the first has none.
            TapedPoint taped{TapedPoint::Use::mark, index, path, item.line, {},
                             TapedSide::none,       {}};
            TableReader table(*source.refusals, &item, path,
                              {"at", "A", "B", "C", "D", "E", "F", "side"});
            for (const Mark& before : job.marks)
                if (const auto distance = table.read(before.name, &TableReader::length,
                                                     above_zero_to(20'000.0), "mm"))
                    taped.distances.emplace_back(before.name, *distance);
            if (taped.distances.size() != std::min<std::size_t>(index, 2))
                source.refusals->refuse(item.line, path,
                                        "needs its place, at = [x, y], or its distances from the "
                                        "marks before it");
            choice(&TapedPoint::side, side_words()).read(table, "side", taped, job);
            if (index == 2 && taped.side == TapedSide::none)
                source.refusals->refuse(item.line, path, "needs side = \"up\" or \"down\"");
            job.taped.push_back(std::move(taped));
        } else {
            source.refusals->refuse(item, path, "must be a table, written [" + path + "]");
        }
        job.marks.push_back(std::move(mark));
    }
    if (job.marks.size() < 2 || job.marks.size() > 6)
        source.refusals->refuse(marks->line, "marks",
                                "has " + std::to_string(job.marks.size()) +
                                    "; two or three marks tell a place, and six are the most");
}

void read_soundings(KeyReader<Damage>& damage, Job& job) {
    const Node* list = damage.find("sounding");
    if (list == nullptr) return;
    Refusals& refusals = damage.refusals();
    if (list->kind != Node::Kind::array)
        return refusals.refuse(*list, "damage.sounding",
                               "must be tables, each written [[damage.sounding]]");
    for (const Node& node : list->items) {
        const std::size_t number = job.damage.soundings.size() + 1;
        Sounding sounding;
        sounding.line = node.line;
        KeyReader<Sounding> table(refusals, &node,
                                  "damage.sounding[" + std::to_string(number) + "]",
                                  sounding_keys(), sounding, job);
        for (const auto key : {"at", "depth", "after", "from"}) table.read(key);
        const bool gauge = sounding.from == Sounding::From::gauge;
        if (sounding.depth < 0.0 && sounding.after == 0 && gauge)
            table.refuse("depth",
                         "the ground lies below the surface: must be at least 0 mm, unless it was "
                         "taken on cured work (after) or under a straightedge");
        if (!gauge)
            table.require("length", "of the straightedge, such as \"600 mm\"");
        else
            for (const auto key : {"length", "direction"})
                if (table.has(key)) table.refuse(key, "goes with from = \"straightedge\"");
        table.rest();
        job.damage.soundings.push_back(sounding);
    }
    const auto refuse_count = [&](std::size_t n, const std::string& when) {
        refusals.refuse(list->items.empty() ? list->line : list->items.back().line,
                        "damage.sounding",
                        std::to_string(n) + (n == 1 ? " sounding" : " soundings") + when +
                            "; 5 to 200 tell the shape of a dish");
    };
    if (job.damage.soundings.size() < 5) refuse_count(job.damage.soundings.size(), "");
    // Those on the ground dish and those on the cured work, each by themselves.
    std::map<int, std::size_t> taken;
    for (const Sounding& sounding : job.damage.soundings) ++taken[sounding.after];
    for (const auto& [after, n] : taken)
        if (n > 200) refuse_count(n, after > 0 ? " after ply " + std::to_string(after) : "");
    damage.read("round");
    if (!damage.has("depth")) take_deepest_sounding(damage, job.damage);
}

void check_taped_points(const JobSource& source, const Job& job) {
    for (const TapedPoint& point : job.taped)
        for (const auto& [name, unused] : point.distances) {
            const auto is_it = [&name = name](const Mark& mark) { return mark.name == name; };
            if (std::any_of(job.marks.begin(), job.marks.end(), is_it)) continue;
            source.refusals->refuse(
                point.line, point.path,
                "there is no mark " + quotable(name) + "; add [marks." + quotable(name) + "]");
        }
}

}  // namespace tearline::job

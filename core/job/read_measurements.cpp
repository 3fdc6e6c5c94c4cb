#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>

#include "core/base/numbers.h"
#include "core/job/read_tables.h"

namespace tearline::job {

namespace {

/// Figures of a table of offsets or a grid, in all and along one side.
constexpr std::size_t most_lines = 60, least_lines = 3;

TableReader inner_table(const JobSource& source, TableReader& hull, std::string_view name,
                        std::vector<std::string_view> keys) {
    return {*source.refusals, hull.find(name), "hull." + std::string(name), std::move(keys)};
}

void read_ends(TableReader& table, std::string_view key, std::optional<std::array<double, 2>>& ends,
               double most) {
    std::vector<double> both;
    table.lengths(key, both, between(-most, most));
    if (!table.has(key)) return;
    if (both.size() != 2) return table.refuse(key, "must be two gaps, one for each end: [a, b]");
    ends = {both[0], both[1]};
}

/// A gap along or across, of at most a quarter of the batten.
void read_gap(TableReader& table, std::string_view key, double& gap, double batten) {
    const double most = 0.25 * batten;
    table.length(key, gap, between(-batten, batten));
    if (std::abs(gap) > most)
        table.refuse(key, "over a quarter of the batten, " + shortest(most) +
                              " mm: the hull turns there on a radius of less than " +
                              shortest(0.625 * batten) +
                              " mm, too round to be told by so long a batten; use a shorter one");
}

void read_battens(TableReader table, std::optional<BattenGaps>& out) {
    if (!table.given()) return;
    BattenGaps gaps;
    if (const Node* node = table.find("gap_along")) gaps.line = node->line;
    table.require("batten", "the length of the batten, such as batten = \"600 mm\"");
    table.length("batten", gaps.batten, between(50.0, 5000.0));
    // A gap of a quarter of the batten is a radius of five eighths of it: no batten lies there.
    const double most = 0.25 * gaps.batten;
    table.require("gap_along", "the gap under the batten along the bow direction");
    read_gap(table, "gap_along", gaps.gap_along, gaps.batten);
    table.require("gap_across", "the gap under the batten across the bow direction");
    read_gap(table, "gap_across", gaps.gap_across, gaps.batten);
    read_ends(table, "gap_along_ends", gaps.gap_along_ends, most);
    read_ends(table, "gap_across_ends", gaps.gap_across_ends, most);
    out = gaps;
}

void check_lines(TableReader& table, std::string_view key, std::size_t count,
                 const std::string& what) {
    if (count >= least_lines && count <= most_lines) return;
    table.refuse(key, "has " + std::to_string(count) + " " + what + "; give " +
                          std::to_string(least_lines) + " to " + std::to_string(most_lines));
}

void read_grid(TableReader table, std::optional<OffsetGrid>& out) {
    if (!table.given()) return;
    OffsetGrid grid;
    table.require("spacing_along", "how far apart the figures of a row are, such as \"100 mm\"");
    table.length("spacing_along", grid.spacing_along, between(1.0, 5000.0));
    table.require("spacing_across", "how far apart the rows are, such as \"100 mm\"");
    table.length("spacing_across", grid.spacing_across, between(1.0, 5000.0));
    table.require("offsets", "the distances to the hull, [[12, 9, 8], [10, 7, 6], ...]");
    table.length_table("offsets", grid.offsets, grid.lines, between(-5000.0, 5000.0));
    if (grid.offsets.empty()) return;
    check_lines(table, "offsets", grid.offsets.size(), "rows");
    check_lines(table, "offsets", grid.offsets.front().size(), "figures in a row");
    out = std::move(grid);
}

void check_ascending(TableReader& table, std::string_view key, const std::vector<double>& values) {
    for (std::size_t i = 1; i < values.size(); ++i)
        if (!(values[i] > values[i - 1]))
            return table.refuse(key, "number " + std::to_string(i + 1) + ", " +
                                         shortest(values[i]) +
                                         " mm, does not lie beyond the one "
                                         "before it; they must ascend");
}

void read_offset_table(TableReader table, std::optional<OffsetTable>& out) {
    if (!table.given()) return;
    OffsetTable offsets;
    table.require("stations", "where the stations are along the hull, [0, 500, 1000, ...]");
    table.lengths("stations", offsets.stations, between(-100'000.0, 100'000.0));
    table.require("waterlines", "the heights of the waterlines, [0, 100, 200, ...]");
    table.lengths("waterlines", offsets.waterlines, between(-100'000.0, 100'000.0));
    table.require("half_breadths", "a row for each station, a figure for each waterline");
    table.length_table("half_breadths", offsets.half_breadths, offsets.lines,
                       between(-10.0, 100'000.0));
    std::string side = "port";
    table.word("side", side, {"port", "starboard"});
    offsets.port = side == "port";
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
    out = std::move(offsets);
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

void read_measurements(const JobSource& source, TableReader& hull, HullOptions& out) {
    std::string first;
    for (const std::string_view way : {"model", "measured", "grid", "sections"}) {
        if (!hull.has(way)) continue;
        if (!first.empty())
            return hull.refuse(way,
                               "the hull is given by hull." + first + " already; take one out");
        first = way;
    }
    if (first.empty() || first == "model") return;
    read_battens(
        inner_table(source, hull, "measured",
                    {"batten", "gap_along", "gap_across", "gap_along_ends", "gap_across_ends"}),
        out.measured);
    read_grid(inner_table(source, hull, "grid", {"spacing_along", "spacing_across", "offsets"}),
              out.grid);
    read_offset_table(
        inner_table(source, hull, "sections", {"stations", "waterlines", "half_breadths", "side"}),
        out.sections);
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
    std::set<std::string_view> names;
    for (const Node& item : marks->items) names.insert(item.key);
    const bool on_plane = job.hull.measured || job.hull.grid;
    for (const Node& item : marks->items) {
        const std::string path = "marks." + quotable(item.key);
        if (item.key == "side" || item.key == "at")
            return source.refusals->refuse(item.line, path, "cannot be the name of a mark");
        Mark mark{item.key, std::nullopt, item.line};
        const std::size_t index = job.marks.size();
        if (item.kind == Node::Kind::table && item.find("at") != nullptr) {
            TableReader table(*source.refusals, &item, path, {"at"});
            table.point("at", mark.at, {job.taped, TapedPoint::Use::mark, on_plane, index});
        } else if (!job.hull.by_hand()) {
            source.refusals->refuse(item.line, path,
                                    "needs its place on the model, at = [x, y, z]");
        } else if (item.kind == Node::Kind::table) {
            // By its distances from the marks before it; the first has none.
            TapedPoint taped{TapedPoint::Use::mark, index, path, item.line, {},
                             TapedSide::none,       {}};
            TableReader table(*source.refusals, &item, path,
                              {"at", "A", "B", "C", "D", "E", "F", "side"});
            for (const Mark& before : job.marks) {
                std::optional<double> distance;
                table.length(before.name, distance, above_zero_to(20'000.0));
                if (distance) taped.distances.emplace_back(before.name, *distance);
            }
            if (taped.distances.size() != std::min<std::size_t>(index, 2))
                source.refusals->refuse(item.line, path,
                                        "needs its place, at = [x, y], or its distances from the "
                                        "marks before it");
            table.choice<TapedSide>("side", taped.side,
                                    {{"up", TapedSide::up},
                                     {"down", TapedSide::down},
                                     {"forward", TapedSide::forward},
                                     {"aft", TapedSide::aft},
                                     {"port", TapedSide::port},
                                     {"starboard", TapedSide::starboard}});
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

void read_soundings(TableReader& damage, Job& job) {
    const Node* list = damage.find("sounding");
    if (list == nullptr) return;
    Refusals& refusals = damage.refusals();
    if (list->kind != Node::Kind::array)
        return refusals.refuse(*list, "damage.sounding",
                               "must be tables, each written [[damage.sounding]]");
    const bool on_plane = job.hull.measured || job.hull.grid;
    for (std::size_t i = 0; i < list->items.size(); ++i) {
        TableReader table(refusals, &list->items[i],
                          "damage.sounding[" + std::to_string(i + 1) + "]",
                          {"at", "depth", "from", "length", "direction", "after"});
        Sounding sounding;
        sounding.line = list->items[i].line;
        std::optional<Vec3> at;
        table.require("at", "where it was taken, [x, y, z] or distances from marks");
        table.point("at", at, {job.taped, TapedPoint::Use::sounding, on_plane, i});
        sounding.at = at.value_or(Vec3::Zero());
        table.require("depth", "the depth that was read, such as depth = \"4.5 mm\"");
        table.length("depth", sounding.depth, between(-20.0, 250.0));
        table.whole_number("after", sounding.after, 0, 500);
        table.choice<Sounding::From>("from", sounding.from,
                                     {{"gauge", Sounding::From::gauge},
                                      {"section", Sounding::From::gauge},
                                      {"straightedge", Sounding::From::straightedge}});
        if (sounding.depth < 0.0 && sounding.after == 0 && sounding.from == Sounding::From::gauge)
            table.refuse("depth",
                         "the ground lies below the surface: must be at least 0 mm, unless it was "
                         "taken on cured work (after) or under a straightedge");
        if (sounding.from == Sounding::From::straightedge)
            table.require("length", "of the straightedge, such as \"600 mm\"");
        else
            for (const auto key : {"length", "direction"})
                if (table.has(key)) table.refuse(key, "goes with from = \"straightedge\"");
        table.length("length", sounding.length, between(20.0, 5000.0));
        if (const Node* way = table.find("direction"); way && way->kind == Node::Kind::text) {
            std::string word;
            table.word("direction", word, {"along", "across"});
            sounding.degrees = word == "across" ? 90.0 : 0.0;
        } else {
            table.number("direction", sounding.degrees, between(-360.0, 360.0), "degrees");
        }
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
    std::string round;
    damage.word("round", round, {"floor", "ground area"});
    if (!round.empty()) job.damage.round = round == "floor" ? Round::floor : Round::ground_area;
    if (!damage.has("depth")) take_deepest_sounding(damage, job.damage);
}

void check_taped_points(const JobSource& source, const Job& job) {
    for (const TapedPoint& point : job.taped)
        for (const auto& [name, unused] : point.distances) {
            const auto is_it = [&](const Mark& mark) { return mark.name == name; };
            if (std::any_of(job.marks.begin(), job.marks.end(), is_it)) continue;
            source.refusals->refuse(
                point.line, point.path,
                "there is no mark " + quotable(name) + "; add [marks." + quotable(name) + "]");
        }
}

}  // namespace tearline::job

#include <Eigen/Geometry>
#include <algorithm>
#include <string>

#include "core/base/tolerances.h"
#include "core/job/read_tables.h"

namespace tearline::job {

namespace {

/// Any number of tables [[PATH.name]] within a table, each read by its own rows.
template <class T, class Check>
void read_tables(TableReader& outer, std::string_view name, const Table<T>& keys, std::size_t most,
                 Job& job, std::vector<T>& out, Check check) {
    const Node* list = outer.find(name);
    if (list == nullptr) return;
    if (list->kind != Node::Kind::array || list->items.empty() || list->items.size() > most)
        return outer.refuse(name, "must be 1 to " + std::to_string(most) +
                                      " tables, each written [[" + std::string(keys.path) + "]]");
    for (const Node& node : list->items) {
        T each;
        each.line = node.line;
        KeyReader<T> table(outer.refusals(), &node,
                           std::string(keys.path) + "[" + std::to_string(out.size() + 1) + "]",
                           keys, each, job);
        table.rest();
        check(table, each);
        out.push_back(std::move(each));
    }
}

void check_direction_points(TableReader& table, std::string_view key,
                            const std::vector<Vec3>& points) {
    if (!table.has(key)) return;
    if (points.size() != 2 || !((points[1] - points[0]).norm() > tolerance::weld))
        table.refuse(key, "must be two places apart from each other, [[x, y, z], [x, y, z]]");
}

void check_level_points(TableReader& table, const HullScan& scan) {
    if (!table.has("level_points")) return;
    if (table.has("up_points"))
        return table.refuse("level_points", "give up_points or level_points, not both");
    if (scan.level_points.size() < 3)
        table.refuse("level_points", "a level plane needs three places or more");
}

}  // namespace

namespace {

void check_dish_scan(TableReader& table, DishScan& scan, const Job& job) {
    scan.model = job.file.parent_path() / std::filesystem::path(scan.model_as_given);
    if (scan.kind == ScanKind::depth)
        table.refuse("kind",
                     "\"depth\": a phone's depth sensor errs by 3 mm, at 12 : 1 36 mm of edge; use "
                     "a depth gauge, [[damage.sounding]]");
    if (!scan.marks.empty() && scan.marks.size() < 3)
        table.refuse("marks", "three marks or more lay one scan on another");
    for (const auto& in_scan : scan.marks)
        if (std::none_of(job.marks.begin(), job.marks.end(),
                         [&](const Mark& mark) { return mark.name == in_scan.first; }))
            table.refuse("marks", "there is no [marks." + in_scan.first + "] on the hull");
}

}  // namespace

void read_dish_scans(KeyReader<Damage>& damage, Job& job) {
    const auto check = [&job](TableReader& table, DishScan& scan) {
        check_dish_scan(table, scan, job);
    };
    DishScan scan;
    KeyReader<DishScan> table(damage.refusals(), damage.find("scan"), "damage.scan",
                              dish_scan_keys(), scan, job);
    if (table.given()) {
        table.rest();
        check(table, scan);
        job.damage.scan = std::move(scan);
    }
    constexpr std::size_t most = 20;
    read_tables(damage, "scan_after", scan_after_keys(), most, job, job.damage.scans_after, check);
    if (job.damage.soundings.empty()) return;
    for (const std::string_view key : {"scan", "scan_after"})
        if (damage.has(key)) damage.refuse(key, "give the dish by soundings or by scans, not both");
}

void read_scan(KeyReader<HullOptions>& hull, Job& job) {
    HullScan scan;
    KeyReader<HullScan> table(hull.refusals(), hull.find("scan"), "hull.scan", scan_keys(), scan,
                              job);
    if (!table.given()) return;
    if (job.hull.by_hand()) return hull.refuse("scan", "goes with hull.model only");
    table.rest();
    if (scan.kind == ScanKind::depth && scan.shows == ScanShows::dish)
        table.refuse("shows",
                     "\"dish\": a phone's depth sensor errs by 3 mm, at 12 : 1 36 mm of edge; say "
                     "\"damage\" and use a depth gauge, [[damage.sounding]]");
    check_direction_points(table, "bow_points", scan.bow_points);
    check_direction_points(table, "up_points", scan.up_points);
    check_level_points(table, scan);
    constexpr std::size_t most_tapes = 5, most_creases = 4;
    read_tables(table, "tape", scan_tape_keys(), most_tapes, job, scan.tapes,
                [](TableReader& of, ScanTape& tape) {
                    if (!((tape.to - tape.from).norm() > tolerance::weld))
                        of.refuse("to", "is the place where the tape begins");
                });
    read_tables(table, "crease", scan_crease_keys(), most_creases, job, scan.creases,
                [](TableReader& of, ScanCrease& crease) {
                    if (crease.points.size() < 3)
                        of.refuse("points", "a chine needs three places or more, in order");
                });
    job.hull.scan = std::move(scan);
}

}  // namespace tearline::job

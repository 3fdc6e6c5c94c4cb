#include "core/job/new_job_file.h"

#include "core/base/numbers.h"
#include "core/job/schema/boat_keys.h"
#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

/// A default as one would write it in the file.
std::string as_written(const Node& value, std::string_view kind) {
    return kind == "length" ? '"' + shortest(value.number) + " mm\"" : value.shown();
}

/// The keys of a table, a line each: what it may say, and behind it what that means.
///
/// @param lead  before what a new job file does not say
template <class T>
std::string lines_of(const Table<T>& table, std::string_view lead = "# ") {
    constexpr std::size_t column = 36;
    std::string out;
    for (const Key<T>& key : table.keys) {
        std::string form(key.form());
        if (form.empty() && key.defaults.all.empty()) continue;
        if (form.empty())
            form = as_written(table.default_of(key, key.defaults.all.front().of), key.value.kind);
        std::string line(key.more.stands ? "" : lead);
        line += std::string(key.name) + " = " + form;
        if (!key.note().empty()) {
            line.resize(std::max(line.size() + 2, column + lead.size() - 2), ' ');
            line += "# " + std::string(key.note());
        }
        out += std::string(key.more.above) + line + "\n";
    }
    return out;
}

constexpr std::string_view deeper = "#   ";

std::string written_file() {
    return R"(# A Tearline job: one repair of one place. Next: tearline plan THIS-FILE -o FOLDER
#
# Lengths are numbers of mm, or text with a unit: "25 mm", "2.5 cm", "1 in", "3/4 in", "1 ft", "20 mil".
# Weights of cloth always carry a unit: "450 g/m2", "1.5 oz/ft2" (mat), "24 oz/yd2" (woven).
# A key behind "#" shows its default or its form; take the "#" away to change it.

)" + lines_of(job_keys()) +
           "\n[hull]\n" + lines_of(hull_keys()) + R"(
# No model? Measure instead (tearline new --measuring-sheet): take out model and put in one of the next four tables.
# With the first three, x, y lie in the plane you face, z towards you: bow = [1, 0, 0] where the bow is to your
# right and [-1, 0, 0] where it is to your left, up = [0, 1, 0]; points may then be [x, y].
#   [hull.measured]
)" + lines_of(batten_keys(), deeper) +
           "#   [hull.grid]\n" + lines_of(grid_keys(), deeper) +
           "# A corner or fillet alone, facing its bend: [x, y] goes along it and, by tape, round "
           "it.\n"
           "#   [hull.corner]\n" +
           lines_of(corner_keys(), deeper) + "#   [hull.sections]\n" +
           lines_of(section_keys(), deeper) + R"(
# The model is a scan, with the damage in it: everything else stays as it is.
#   [hull.scan]
)" + lines_of(scan_keys(), deeper) +
           "#   [[hull.scan.tape]]\n" + lines_of(scan_tape_keys(), deeper) +
           "#   [[hull.scan.crease]]\n" + lines_of(scan_crease_keys(), deeper) + R"(
# Points of the hull outside the grinding to measure from by tape. Any point may then be
# {A = "412 mm", B = "655 mm", side = "up"}; side: "up", "down", "forward", "aft", "port" or "starboard".
#   [marks.A]
)" + lines_of(mark_keys(), deeper) +
           R"(#   [marks.B]
#   A = "900 mm"                      # and their distance by tape

[damage]
)" + lines_of(damage_keys()) +
           "#   [[damage.opening]]\n" + lines_of(opening_keys(), deeper) +
           "#   [[damage.sounding]]\n" + lines_of(sounding_keys(), deeper) + "#   [damage.scan]\n" +
           lines_of(dish_scan_keys(), deeper) + "#   [[damage.scan_after]]\n" +
           lines_of(scan_after_keys(), deeper) + "\n[scarf]\n" + lines_of(scarf_keys()) +
           "\n[layup]\n" + lines_of(layup_keys()) +
           R"(# A hole right through, laid from both sides, and cored skins: what differs there from [layup]
# stands in [layup.inside], [layup.inner], [layup.outer]. What closes the hole, and the core:
#   [backing]
)" + lines_of(backing_keys(), deeper) +
           "#   [core]\n" + lines_of(core_keys(), deeper) + R"(
# Built in: mat 225, 300, 450, 600; roving 600, 800; biaxial 400, 600, 800; cloth 200, 300 ("cloth 200").
# A table of the same name changes what it names; a new name needs kind and weight.
# [[fabric]]
)" + lines_of(fabric_keys()) +
           "\n[resin]\n" + lines_of(resin_keys()) + R"(
[topcoat]                           # over epoxy goes none but what you write here: nothing is then its default
)" + lines_of(topcoat_keys()) +
           "\n[laminator]\n" + lines_of(laminator_keys()) + "\n[shop]\n" + lines_of(shop_keys()) +
           R"(
# What was there before, for comparison: thickness and kind, or a stack as above, from the far face
# to the face laid from; and the resin of the hull where it is known.
# [old_laminate]
)" + lines_of(old_laminate_keys()) +
           "\n# [prices]\n" + lines_of(price_keys()) + R"(
# Several places of one boat: what stands above is then of all of them, and each says in a table of its own
# what differs there. Each gets a folder of its name; cloth, cups and shopping are worked out for all together.
#   allow_overlap = false             # stands at the top; true: covers and torn bands of two places may meet
#   [[repair]]
#   name = "keel"                     # A to Z, digits, - and _; R1, R2, ... where it is left out
#   [repair.damage]                   # and scarf, layup, backing, core, topcoat, old_laminate
#   centre = [2000, 400, 95]
# Leftovers of a roll are used before the roll:
#   [[remnant]]
)" + lines_of(remnant_keys(), deeper);
}

}  // namespace

std::string_view new_job_file() {
    static const std::string file = written_file();
    return file;
}

}  // namespace tearline::job

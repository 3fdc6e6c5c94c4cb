#include <Eigen/Geometry>
#include <cmath>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/job/is_one_of.h"
#include "core/job/read_tables.h"

namespace tearline::job {

namespace {

const std::vector<std::string_view> with_own_unit = {".step", ".stp", ".iges", ".igs", ".brep"};
const std::vector<std::string_view> without_unit = {".stl", ".obj", ".ply"};
/// Points without facets: scans alone.
const std::vector<std::string_view> bare_points = {".xyz", ".pts", ".csv"};

std::string lower_extension(const std::filesystem::path& path) {
    std::string extension = path.extension().string();
    for (char& c : extension)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return extension;
}

void read_model(KeyReader<HullOptions>& hull, const std::filesystem::path& job_file,
                HullOptions& out) {
    if (!hull.require("model",
                      "name the hull's file, model = \"hull.step\", or give [hull.measured], "
                      "[hull.grid], [hull.corner] or [hull.sections]"))
        return;
    hull.read("model");
    if (out.model_as_given.empty()) return hull.refuse("model", "name the hull's file");
    if (out.model_as_given.find('\0') != std::string::npos)
        return hull.refuse("model", "a file name cannot hold a zero byte");
    out.model = job_file.parent_path() / std::filesystem::path(out.model_as_given);
    const std::string extension = lower_extension(out.model);
    if (extension == ".e57" || extension == ".las" || extension == ".laz")
        return hull.refuse("model",
                           "files of this kind cannot be read; save the points as PLY "
                           "(binary is best) and name that file");
    const bool points = is_one_of(extension, bare_points);
    if (points && !hull.has("scan"))
        return hull.refuse("model",
                           "bare points are a scan: add [hull.scan] with kind = \"light\", "
                           "\"photo\" or \"depth\"");
    if (hull.has("scan") && is_one_of(extension, with_own_unit))
        return hull.refuse("scan", "a " + extension +
                                       " model is exact; scans are .ply, .stl, .obj, .xyz, .pts "
                                       "or .csv");
    if (points || is_one_of(extension, without_unit)) {
        hull.require("unit", "a " + extension +
                                 " file does not say its unit; write unit = \"mm\", \"cm\", \"m\", "
                                 "\"in\" or \"ft\"");
    } else if (!is_one_of(extension, with_own_unit)) {
        hull.refuse("model",
                    "the name must end in .step, .stp, .iges, .igs, .brep, .stl, .obj or .ply, or, "
                    "for the points of a scan, .xyz, .pts or .csv");
    }
}

void check_damage_form(TableReader& table, const Damage& damage) {
    const bool outline = table.has("outline"), centre = table.has("centre");
    if (outline && centre)
        return table.refuse("centre", "give the damage by outline or by centre, not by both");
    if (!outline && !centre) {
        table.require("outline",
                      "give the damage by outline = [[x, y, z], ...] or by centre = [x, y, z] with "
                      "radius, or with length and height");
        return;
    }
    if (outline) {
        for (const auto key : {"radius", "length", "height"})
            if (table.has(key)) table.refuse(key, "goes with centre, not with outline");
        if (damage.outline.size() < 3)
            table.refuse("outline", "an outline needs at least 3 points, and has " +
                                        std::to_string(damage.outline.size()));
        return;
    }
    const bool ellipse = table.has("length") || table.has("height");
    if (table.has("radius") && ellipse)
        return table.refuse("radius", "give radius, or length and height, not both");
    if (ellipse) {
        table.require("length", "an ellipse needs its full axis along the bow direction, too");
        table.require("height", "an ellipse needs its full axis across the bow direction, too");
    } else if (!damage.round || *damage.round != Round::ground_area) {
        table.require("radius", "centre needs radius, or length and height, such as \"80 mm\"");
    }
}

/// How far the points of the scan that shows the dish scatter, as far as the job says [mm].
std::optional<double> noise_of_dish(const Damage& damage, const std::optional<HullScan>& hull) {
    const auto of = [](const auto& scan) -> std::optional<double> {
        if (scan.noise) return scan.noise;
        constexpr double by_light = 0.1;
        return scan.kind == ScanKind::light ? std::optional(by_light) : std::nullopt;
    };
    if (damage.scan) return of(*damage.scan);
    if (hull && hull->shows == ScanShows::dish) return of(*hull);
    return std::nullopt;
}

/// Round what was ground the outline can only be taken where it is told how that was ground: the
/// scarf would be ground beyond it once more.
void read_round_alone(KeyReader<Damage>& table, const Damage& damage) {
    table.read("round");
    if (damage.round == Round::ground_area)
        table.refuse("round",
                     "goes with how the place was ground, by [[damage.sounding]] or [damage.scan]; "
                     "without them the outline goes round the floor, and the scarf lies outside it");
}

/// A ground area of which only the centre is given: its edge has to be found in a fine scan.
void check_ground_to_find(TableReader& table, const Damage& damage, const Job& job) {
    if (!table.has("centre") || table.has("radius") || table.has("length") || table.has("height") ||
        damage.round != Round::ground_area)
        return;
    constexpr double most = 0.3;  // [mm] past this a ground edge does not stand out
    const auto noise = noise_of_dish(damage, job.hull.scan);
    if (!noise) {
        table.require("radius",
                      "centre needs radius, or length and height: the edge of the ground area is "
                      "found only in a scan of the dish by light, or with noise up to 0.3 mm");
    } else if (*noise > most) {
        table.refuse("centre", "with " + shortest(*noise) +
                                   " mm of noise the edge of the ground area cannot be found in "
                                   "the scan (0.3 mm at most): give outline, or radius");
    }
}

/// Takes off a last point that closes the outline by hand and refuses other repeated ones.
void tidy_outline(TableReader& table, const std::vector<TapedPoint>& taped,
                  std::vector<Vec3>& outline) {
    // Points by tape are not known yet; the outline itself refuses repeated ones later.
    if (!taped.empty()) return;
    const auto same = [](const Vec3& a, const Vec3& b) {
        return (a - b).norm() <= tolerance::weld;
    };
    if (outline.size() > 1 && same(outline.front(), outline.back())) outline.pop_back();
    for (std::size_t i = 1; i < outline.size(); ++i)
        if (same(outline[i - 1], outline[i]))
            table.refuse("outline", "point " + std::to_string(i + 1) +
                                        " repeats the point before it; take one out");
}

/// What only a lap over the hull's end needs; what an outline alone needs; and where a hull that
/// was measured ends.
void read_end_of_hull(KeyReader<Damage>& table, const HullOptions& hull, Damage& damage) {
    table.read("at_end");
    if (damage.at_end == AtEnd::cut)
        for (const auto key : {"lap_over", "edge_turn", "edge_radius"})
            if (table.has(key)) table.refuse(key, "goes with at_end = \"lap\"");
    table.read("within");
    if (!table.has("end")) return;
    if (!hull.by_hand() && !hull.scan)
        return table.refuse("end",
                            "goes with [hull.scan] or a hull measured by hand: an exact model "
                            "itself shows where it ends");
    table.read("end");
    if (damage.end.size() < 2)
        table.refuse("end", "needs 2 points or more along the hull's end, and has " +
                                std::to_string(damage.end.size()));
}

}  // namespace

void read_openings(KeyReader<Damage>& damage, Job& job) {
    const Node* list = damage.find("opening");
    if (list == nullptr) return;
    Refusals& refusals = damage.refusals();
    if (list->kind != Node::Kind::array)
        return refusals.refuse(*list, "damage.opening",
                               "must be tables, each written [[damage.opening]]");
    for (const Node& node : list->items) {
        const std::size_t number = job.damage.openings.size() + 1;
        Opening opening;
        opening.line = node.line;
        KeyReader<Opening> table(refusals, &node, "damage.opening[" + std::to_string(number) + "]",
                                 opening_keys(), opening, job);
        table.require("keep", "keep = true: the cloth goes round it");
        table.rest();
        if (opening.keep == false)
            table.refuse("keep",
                         "false: an opening that is closed is a hole right through the skin; it "
                         "needs a backing and is planned by damage.through");
        if (table.has("outline") && table.has("centre"))
            table.refuse("outline", "give the opening by outline or by centre, not by both");
        if (table.has("radius") && !table.has("centre")) table.refuse("radius", "goes with centre");
        if (table.has("outline") && opening.outline.size() < 3)
            table.refuse("outline", "an outline needs at least 3 points, and has " +
                                        std::to_string(opening.outline.size()));
        job.damage.openings.push_back(std::move(opening));
    }
}

void read_hull(const JobSource& source, Job& job) {
    HullOptions& out = job.hull;
    KeyReader hull = source.table(hull_keys(), out, job);
    hull.read("unit");
    read_measurements(hull, job);
    if (!out.by_hand()) read_model(hull, job.file, out);
    read_scan(hull, job);
    if (out.scan && !out.scan->bow_points.empty() && !hull.has("bow")) hull.leave_out("bow");
    if (out.scan && !out.scan->up_points.empty() && !hull.has("up")) hull.leave_out("up");
    hull.through("up");
    if (!(out.bow.cross(out.up).norm() >= tolerance::least_bow_up_sine))
        hull.refuse("up", "must not be parallel to bow");
    hull.rest();
}

void read_damage(const JobSource& source, Job& job) {
    Damage& out = job.damage;
    KeyReader table = source.table(damage_keys(), out, job);
    table.read("outline");
    tidy_outline(table, job.taped, out.outline);
    table.through("height");
    const bool dish_by_scan =
        table.has("scan") || (job.hull.scan && job.hull.scan->shows == ScanShows::dish);
    if (dish_by_scan) table.read("round");
    check_damage_form(table, out);
    read_end_of_hull(table, job.hull, out);
    read_openings(table, job);
    read_soundings(table, job);
    read_dish_scans(table, job);
    const bool scanned = out.scanned(job.hull.scan);
    if (dish_by_scan) check_ground_to_find(table, out, job);
    if (scanned) table.read("round");
    if (out.round == Round::ground_area && !dish_by_scan && !out.scans_after.empty())
        table.refuse("round",
                     "\"ground area\" needs the dish as it was ground, too: give its scan, "
                     "[damage.scan], or draw the outline round the floor");
    if (!scanned && out.soundings.empty()) read_round_alone(table, out);
    table.read("through");
    // A hole is as deep as its skin, and a cored skin is damaged down to a layer of it.
    const bool told = out.through || table.has("reaches");
    // With a core the farthest layer is asked for, where that is read.
    const bool cored = source.root->find("core") != nullptr;
    if (out.soundings.empty() && !scanned && !told && !cored)
        table.require("depth", "how deep the dish is ground, such as depth = \"6 mm\"");
    table.through("side");
    table.read("reaches");
    table.through("within");
    const HullOptions& hull = job.hull;
    if (told) return;
    if (hull.skin && out.depth > *hull.skin)
        table.refuse("depth", "deeper than hull.skin, " + shortest(*hull.skin) +
                                  " mm; at most that can be ground away");
    if (!hull.skin && hull.surface != out.side)
        source.table(hull_keys(), job.hull, job)
            .require("skin",
                     "the repair is on the other face of the skin than the model (hull.surface, "
                     "damage.side), so its thickness is needed, such as skin = \"8 mm\"");
}

}  // namespace tearline::job

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/job/read_tables.h"

namespace tearline::job {

namespace {

const std::vector<std::string_view> with_own_unit = {".step", ".stp", ".iges", ".igs", ".brep"};
const std::vector<std::string_view> without_unit = {".stl", ".obj", ".ply"};

const std::vector<std::string_view> hull_keys = {"model",    "unit", "bow",     "up",
                                                 "surface",  "skin", "outward", "mirror",
                                                 "measured", "grid", "sections"};

bool is_one_of(const std::string& word, const std::vector<std::string_view>& words) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

std::string lower_extension(const std::filesystem::path& path) {
    std::string extension = path.extension().string();
    for (char& c : extension)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return extension;
}

void read_model(TableReader& hull, const std::filesystem::path& job_file, HullOptions& out) {
    if (!hull.require("model",
                      "name the hull's file, model = \"hull.step\", or give [hull.measured], "
                      "[hull.grid] or [hull.sections]"))
        return;
    hull.text("model", out.model_as_given);
    if (out.model_as_given.empty()) return hull.refuse("model", "name the hull's file");
    if (out.model_as_given.find('\0') != std::string::npos)
        return hull.refuse("model", "a file name cannot hold a zero byte");
    out.model = job_file.parent_path() / std::filesystem::path(out.model_as_given);
    const std::string extension = lower_extension(out.model);
    if (is_one_of(extension, without_unit)) {
        hull.require("unit", "a " + extension +
                                 " file does not say its unit; write unit = \"mm\", \"cm\", \"m\", "
                                 "\"in\" or \"ft\"");
    } else if (!is_one_of(extension, with_own_unit)) {
        hull.refuse("model",
                    "the name must end in .step, .stp, .iges, .igs, .brep, .stl, .obj or .ply");
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
    } else {
        table.require("radius", "centre needs radius, or length and height, such as \"80 mm\"");
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

}  // namespace

void read_hull(const JobSource& source, Job& job) {
    TableReader hull = source.table("hull", hull_keys);
    HullOptions& out = job.hull;
    std::string unit;
    hull.word("unit", unit, {"mm", "cm", "m", "in", "ft"});
    if (!unit.empty()) out.unit = unit;
    read_measurements(source, hull, out);
    if (!out.by_hand()) read_model(hull, job.file, out);
    hull.require("bow", "the direction of the bow in the model, such as bow = [1, 0, 0]");
    hull.direction("bow", out.bow);
    hull.require("up", "the upward direction in the model, such as up = [0, 0, 1]");
    hull.direction("up", out.up);
    if (!(out.bow.cross(out.up).norm() >= tolerance::least_bow_up_sine))
        hull.refuse("up", "must not be parallel to bow");
    hull.choice<Side>("surface", out.surface,
                      {{"outside", Side::outside}, {"inside", Side::inside}});
    hull.length("skin", out.skin, above_zero_to(250.0));
    hull.word("outward", out.outward, {"auto", "as modelled", "reversed"});
    hull.truth("mirror", out.mirror);
}

void read_damage(const JobSource& source, Job& job) {
    TableReader table = source.table("damage", {"outline", "join", "centre", "radius", "length",
                                                "height", "depth", "side", "sounding", "round"});
    Damage& out = job.damage;
    const bool on_plane = job.hull.measured || job.hull.grid;
    table.points("outline", out.outline, {job.taped, TapedPoint::Use::outline, on_plane});
    tidy_outline(table, job.taped, out.outline);
    table.choice<Join>("join", out.join, {{"smooth", Join::smooth}, {"straight", Join::straight}});
    table.point("centre", out.centre, {job.taped, TapedPoint::Use::centre, on_plane});
    table.length("radius", out.radius, above_zero_to(10'000.0));
    table.length("length", out.length, above_zero_to(20'000.0));
    table.length("height", out.height, above_zero_to(20'000.0));
    check_damage_form(table, out);
    read_soundings(table, job);
    if (out.soundings.empty())
        table.require("depth", "how deep the dish is ground, such as depth = \"6 mm\"");
    table.length("depth", out.depth, above_zero_to(250.0));
    table.choice<Side>("side", out.side, {{"outside", Side::outside}, {"inside", Side::inside}});
    const HullOptions& hull = job.hull;
    if (hull.skin && out.depth > *hull.skin)
        table.refuse("depth", "deeper than hull.skin, " + shortest(*hull.skin) +
                                  " mm; at most that can be ground away");
    if (!hull.skin && hull.surface != out.side)
        source.table("hull", hull_keys)
            .require("skin",
                     "the repair is on the other face of the skin than the model (hull.surface, "
                     "damage.side), so its thickness is needed, such as skin = \"8 mm\"");
}

void read_scarf(const JobSource& source, Job& job) {
    TableReader table =
        source.table("scarf", {"ratio", "least_step", "safety_factor", "bond_shear"});
    table.number("ratio", job.scarf.ratio, between(1.0, 100.0), "");
    table.length("least_step", job.scarf.least_step, between(0.0, 500.0));
    table.number("safety_factor", job.scarf.safety_factor, between(1.0, 20.0), "");
    table.stress("bond_shear", job.scarf.bond_shear, above_zero_to(200.0));
}

}  // namespace tearline::job

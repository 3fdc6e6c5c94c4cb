#include "core/hull/read_hull.h"

#include <algorithm>
#include <mutex>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sha256.h"
#include "core/base/tolerances.h"
#include "core/hull/cad_faces.h"
#include "core/hull/cad_mesh.h"
#include "core/hull/cad_shape.h"
#include "core/hull/measured_hull.h"
#include "core/hull/mend.h"
#include "core/hull/mesh_file.h"
#include "core/hull/model_file.h"
#include "core/hull/one_surface.h"
#include "core/hull/smallest_radii.h"
#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

/// The name of the unit where it is given, to ask for it by.
std::string unit_key(UnitFrom from) {
    return from == UnitFrom::job_file ? "hull.unit" : "--unit";
}

std::string units_to_give(UnitFrom from) {
    return from == UnitFrom::job_file ? "give \"mm\", \"cm\", \"m\", \"in\" or \"ft\""
                                      : "give --unit mm, or cm, m, in, ft";
}

Result<Hull> read_cad(const ModelFile& file, const job::HullOptions& options, UnitFrom from) {
    const auto cad = read_cad_shape(file);
    if (!cad) return tl::unexpected(cad.error());
    Hull hull = hull_of_meshed(*cad->shape);
    if (hull.triangles.empty()) return model_error(file.path, cannot_be_meshed);
    hull.cad = faces_of(*cad->shape);
    hull.report.unit = cad->unit;
    hull.report.faces = cad->faces;
    if (cad->sewn_edges > 0) {
        hull.report.mended.push_back(std::to_string(cad->sewn_edges) +
                                     " pairs of face edges sewn together");
    }
    if (options.unit && *options.unit != cad->unit) {
        hull.warnings.push_back({warn::UnitDiffers{unit_key(from), *options.unit,
                                                   format_name(file.format), cad->unit}});
    }
    return hull;
}

/// Points nearer than this are one: 4 steps of the numbers the file stores.
double weld_reach(const std::vector<Vec3>& points, bool single_precision) {
    double largest = 0.0;
    for (const Vec3& p : points) largest = std::max(largest, p.cwiseAbs().maxCoeff());
    return single_precision ? std::max(tolerance::weld, tolerance::weld_relative * largest)
                            : tolerance::weld;
}

Result<Hull> read_mesh(const ModelFile& file, const job::HullOptions& options, UnitFrom from) {
    const std::string key = unit_key(from);
    if (!options.unit) {
        return bad_input(key, "required, since " + format_name(file.format) +
                                  " files name no unit: " + units_to_give(from));
    }
    const auto scale = millimetres_in(*options.unit);
    if (!scale) return bad_input(key, "\"" + *options.unit + "\": " + units_to_give(from));
    auto raw = read_mesh_file(file);
    if (!raw) return tl::unexpected(raw.error());
    for (Vec3& p : raw->points) {
        p *= *scale;
        if (!(p.cwiseAbs().maxCoeff() <= tolerance::largest_model)) {
            return model_error(
                file.path, "a point lies at " + place_text(p) + " mm, over 1 km out: check " + key);
        }
    }
    const double reach = weld_reach(raw->points, raw->single_precision);
    Hull hull;
    hull.report.triangles_read = raw->triangles.size();
    MendedMesh mended = mend(raw->points, raw->triangles, reach);
    if (mended.triangles.empty()) {
        return model_error(file.path, "none of its triangles has any area: check " + key);
    }
    hull.vertices = std::move(mended.vertices);
    hull.triangles = std::move(mended.triangles);
    hull.report.mended = std::move(mended.mended);
    hull.report.unit = *options.unit;
    return hull;
}

/// A file that is not there, told to whoever named it.
Result<void> must_be_there(const std::filesystem::path& model, UnitFrom from) {
    std::error_code ignored;
    if (std::filesystem::exists(model, ignored)) return {};
    return model_error(
        model, from == UnitFrom::job_file
                   ? "there is no such file; a job names its model by the way from the job file, "
                     "or from /"
                   : "there is no such file; check its name and its folder");
}

/// A model larger or smaller than hulls are: mostly its unit is another one.
void ask_for_unit(Hull& hull, bool exact, UnitFrom from) {
    const double size = (hull.report.extent_max - hull.report.extent_min).maxCoeff();
    if (size >= tolerance::shortest_hull && size <= tolerance::longest_hull) return;
    hull.warnings.push_back(
        {warn::UnitUnlikely{size, size < tolerance::shortest_hull, exact ? "" : unit_key(from),
                            hull.report.format, hull.report.unit}});
}

Result<Hull> read_either(const job::HullOptions& options, SurfaceNeeds needs, UnitFrom from) {
    if (auto there = must_be_there(options.model, from); !there)
        return tl::unexpected(there.error());
    const auto file = read_model_file(options.model);
    if (!file) return tl::unexpected(file.error());
    const bool exact = knows_its_unit(file->format);
    auto hull = exact ? read_cad(*file, options, from) : read_mesh(*file, options, from);
    if (!hull) return hull;
    hull->sha256 = sha256_hex(file->bytes);
    hull->report.format = format_name(file->format);
    if (exact) hull->report.triangles_read = hull->triangles.size();
    hull->surface = options.surface;
    auto one = make_one_surface(std::move(*hull), options, needs);
    if (one) ask_for_unit(*one, exact, from);
    return one;
}

}  // namespace

Result<Hull> read_hull(const job::HullOptions& options, job::Side side) {
    if (options.by_hand()) return measured_hull(options, side);
    // The library that reads CAD files has one state for all threads.
    static std::mutex one_at_a_time;
    const std::lock_guard lock(one_at_a_time);
    return read_either(options, {side, true}, UnitFrom::job_file);
}

Result<Hull> inspect_hull(const std::filesystem::path& model,
                          const std::optional<std::string>& unit, UnitFrom from, job::Side side) {
    job::HullOptions options;
    options.model = model;
    options.unit = unit;
    return inspect_hull(options, from, side);
}

Result<Hull> inspect_hull(const job::HullOptions& options, UnitFrom from, job::Side side) {
    auto hull = read_either(options, {side, false}, from);
    if (hull) find_smallest_radii(*hull);
    // A key of the job file: a command names the file alone.
    if (!hull && from == UnitFrom::command_line && hull.error().key == "hull.model") {
        hull.error().key.clear();
    }
    return hull;
}

}  // namespace tearline::hull

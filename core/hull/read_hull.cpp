#include "core/hull/read_hull.h"

#include <algorithm>

#include "core/base/numbers.h"
#include "core/base/sha256.h"
#include "core/base/tolerances.h"
#include "core/hull/cad_faces.h"
#include "core/hull/cad_mesh.h"
#include "core/hull/cad_shape.h"
#include "core/hull/face_outward.h"
#include "core/hull/mend.h"
#include "core/hull/mesh_file.h"
#include "core/hull/model_file.h"
#include "core/hull/topology.h"

namespace tearline::hull {
namespace {

std::string place(const Vec3& p) {
    return "(" + fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " + fixed(p.z(), 1) + ")";
}

Vec3 middle(const Hull& hull, std::int32_t a, std::int32_t b) {
    return 0.5 * (hull.vertices[static_cast<std::size_t>(a)] +
                  hull.vertices[static_cast<std::size_t>(b)]);
}

void turn_parameters(Hull& hull, const std::vector<bool>& turned) {
    if (hull.corner_uv.empty()) return;
    for (std::size_t t = 0; t < turned.size(); ++t) {
        if (turned[t]) std::swap(hull.corner_uv[t][1], hull.corner_uv[t][2]);
    }
}

/// Per face, +1 where its triangles as they now lie run counter-clockwise in its parameters.
std::vector<double> outward_signs(const Hull& hull, std::size_t faces) {
    std::vector<double> sum(faces, 0.0);
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        const auto& uv = hull.corner_uv[t];
        sum[hull.face[t].index()] += cross2(uv[1] - uv[0], uv[2] - uv[0]);
    }
    for (double& s : sum) s = s < 0.0 ? -1.0 : 1.0;
    return sum;
}

Result<Hull> read_cad(const ModelFile& file, const job::HullOptions& options) {
    const auto cad = read_cad_shape(file);
    if (!cad) return tl::unexpected(cad.error());
    Hull hull = mesh_cad(*cad->shape);
    if (hull.triangles.empty()) {
        return model_error(file.path, "none of its faces can be meshed; repair the model");
    }
    hull.cad = faces_of(*cad->shape);
    hull.report.unit = cad->unit;
    hull.report.faces = cad->faces;
    if (cad->sewn_edges > 0) {
        hull.report.mended.push_back(std::to_string(cad->sewn_edges) +
                                     " pairs of face edges sewn together");
    }
    if (options.unit && *options.unit != cad->unit) {
        hull.warnings.push_back({"unit-differs",
                                 "hull.unit says " + *options.unit + " but the " +
                                     format_name(file.format) + " file is in " + cad->unit +
                                     ": the file's own unit is used; remove hull.unit",
                                 {},
                                 {},
                                 {}});
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

Result<Hull> read_mesh(const ModelFile& file, const job::HullOptions& options) {
    if (!options.unit) {
        return bad_input("hull.unit: required, since " + format_name(file.format) +
                         " files name no unit: give \"mm\", \"cm\", \"m\", \"in\" or \"ft\"");
    }
    const auto scale = millimetres_in(*options.unit);
    if (!scale) {
        return bad_input("hull.unit: \"" + *options.unit +
                         "\": give \"mm\", \"cm\", \"m\", \"in\" or \"ft\"");
    }
    auto raw = read_mesh_file(file);
    if (!raw) return tl::unexpected(raw.error());
    for (Vec3& p : raw->points) {
        p *= *scale;
        if (!(p.cwiseAbs().maxCoeff() <= tolerance::largest_model)) {
            return model_error(
                file.path, "a point lies at " + place(p) + " mm, over 1 km out: check hull.unit");
        }
    }
    const double reach = weld_reach(raw->points, raw->single_precision);
    Hull hull;
    hull.report.triangles_read = raw->triangles.size();
    MendedMesh mended = mend(raw->points, raw->triangles, reach);
    if (mended.triangles.empty()) {
        return model_error(file.path, "none of its triangles has any area: check hull.unit");
    }
    hull.vertices = std::move(mended.vertices);
    hull.triangles = std::move(mended.triangles);
    hull.report.mended = std::move(mended.mended);
    hull.report.unit = *options.unit;
    return hull;
}

void measure(Hull& hull, const std::vector<Part>& parts) {
    HullReport& report = hull.report;
    report.extent_min = report.extent_max = hull.vertices.front();
    for (const Vec3& v : hull.vertices) {
        report.extent_min = report.extent_min.cwiseMin(v);
        report.extent_max = report.extent_max.cwiseMax(v);
    }
    report.closed = true;
    for (const Part& part : parts) {
        report.area_mm2 += part.area;
        report.closed = report.closed && part.closed();
        for (const auto& loop : part.loops) {
            report.opening_lengths.push_back(loop_length(hull.vertices, loop));
        }
    }
    std::sort(report.opening_lengths.begin(), report.opening_lengths.end(), std::greater<>());
}

/// Everything after reading: one consistent surface, outward, measured.
Result<Hull> finish(Hull hull, const ModelFile& file, const job::HullOptions& options) {
    Neighbours neighbours = find_neighbours(hull.triangles, hull.vertices.size());
    if (!neighbours.crowded.empty()) {
        const CrowdedEdge& edge = neighbours.crowded.front();
        return model_error(file.path, std::to_string(edge.triangles) +
                                          " faces meet in one edge near " +
                                          place(middle(hull, edge.a, edge.b)) +
                                          " mm; a hull's edge has at most two: take the extra "
                                          "surface out of the model");
    }
    Topology& topology = neighbours.topology;
    const Consistency consistency = make_consistent(hull.triangles, topology);
    if (consistency.twisted) {
        const auto [a, b] = *consistency.twisted;
        return model_error(file.path, "the surface has one side only (a twisted strip) near " +
                                          place(middle(hull, a, b)) +
                                          " mm; no side of it is the outside");
    }
    turn_parameters(hull, consistency.turned);
    if (consistency.turned_count > 0) {
        hull.report.mended.push_back(std::to_string(consistency.turned_count) +
                                     " facets faced the other way and were turned");
    }
    std::vector<Part> parts = measure_parts(hull.vertices, hull.triangles, topology);
    const auto turned = face_outward(hull, topology, parts, options.outward);
    if (!turned) return tl::unexpected(turned.error());
    turn_parameters(hull, *turned);
    if (hull.cad) {
        const auto faces = static_cast<std::int32_t>(hull.report.faces);
        hull.cad = placed({hull.cad, outward_signs(hull, static_cast<std::size_t>(faces)), faces, 0,
                           std::nullopt});
    }
    measure(hull, parts);
    return hull;
}

}  // namespace

Result<Hull> read_hull(const job::HullOptions& options, job::Side side) {
    (void)side;
    const auto file = read_model_file(options.model);
    if (!file) return tl::unexpected(file.error());
    const bool exact = knows_its_unit(file->format);
    auto hull = exact ? read_cad(*file, options) : read_mesh(*file, options);
    if (!hull) return hull;
    hull->sha256 = sha256_hex(file->bytes);
    hull->report.format = format_name(file->format);
    if (exact) hull->report.triangles_read = hull->triangles.size();
    hull->surface = options.surface;
    return finish(std::move(*hull), *file, options);
}

}  // namespace tearline::hull

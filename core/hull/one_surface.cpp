#include "core/hull/one_surface.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <functional>

#include "core/base/length_text.h"
#include "core/hull/cad_faces.h"
#include "core/hull/face_outward.h"
#include "core/hull/mirror_half.h"
#include "core/hull/model_file.h"
#include "core/hull/pick_skin.h"
#include "core/hull/topology.h"

namespace tearline::hull {
namespace {

std::string middle(const Hull& hull, std::int32_t a, std::int32_t b) {
    return place_text(0.5 * (hull.vertices[static_cast<std::size_t>(a)] +
                             hull.vertices[static_cast<std::size_t>(b)]));
}

void turn_parameters(Hull& hull, const std::vector<bool>& turned) {
    if (hull.corner_uv.empty()) return;
    for (std::size_t t = 0; t < turned.size(); ++t) {
        if (turned[t]) std::swap(hull.corner_uv[t][1], hull.corner_uv[t][2]);
    }
}

Result<Topology> turn_alike(Hull& hull, const std::filesystem::path& model) {
    Neighbours neighbours = find_neighbours(hull.triangles, hull.vertices.size());
    if (!neighbours.crowded.empty()) {
        const CrowdedEdge& edge = neighbours.crowded.front();
        return model_error(model, std::to_string(edge.triangles) + " faces meet in one edge near " +
                                      middle(hull, edge.a, edge.b) +
                                      " mm; an edge of a hull has at most two: take the extra "
                                      "surface out of the model");
    }
    const Consistency consistency = make_consistent(hull.triangles, neighbours.topology);
    if (consistency.twisted) {
        const auto [a, b] = *consistency.twisted;
        return model_error(model, "the surface has one side only (a twisted strip) near " +
                                      middle(hull, a, b) + " mm; no side of it is the outside");
    }
    turn_parameters(hull, consistency.turned);
    if (consistency.turned_count > 0) {
        hull.report.mended.push_back(std::to_string(consistency.turned_count) +
                                     " facets faced the other way and were turned");
    }
    return std::move(neighbours.topology);
}

/// The hull's parts after triangles were added or taken away.
Topology numbered_again(Hull& hull) {
    Topology topology = find_neighbours(hull.triangles, hull.vertices.size()).topology;
    if (make_consistent(hull.triangles, topology).turned_count > 0) {
        throw std::logic_error("make_one_surface: a consistent surface came out inconsistent");
    }
    return topology;
}

/// Per face, +1 where its triangles as they now lie run counter-clockwise in its parameters.
std::vector<double> outward_signs(const Hull& hull) {
    std::vector<double> sum(static_cast<std::size_t>(hull.report.faces), 0.0);
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        const auto& uv = hull.corner_uv[t];
        sum[hull.face[t].index()] += cross2(uv[1] - uv[0], uv[2] - uv[0]);
    }
    for (double& s : sum) s = s < 0.0 ? -1.0 : 1.0;
    return sum;
}

/// Adds the other half where the job says so; leaves the question to a later stage where it says
/// nothing. The plane of the reflection, or nothing where none was made.
Result<std::optional<MirrorPlane>> answer_mirror(Hull& hull, const Topology& topology,
                                                 const job::HullOptions& options) {
    std::vector<CentrelinePlane> planes = find_centrelines(hull, topology, options);
    if (!options.mirror) hull.centreline = planes;
    if (!options.mirror.value_or(false)) return std::optional<MirrorPlane>();
    if (planes.empty()) {
        return bad_input("hull.mirror",
                         "true, but no open edge of the model lies in a plane that holds hull.bow "
                         "and hull.up: the model is whole, or the two directions are wrong");
    }
    mirror_half(hull, topology, planes.front());
    hull.other_face.clear();  // known on one half alone
    hull.report.mended.push_back("the other half was added by reflection");
    return std::optional(MirrorPlane{planes.front().normal, planes.front().offset});
}

/// Area of the faces themselves behind the triangles [mm2].
/// @source  integral of |du x dv| over each triangle of parameters, rule of the three edge middles,
///          exact for quadratics
double area_of_faces(const Hull& hull) {
    double area = 0.0;
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        const auto& uv = hull.corner_uv[t];
        double stretch = 0.0;
        for (std::size_t k = 0; k < 3; ++k) {
            const FacePoint p = hull.cad->evaluate(hull.face[t], 0.5 * (uv[k] + uv[(k + 1) % 3]));
            stretch += p.du.cross(p.dv).norm() / 3.0;
        }
        area += 0.5 * std::abs(cross2(uv[1] - uv[0], uv[2] - uv[0])) * stretch;
    }
    return area;
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
        report.body_areas.push_back(part.area);
        report.closed = report.closed && part.closed();
        for (const auto& loop : part.loops) {
            report.opening_lengths.push_back(loop_length(hull.vertices, loop));
        }
    }
    if (hull.cad) report.area_mm2 = area_of_faces(hull);
    std::sort(report.body_areas.begin(), report.body_areas.end(), std::greater<>());
    std::sort(report.opening_lengths.begin(), report.opening_lengths.end(), std::greater<>());
}

}  // namespace

Result<Hull> make_one_surface(Hull hull, const job::HullOptions& options,
                              const SurfaceNeeds& needs) {
    auto topology = turn_alike(hull, options.model);
    if (!topology) return tl::unexpected(topology.error());
    std::vector<Part> parts = measure_parts(hull.vertices, hull.triangles, *topology);
    const auto turned = face_outward(hull, *topology, parts, options.outward, needs.outward_known);
    if (!turned) return tl::unexpected(turned.error());
    turn_parameters(hull, *turned);
    const auto cut = pick_skin(hull, *topology, parts, needs.side, options.up);
    if (!cut) return tl::unexpected(cut.error());
    if (*cut) *topology = numbered_again(hull);
    const std::vector<double> outward = hull.cad ? outward_signs(hull) : std::vector<double>();
    const auto mirrored = answer_mirror(hull, *topology, options);
    if (!mirrored) return tl::unexpected(mirrored.error());
    if (hull.cad) {
        hull.cad = placed({hull.cad, outward, hull.report.faces, hull.cad_edge_count, *mirrored});
    }
    if (mirrored->has_value()) *topology = numbered_again(hull);
    if (*cut || mirrored->has_value())
        parts = measure_parts(hull.vertices, hull.triangles, *topology);
    measure(hull, parts);
    return hull;
}

}  // namespace tearline::hull

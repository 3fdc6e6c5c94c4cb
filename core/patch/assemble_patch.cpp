#include "core/patch/assemble_patch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/patch/tolerances.h"
#include "core/patch/unroll_tube.h"
#include "core/surface/chart.h"
#include "core/surface/relax_chart.h"
#include "core/surface/winding.h"

namespace tearline::patch {
namespace {

using Anchors = std::vector<std::array<surface::Anchor, 3>>;

struct Assembly {
    surface::Patch patch;
    Anchors anchors;
};

/// Triangles, anchors and edge flags, turned over for laying from the model's inside.
void take_triangles(const remesh::RemeshMesh& source, double sign, Assembly& out) {
    const std::array<int, 3> corner = sign > 0.0 ? std::array{0, 1, 2} : std::array{0, 2, 1};
    const std::array<int, 3> edge = sign > 0.0 ? std::array{0, 1, 2} : std::array{2, 1, 0};
    for (const auto& v : source.vertex) out.patch.mesh.position.push_back(v.position);
    for (const remesh::RemeshTriangle& t : source.triangle) {
        std::array<std::int32_t, 3> v{};
        std::array<surface::Anchor, 3> anchor;
        std::array<bool, 3> end{};
        std::array<bool, 3> kept{};
        for (int i = 0; i < 3; ++i) {
            v[i] = t.vertex[corner[i]].value;
            anchor[i] = t.anchor[corner[i]];
            kept[i] = t.kept[edge[i]].kept();
            end[i] = !t.neighbour[edge[i]].valid() && t.kept[edge[i]].hull_end;
        }
        out.patch.mesh.triangle.push_back(v);
        out.anchors.push_back(anchor);
        out.patch.hull_end.push_back(end);
        out.patch.crease.push_back(kept);
    }
}

void set_corner_normals(const surface::Carrier& carrier, double sign, Assembly& a) {
    surface::SurfaceMesh& mesh = a.patch.mesh;
    mesh.corner_normal.resize(mesh.triangle.size());
    std::vector<std::pair<surface::Anchor, Vec3>> last(mesh.position.size());  // most corners agree
    for (std::size_t t = 0; t < mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t v = mesh.triangle[t][i];
            auto& [anchor, normal] = last[v];
            if (anchor.face != a.anchors[t][i].face || anchor.uv != a.anchors[t][i].uv) {
                anchor = a.anchors[t][i];
                const surface::Carried carried = carrier.carry(anchor, mesh.position[v]);
                a.anchors[t][i] = carried.anchor;
                normal = sign * carried.normal;
            }
            mesh.corner_normal[t][i] = normal;
        }
}

/// Kept edges whose two sides really turn are creases; the others are seams of the model.
void find_creases(surface::Patch& patch) {
    const auto across = surface::neighbours(patch.mesh);
    const double cosine = std::cos(tolerance::cad_crease_degrees * std::numbers::pi / 180.0);
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t n = across[t][i];
            if (!patch.crease[t][i] || n < static_cast<std::int32_t>(t)) {
                if (n < 0) patch.crease[t][i] = false;
                continue;
            }
            const auto& v = patch.mesh.triangle[t];
            const auto& w = patch.mesh.triangle[n];
            int k = 0;
            while (w[k] != v[(i + 1) % 3]) ++k;
            const auto& here = patch.mesh.corner_normal[t];
            const auto& there = patch.mesh.corner_normal[n];
            const bool sharp = here[i].dot(there[(k + 1) % 3]) < cosine ||
                               here[(i + 1) % 3].dot(there[k]) < cosine;
            patch.crease[t][i] = patch.crease[n][k] = sharp;
        }
}

bool has_crease(const surface::Patch& patch) {
    const auto any = [](const std::array<bool, 3>& edges) {
        return std::find(edges.begin(), edges.end(), true) != edges.end();
    };
    return std::any_of(patch.crease.begin(), patch.crease.end(), any);
}

/// What would help; a tube that stands on a deck and the deck round it lie flat one by one.
std::string instead(const surface::Patch& patch, const NotFlatWords& words) {
    return words.instead + (has_crease(patch) ? words.of_joints : std::string());
}

/// Takes a chart, if it is nearly true to the patch's lengths.
Result<void> take_chart(surface::Patch& patch, const NotFlatWords& words,
                        std::vector<Vec2> chart) {
    constexpr const char* tube = " winds round a tube or closes on itself";
    patch.chart = std::move(chart);
    if (patch.chart.empty())
        return no_safe_answer(words.what + tube +
                              " and does not lie flat in one piece: " + instead(patch, words));
    const surface::ChartQuality quality = surface::chart_quality(patch.mesh, patch.chart);
    if (quality.least_stretch > tolerance::least_chart_stretch &&
        quality.most_stretch < tolerance::most_chart_stretch)
        return {};
    const auto& worst = patch.mesh.triangle[quality.worst.index()];
    const Vec3 place = (patch.mesh.position[worst[0]] + patch.mesh.position[worst[1]] +
                        patch.mesh.position[worst[2]]) /
                       3.0;
    const double came_out = quality.least_stretch > tolerance::least_chart_stretch
                                ? quality.most_stretch
                                : quality.least_stretch;
    // What has one rim is no tube; what has two may be a tube, or a panel with an opening.
    const bool one_rim = surface::boundary_loops(patch.mesh).size() == 1;
    return no_safe_answer(words.what + (one_rim ? "" : tube + std::string(", or")) +
                              " curves too much near " + place_text(place) +
                              " mm, and does not lie flat in one piece (lengths there would come "
                              "out at " +
                              fixed(100.0 * came_out, 0) + " %): " + instead(patch, words),
                          place);
}

/// @param start  [mm] a first guess; may be empty
Result<void> lay_in_chart(surface::Patch& patch, const NotFlatWords& words,
                          std::vector<Vec2> start = {}) {
    return take_chart(patch, words, surface::make_chart(patch.mesh, std::move(start)));
}

/// Takes the triangles of a tube rolled out; tells how they wind round it.
std::shared_ptr<const surface::Winding> roll_out(Assembly& a, UnrolledTube unrolled) {
    Assembly out;
    for (const std::int32_t t : unrolled.source) {
        out.anchors.push_back(a.anchors[t]);
        out.patch.hull_end.push_back(a.patch.hull_end[t]);
        out.patch.crease.push_back(a.patch.crease[t]);
    }
    out.patch.mesh = std::move(unrolled.mesh);
    const auto across = surface::neighbours(out.patch.mesh);
    for (std::size_t t = 0; t < across.size(); ++t)
        for (int i = 0; i < 3; ++i)
            if (across[t][i] < 0) out.patch.crease[t][i] = false;
    a = std::move(out);
    return std::make_shared<const surface::Winding>(std::move(unrolled.source),
                                                    std::move(unrolled.turn));
}

}  // namespace

Result<surface::Patch> assemble_patch(const CroppedHull& cropped, double sign,
                                      const NotFlatWords& not_flat, const RepairRegion* round) {
    Assembly assembly;
    take_triangles(cropped.mesh, sign, assembly);
    set_corner_normals(*cropped.carrier, sign, assembly);
    surface::Patch& patch = assembly.patch;
    find_creases(patch);
    surface::set_arc_lengths(patch.mesh);
    std::shared_ptr<const surface::Winding> winding;
    std::optional<UnrolledTube> unrolled;
    if (round != nullptr) unrolled = unroll_tube(patch.mesh, *round);
    std::vector<Vec2> strip;
    if (unrolled) {
        strip = rolled_strip(*unrolled);
        winding = roll_out(assembly, *std::move(unrolled));
    }
    auto laid = lay_in_chart(patch, not_flat,
                             winding ? rolled_flat(patch.mesh) : std::vector<Vec2>());
    // A tube that goes on over its foot rolls out truly nowhere.
    if (!laid && !strip.empty())
        laid = take_chart(patch, not_flat, surface::relax_chart(patch.mesh, strip));
    if (!laid) return tl::unexpected(laid.error());
    patch.behind = std::make_shared<surface::CarriedSurface>(
        cropped.carrier, std::move(assembly.anchors), sign, std::move(winding));
    surface::finish_patch(patch);
    return std::move(patch);
}

}  // namespace tearline::patch

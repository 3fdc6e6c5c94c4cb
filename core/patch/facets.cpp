#include "core/patch/facets.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/tolerances.h"
#include "core/patch/tolerances.h"

namespace tearline::patch {
namespace {

/// [-] a facet is slender when it is so many times longer than high: exports leave them along
/// straight edges, never across a bend that they follow.
constexpr double slender_shape = 100.0;

/// [-] a facet is small beside another when that has over so many times its area.
constexpr double small_beside = 16.0;

bool is_slender(const std::array<Vec3, 3>& p) {
    const double longest =
        std::max({(p[1] - p[0]).norm(), (p[2] - p[1]).norm(), (p[0] - p[2]).norm()});
    return longest * longest > slender_shape * (p[1] - p[0]).cross(p[2] - p[0]).norm();
}

}  // namespace

Facets::Facets(remesh::RemeshMesh& mesh) {
    position_.reserve(mesh.vertex.size());
    for (const auto& v : mesh.vertex) position_.push_back(v.position);
    for (const auto& t : mesh.triangle) corners_.push_back(values(t.vertex));
    find_needles(mesh);
    mark_kept_edges(mesh);
    follow_kept_edges(mesh);
    straighten_slender(mesh);
    rebuild_normals();
    measure_curvature();
}

void Facets::find_needles(const remesh::RemeshMesh& mesh) {
    flat_.resize(mesh.triangle.size());
    Needles::Corners across;
    for (std::size_t t = 0; t < flat_.size(); ++t) {
        flat_[t] = mesh.area_vector(TriangleId(t)).normalized();
        across.push_back(values(mesh.triangle[TriangleId(t)].neighbour));
    }
    needles_ = Needles(position_, corners_, across);
}

/// The flat normal of a facet beside a place; of a needle, its stand-in's.
const Vec3& Facets::flat_normal(std::int32_t t, const Vec3& place) const {
    if (!needles_.is_needle(t)) return flat_[t];
    return flat_[needles_.stand_in(t, position_, corners_, place).triangle.index()];
}

void Facets::mark_kept_edges(remesh::RemeshMesh& mesh) {
    const double cosine = std::cos(tolerance::crease_degrees * std::numbers::pi / 180.0);
    PerId<TriangleId, std::array<bool, 3>> marked(flat_.size());
    for (const TriangleId t : marked.ids())
        for (int i = 0; i < 3; ++i) {
            const TriangleId n = mesh.triangle[t].neighbour[i];
            if (!n.valid()) {
                marked[t][i] = mesh.triangle[t].kept[i].hull_end;
                continue;
            }
            const Vec3 middle = 0.5 * (mesh.point(t, i) + mesh.point(t, i + 1));
            marked[t][i] = flat_normal(t.value, middle).dot(flat_normal(n.value, middle)) < cosine;
        }
    chains_ = remesh::KeptChains(mesh, marked);
}

/// Kept edges run along their chains; facets are not joined across them.
void Facets::follow_kept_edges(const remesh::RemeshMesh& mesh) {
    control_.assign(corners_.size(), {-1, -1, -1});
    for (std::size_t t = 0; t < corners_.size(); ++t) {
        const remesh::RemeshTriangle& facet = mesh.triangle[TriangleId(t)];
        neighbour_.push_back(values(facet.neighbour));
        for (int i = 0; i < 3; ++i) {
            const remesh::KeptEdge& kept = facet.kept[i];
            if (!kept.kept()) continue;
            neighbour_[t][i] = -1;
            const bool onward = kept.from < kept.to;
            const double sign = onward ? 1.0 : -1.0;
            const Vec3 a = chains_.slope_at(kept.edge, kept.from, onward);
            const Vec3 b = chains_.slope_at(kept.edge, kept.to, !onward);
            set_control(t, i,
                        {position_[corners_[t][i]] + sign * a / 3.0,
                         position_[corners_[t][(i + 1) % 3]] - sign * b / 3.0});
        }
    }
}

void Facets::set_control(std::size_t t, int edge, const CurvedTriangle::Edge& points) {
    control_[t][edge] = static_cast<std::int32_t>(given_.size());
    given_.push_back(points);
}

/// Edges of slender facets run straight, for their neighbours too: a hair's turn of the
/// direction at one end of an edge a metre long makes a cubic that leaves the facet by more
/// than the facet leaves the surface.
void Facets::straighten_slender(const remesh::RemeshMesh& mesh) {
    std::vector<bool> slender;
    for (std::size_t t = 0; t < corners_.size(); ++t)
        slender.push_back(is_slender(places(static_cast<std::int32_t>(t))));
    for (std::size_t t = 0; t < corners_.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            const std::int32_t across = mesh.triangle[TriangleId(t)].neighbour[i].value;
            const bool beside = slender[t] || (across >= 0 && slender[across]);
            if (!beside || control_[t][i] >= 0) continue;
            const Vec3& a = position_[corners_[t][i]];
            const Vec3& b = position_[corners_[t][(i + 1) % 3]];
            set_control(t, i, {(2.0 * a + b) / 3.0, (a + 2.0 * b) / 3.0});
        }
}

/// Normals at the corners, each from the facets on its own side of the creases. Where a flat or a
/// tube runs into a fillet, the fillet's first facet lies half its turn off the common tangent, the
/// long facet hardly: facets that are small beside the largest are no witnesses.
void Facets::rebuild_normals() {
    std::vector<std::array<bool, 3>> done(corners_.size(), {false, false, false});
    normal_.resize(corners_.size());
    std::vector<double> area;
    for (std::size_t t = 0; t < corners_.size(); ++t) {
        const std::array<Vec3, 3> p = places(static_cast<std::int32_t>(t));
        area.push_back((p[1] - p[0]).cross(p[2] - p[0]).norm());
    }
    std::vector<FacetCorner> sector, witness;
    for (std::size_t t = 0; t < corners_.size(); ++t)
        for (int i = 0; i < 3; ++i) {
            if (done[t][i]) continue;
            smooth_sector(static_cast<std::int32_t>(t), i, sector);
            const bool all_needles =
                std::all_of(sector.begin(), sector.end(),
                            [&](const FacetCorner& c) { return needles_.is_needle(c.facet); });
            witness = sector;
            if (!all_needles)
                std::erase_if(witness,
                              [&](const FacetCorner& c) { return needles_.is_needle(c.facet); });
            double largest = 0.0;
            for (const FacetCorner& c : witness) largest = std::max(largest, area[c.facet]);
            Vec3 sum = Vec3::Zero();
            for (const FacetCorner& c : witness) {
                if (area[c.facet] * small_beside < largest) continue;
                const Vec3& p = position_[corners_[c.facet][c.corner]];
                const Vec3 a = position_[corners_[c.facet][(c.corner + 1) % 3]] - p;
                const Vec3 b = position_[corners_[c.facet][(c.corner + 2) % 3]] - p;
                sum += a.cross(b) / (a.squaredNorm() * b.squaredNorm());
            }
            Vec3 n = sum.normalized();
            if (!n.allFinite()) n = flat_[t];
            for (const FacetCorner& c : sector) {
                normal_[c.facet][c.corner] = n;
                done[c.facet][c.corner] = true;
            }
        }
    // Corners of needles too, so that feet are looked for along the right normals.
    for (std::size_t t = 0; t < corners_.size(); ++t)
        if (needles_.is_needle(static_cast<std::int32_t>(t)))
            for (int i = 0; i < 3; ++i) {
                Vec3 corner = Vec3::Zero();
                corner[i] = 1.0;
                normal_[t][i] = normal(static_cast<std::int32_t>(t), corner);
            }
}

/// The corners round a vertex that are reached without crossing a kept edge.
void Facets::smooth_sector(std::int32_t t, int corner, std::vector<FacetCorner>& out) const {
    out.clear();
    const std::int32_t v = corners_[t][corner];
    const auto corner_in = [&](std::int32_t f) {
        const auto& c = corners_[f];
        return c[0] == v ? 0 : c[1] == v ? 1 : 2;
    };
    std::int32_t f = t;
    do {
        const int k = corner_in(f);
        out.push_back({f, k});
        f = neighbour_[f][(k + 2) % 3];
    } while (f >= 0 && f != t);
    if (f == t) return;
    for (f = neighbour_[t][corner]; f >= 0;) {
        const int k = corner_in(f);
        out.push_back({f, k});
        f = neighbour_[f][k];
    }
}

/// Principal curvatures at the vertices: how the normals turn along the facets' edges.
void Facets::measure_curvature() {
    std::vector<std::array<double, 3>> sum(position_.size(), {0, 0, 0});  // min, max, weight
    for (std::size_t t = 0; t < corners_.size(); ++t) {
        if (needles_.is_needle(static_cast<std::int32_t>(t))) continue;
        const auto& c = corners_[t];
        const auto& n = normal_[t];
        const Vec3 e1 = position_[c[1]] - position_[c[0]];
        const Vec3 e2 = position_[c[2]] - position_[c[0]];
        const double area = e1.cross(e2).norm();
        if (!(area > 0.0)) continue;
        const Vec3 x = e1.normalized();
        const Vec3 y = e1.cross(e2).normalized().cross(x);
        Eigen::Matrix2d e;
        e << e1.dot(x), e2.dot(x), e1.dot(y), e2.dot(y);
        const Vec3 d1 = n[1] - n[0];
        const Vec3 d2 = n[2] - n[0];
        Eigen::Matrix2d d;
        d << d1.dot(x), d2.dot(x), d1.dot(y), d2.dot(y);
        const Eigen::Matrix2d s = d * e.inverse();
        const double mean = 0.5 * s.trace();
        const double twist = 0.5 * (s(0, 1) + s(1, 0));
        const double root = std::hypot(0.5 * (s(0, 0) - s(1, 1)), twist);
        for (const std::int32_t v : c) {
            sum[v][0] += area * (mean - root);
            sum[v][1] += area * (mean + root);
            sum[v][2] += area;
        }
    }
    curvature_.reserve(sum.size());
    for (const auto& s : sum)
        curvature_.push_back(s[2] > 0.0 ? Vec2(s[0] / s[2], s[1] / s[2]) : Vec2(0, 0));
}

CurvedTriangle Facets::curved(std::int32_t t) const {
    const std::array<Vec3, 3> corner = places(t);
    const auto& n = normal_[t];
    std::array<CurvedTriangle::Edge, 3> edge;
    for (int i = 0; i < 3; ++i) {
        const int j = (i + 1) % 3;
        edge[i] = control_[t][i] >= 0 ? given_[control_[t][i]]
                                      : edge_between(corner[i], n[i], corner[j], n[j]);
    }
    return {corner, edge};
}

Vec3 Facets::normal(std::int32_t t, const Vec3& w) const {
    const std::array<Vec3, 3> corner = places(t);
    if (needles_.is_needle(t)) {
        Vec3 place = Vec3::Zero();
        for (int i = 0; i < 3; ++i) place += w[i] * corner[i];
        const surface::NearestTriangle near = needles_.stand_in(t, position_, corners_, place);
        return normal(near.triangle.value, near.weights);
    }
    for (int i = 0; i < 3; ++i)
        if (w[i] == 1.0) return normal_[t][i];
    return turning_normal(corner, normal_[t], w);
}

Vec2 Facets::curvature(std::int32_t t, const Vec3& weights, const Vec3& place) const {
    Vec3 inside = weights.cwiseMax(0.0) / weights.cwiseMax(0.0).sum();
    if (needles_.is_needle(t)) {
        const surface::NearestTriangle near = needles_.stand_in(t, position_, corners_, place);
        t = near.triangle.value;
        inside = near.weights;
    }
    Vec2 sum(0, 0);
    for (int i = 0; i < 3; ++i) sum += inside[i] * curvature_[corners_[t][i]];
    return sum;
}

}  // namespace tearline::patch

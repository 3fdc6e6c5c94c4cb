#include "core/patch/mesh_carrier.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/base/tolerances.h"
#include "core/patch/needles.h"
#include "core/patch/tolerances.h"
#include "core/remesh/kept_chains.h"
#include "core/surface/patch_index.h"

namespace tearline::patch {
namespace {

/// A facet as it was read, with what its curved triangle needs.
struct Facet {
    std::array<std::int32_t, 3> vertex;
    std::array<std::int32_t, 3> neighbour;  ///< across edge i -> i+1, -1 at rim and creases
    std::array<Vec3, 3> normal;             ///< at its corners, its own side of a crease
    std::array<std::int32_t, 3> control{-1, -1, -1};  ///< along kept edges
};

/// A cubic triangle: control points by the two corners they lie between.
struct CurvedTriangle {
    std::array<Vec3, 3> corner;
    std::array<std::array<Vec3, 2>, 3> edge;  ///< edge i -> i+1: near i, near i+1
    Vec3 middle;

    [[nodiscard]] Vec3 at(const Vec3& w) const {
        Vec3 p = 6.0 * w[0] * w[1] * w[2] * middle;
        for (int i = 0; i < 3; ++i) {
            const double a = w[i];
            const double b = w[(i + 1) % 3];
            p += a * a * a * corner[i] + 3.0 * a * b * (a * edge[i][0] + b * edge[i][1]);
        }
        return p;
    }
    /// Derivative by the weight of one corner.
    [[nodiscard]] Vec3 by(int k, const Vec3& w) const {
        const int n = (k + 1) % 3;
        const int m = (k + 2) % 3;
        return 3.0 * w[k] * w[k] * corner[k] +
               3.0 * w[n] * (2.0 * w[k] * edge[k][0] + w[n] * edge[k][1]) +
               3.0 * w[m] * (w[m] * edge[m][0] + 2.0 * w[k] * edge[m][1]) +
               6.0 * w[n] * w[m] * middle;
    }
};

/// [-] a facet is slender when it is so many times longer than high: exports leave them along
/// straight edges, never across a bend that they follow.
constexpr double slender_shape = 100.0;

bool is_slender(const std::array<Vec3, 3>& p) {
    const double longest =
        std::max({(p[1] - p[0]).norm(), (p[2] - p[1]).norm(), (p[0] - p[2]).norm()});
    return longest * longest > slender_shape * (p[1] - p[0]).cross(p[2] - p[0]).norm();
}

Vec3 edge_control(const Vec3& p, const Vec3& q, const Vec3& n) {
    return (2.0 * p + q - (q - p).dot(n) * n) / 3.0;
}

class MeshCarrier final : public surface::Carrier {
public:
    explicit MeshCarrier(remesh::RemeshMesh& mesh) {
        position_.reserve(mesh.vertex.size());
        for (const auto& v : mesh.vertex) position_.push_back(v.position);
        for (const auto& t : mesh.triangle) corners_.push_back(t.vertex);
        find_needles(mesh);
        mark_kept_edges(mesh);
        facet_.resize(mesh.triangle.size());
        for (std::size_t t = 0; t < facet_.size(); ++t) {
            facet_[t].vertex = mesh.triangle[t].vertex;
            for (int i = 0; i < 3; ++i) {
                const remesh::RemeshTriangle& triangle = mesh.triangle[t];
                const remesh::KeptEdge& kept = triangle.kept[i];
                facet_[t].neighbour[i] = kept.kept() ? -1 : triangle.neighbour[i];
                if (!kept.kept()) continue;
                const bool onward = kept.from < kept.to;
                const Vec3 a = chains_.slope_at(kept.edge, kept.from, onward);
                const Vec3 b = chains_.slope_at(kept.edge, kept.to, !onward);
                const double sign = onward ? 1.0 : -1.0;
                facet_[t].control[i] = static_cast<std::int32_t>(control_.size());
                control_.push_back({position_[triangle.vertex[i]] + sign * a / 3.0,
                                    position_[triangle.vertex[(i + 1) % 3]] - sign * b / 3.0});
            }
        }
        straighten_slender(mesh);
        rebuild_normals(mesh);
        // Corners of needles too, so that feet are looked for along the right normals.
        for (std::size_t t = 0; t < facet_.size(); ++t)
            if (needles_.is_needle(static_cast<std::int32_t>(t)))
                for (int i = 0; i < 3; ++i) {
                    Vec3 corner = Vec3::Zero();
                    corner[i] = 1.0;
                    facet_[t].normal[i] = normal(static_cast<std::int32_t>(t), corner);
                }
        measure_curvature();
    }

    [[nodiscard]] surface::Carried carry(const surface::Anchor& start,
                                         const Vec3& point) const override {
        const auto [t, w] = walk_to(start.face, weights(start), point);
        surface::Carried walked = on_curved(t, w, point);
        if (!(w.minCoeff() < 0.0)) return walked;
        // Stopped at a crease or lost: a facet that is clearly nearer is taken instead.
        const double off = (walked.position - point).norm();
        if (!(off > tolerance::foot)) return walked;
        // Most meshes never need the tree. Carriers serve one thread at a time, as CAD faces do.
        if (tree_.node.empty()) tree_ = surface::build_box_tree(position_, corners_);
        const surface::NearestTriangle found =
            surface::nearest_triangle(tree_, position_, corners_, point);
        if (!(off > lost * found.distance + tolerance::weld)) return walked;
        const auto [n, v] = walk_to(found.triangle, found.weights, point);
        surface::Carried near = on_curved(n, v, point);
        return (near.position - point).norm() < off ? near : walked;
    }

    [[nodiscard]] surface::Anchor between(const std::array<surface::Anchor, 3>& corner,
                                          const Vec3& weights) const override {
        Eigen::Index most = 0;
        weights.maxCoeff(&most);
        return corner[static_cast<std::size_t>(most)];
    }

    [[nodiscard]] bool same(const surface::Anchor& a, const surface::Anchor& b) const override {
        if (a.face == b.face && a.uv == b.uv) return true;
        return normal_at(a).dot(normal_at(b)) > 1.0 - tolerance::same_normal;
    }

    [[nodiscard]] Vec3 edge_point(std::int32_t edge, double parameter) const override {
        return chains_.at(edge, parameter);
    }

private:
    static constexpr int most_walks = 200;
    static constexpr int most_steps = 6;

    static Vec3 weights(const surface::Anchor& a) {
        return {1.0 - a.uv[0] - a.uv[1], a.uv[0], a.uv[1]};
    }

    static constexpr double lost = 2.0;  ///< times the nearest distance is too far for a foot

    /// From facet to facet towards the one whose prism of normals holds the point.
    [[nodiscard]] std::pair<std::int32_t, Vec3> walk_to(std::int32_t t, Vec3 w,
                                                        const Vec3& point) const {
        std::int32_t before = -1;
        for (int walk = 0; walk < most_walks; ++walk) {
            w = phong_foot(facet_[t], point);
            Eigen::Index worst = 0;
            if (!(w.minCoeff(&worst) < -tolerance::barycentric_slack)) break;
            // Over the edge that faces the corner with the least weight, else the other one.
            std::int32_t next = facet_[t].neighbour[(worst + 1) % 3];
            if (next < 0 || next == before)
                next = second_way(facet_[t], w, static_cast<int>(worst));
            if (next < 0 || next == before) break;
            before = t;
            t = next;
        }
        return {t, w};
    }

    [[nodiscard]] Vec3 normal_at(const surface::Anchor& a) const {
        return normal(a.face, weights(a));
    }

    /// The other edge that the point lies beyond, if any.
    static std::int32_t second_way(const Facet& f, const Vec3& w, int worst) {
        for (int k = 0; k < 3; ++k)
            if (k != worst && w[k] < -tolerance::barycentric_slack) return f.neighbour[(k + 1) % 3];
        return -1;
    }

    /// Clusters of needles end at edges that turn more than needles' own normals waver.
    void find_needles(const remesh::RemeshMesh& mesh) {
        flat_.resize(mesh.triangle.size());
        for (std::size_t t = 0; t < flat_.size(); ++t)
            flat_[t] = mesh.area_vector(static_cast<std::int32_t>(t)).normalized();
        constexpr double waver_degrees = 45.0;
        const double cosine = std::cos(waver_degrees * std::numbers::pi / 180.0);
        Needles::Corners across;
        for (std::size_t t = 0; t < flat_.size(); ++t) {
            across.push_back(mesh.triangle[t].neighbour);
            for (std::int32_t& n : across.back())
                if (n >= 0 && flat_[t].dot(flat_[n]) < cosine) n = -1;
        }
        needles_ = Needles(position_, corners_, across);
    }

    /// The flat normal of a facet beside a place; of a needle, its stand-in's.
    [[nodiscard]] const Vec3& flat_normal(std::int32_t t, const Vec3& place) const {
        if (!needles_.is_needle(t)) return flat_[t];
        return flat_[needles_.stand_in(t, position_, corners_, place).triangle];
    }

    /// Edges of slender facets run straight, for their neighbours too: a hair's turn of the
    /// direction at one end of an edge a metre long makes a cubic that leaves the facet by more
    /// than the facet leaves the surface.
    void straighten_slender(const remesh::RemeshMesh& mesh) {
        std::vector<bool> slender;
        for (const auto& v : corners_)
            slender.push_back(is_slender({position_[v[0]], position_[v[1]], position_[v[2]]}));
        for (std::size_t t = 0; t < facet_.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                const std::int32_t across = mesh.triangle[t].neighbour[i];
                const bool beside = slender[t] || (across >= 0 && slender[across]);
                if (!beside || facet_[t].control[i] >= 0) continue;
                const Vec3& a = position_[facet_[t].vertex[i]];
                const Vec3& b = position_[facet_[t].vertex[(i + 1) % 3]];
                facet_[t].control[i] = static_cast<std::int32_t>(control_.size());
                control_.push_back({(2.0 * a + b) / 3.0, (a + 2.0 * b) / 3.0});
            }
    }

    void mark_kept_edges(remesh::RemeshMesh& mesh) {
        const double cosine = std::cos(tolerance::crease_degrees * std::numbers::pi / 180.0);
        std::vector<std::array<bool, 3>> marked(flat_.size(), {false, false, false});
        for (std::size_t t = 0; t < flat_.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                const std::int32_t n = mesh.triangle[t].neighbour[i];
                if (n < 0) {
                    marked[t][i] = mesh.triangle[t].kept[i].hull_end;
                    continue;
                }
                const auto& v = mesh.triangle[t].vertex;
                const Vec3 middle = 0.5 * (position_[v[i]] + position_[v[(i + 1) % 3]]);
                marked[t][i] =
                    flat_normal(static_cast<std::int32_t>(t), middle).dot(flat_normal(n, middle)) <
                    cosine;
            }
        chains_ = remesh::KeptChains(mesh, marked);
    }

    /// Normals at the corners, each from the facets on its own side of the creases.
    void rebuild_normals(const remesh::RemeshMesh& mesh) {
        std::vector<std::array<bool, 3>> done(facet_.size(), {false, false, false});
        std::vector<remesh::Corner> sector;
        for (std::size_t t = 0; t < facet_.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                if (done[t][i]) continue;
                smooth_sector(static_cast<std::int32_t>(t), i, sector);
                Vec3 sum = Vec3::Zero();
                const bool all_needles = std::all_of(
                    sector.begin(), sector.end(),
                    [&](const remesh::Corner& c) { return needles_.is_needle(c.triangle); });
                for (const remesh::Corner& c : sector) {
                    if (!all_needles && needles_.is_needle(c.triangle)) continue;
                    const Vec3& p = position_[facet_[c.triangle].vertex[c.corner]];
                    const Vec3 a = position_[facet_[c.triangle].vertex[(c.corner + 1) % 3]] - p;
                    const Vec3 b = position_[facet_[c.triangle].vertex[(c.corner + 2) % 3]] - p;
                    sum += a.cross(b) / (a.squaredNorm() * b.squaredNorm());
                }
                Vec3 n = sum.normalized();
                if (!n.allFinite()) n = mesh.area_vector(static_cast<std::int32_t>(t)).normalized();
                for (const remesh::Corner& c : sector) {
                    facet_[c.triangle].normal[c.corner] = n;
                    done[c.triangle][c.corner] = true;
                }
            }
    }

    /// The corners round a vertex that are reached without crossing a kept edge.
    void smooth_sector(std::int32_t t, int corner, std::vector<remesh::Corner>& out) const {
        out.clear();
        const std::int32_t v = facet_[t].vertex[corner];
        const auto corner_in = [&](std::int32_t f) {
            const auto& c = facet_[f].vertex;
            return c[0] == v ? 0 : c[1] == v ? 1 : 2;
        };
        std::int32_t f = t;
        do {
            const int k = corner_in(f);
            out.push_back({f, k});
            f = facet_[f].neighbour[(k + 2) % 3];
        } while (f >= 0 && f != t);
        if (f == t) return;
        for (f = facet_[t].neighbour[corner]; f >= 0;) {
            const int k = corner_in(f);
            out.push_back({f, k});
            f = facet_[f].neighbour[k];
        }
    }

    /// Principal curvatures at the vertices: how the normals turn along the facets' edges.
    void measure_curvature() {
        std::vector<std::array<double, 3>> sum(position_.size(), {0, 0, 0});  // min, max, weight
        for (std::size_t t = 0; t < facet_.size(); ++t) {
            if (needles_.is_needle(static_cast<std::int32_t>(t))) continue;
            const Facet& f = facet_[t];
            const Vec3 e1 = position_[f.vertex[1]] - position_[f.vertex[0]];
            const Vec3 e2 = position_[f.vertex[2]] - position_[f.vertex[0]];
            const double area = e1.cross(e2).norm();
            if (!(area > 0.0)) continue;
            const Vec3 x = e1.normalized();
            const Vec3 y = e1.cross(e2).normalized().cross(x);
            Eigen::Matrix2d e;
            e << e1.dot(x), e2.dot(x), e1.dot(y), e2.dot(y);
            const Vec3 d1 = f.normal[1] - f.normal[0];
            const Vec3 d2 = f.normal[2] - f.normal[0];
            Eigen::Matrix2d d;
            d << d1.dot(x), d2.dot(x), d1.dot(y), d2.dot(y);
            const Eigen::Matrix2d s = d * e.inverse();
            const double mean = 0.5 * s.trace();
            const double twist = 0.5 * (s(0, 1) + s(1, 0));
            const double root = std::hypot(0.5 * (s(0, 0) - s(1, 1)), twist);
            for (const std::int32_t v : f.vertex) {
                sum[v][0] += area * (mean - root);
                sum[v][1] += area * (mean + root);
                sum[v][2] += area;
            }
        }
        curvature_.reserve(sum.size());
        for (const auto& s : sum)
            curvature_.push_back(s[2] > 0.0 ? Vec2(s[0] / s[2], s[1] / s[2]) : Vec2(0, 0));
    }

    /// Weights of the place whose flat point, moved along its turning normal, is `point`.
    [[nodiscard]] Vec3 phong_foot(const Facet& f, const Vec3& point) const {
        double height = 0.0;
        Vec3 w(1, 0, 0);
        for (int step = 0; step < 3; ++step) {
            std::array<Vec3, 3> c;
            for (int i = 0; i < 3; ++i) c[i] = position_[f.vertex[i]] + height * f.normal[i];
            const Vec3 n = (c[1] - c[0]).cross(c[2] - c[0]);
            const double size = n.squaredNorm();
            if (!(size > 0.0)) break;
            w[1] = (point - c[0]).cross(c[2] - c[0]).dot(n) / size;
            w[2] = (c[1] - c[0]).cross(point - c[0]).dot(n) / size;
            w[0] = 1.0 - w[1] - w[2];
            const double off = (point - c[0]).dot(n) / std::sqrt(size);
            height += off;
            if (std::abs(off) < tolerance::foot) break;
        }
        return w;
    }

    [[nodiscard]] CurvedTriangle curved(const Facet& f) const {
        CurvedTriangle c;
        for (int i = 0; i < 3; ++i) c.corner[i] = position_[f.vertex[i]];
        Vec3 edges = Vec3::Zero();
        for (int i = 0; i < 3; ++i) {
            const int j = (i + 1) % 3;
            if (f.control[i] >= 0) {
                c.edge[i] = control_[f.control[i]];
            } else {
                c.edge[i] = {edge_control(c.corner[i], c.corner[j], f.normal[i]),
                             edge_control(c.corner[j], c.corner[i], f.normal[j])};
            }
            edges += c.edge[i][0] + c.edge[i][1];
        }
        c.middle = edges / 4.0 - (c.corner[0] + c.corner[1] + c.corner[2]) / 6.0;
        return c;
    }

    /// Normal at a place of a facet; in a needle that of the sound facet nearest to the place.
    [[nodiscard]] Vec3 normal(std::int32_t t, const Vec3& w) const {
        const Facet& f = facet_[t];
        if (needles_.is_needle(t)) {
            Vec3 place = Vec3::Zero();
            for (int i = 0; i < 3; ++i) place += w[i] * position_[f.vertex[i]];
            const surface::NearestTriangle near = needles_.stand_in(t, position_, corners_, place);
            return normal(near.triangle, near.weights);
        }
        for (int i = 0; i < 3; ++i)
            if (w[i] == 1.0) return f.normal[i];
        return curved_normal(f, w);
    }

    /// Normal of the curved triangle: quadratic, so that it may turn to and fro along an edge.
    [[nodiscard]] Vec3 curved_normal(const Facet& f, const Vec3& w) const {
        Vec3 n = Vec3::Zero();
        for (int i = 0; i < 3; ++i) {
            const int j = (i + 1) % 3;
            const Vec3 e = position_[f.vertex[j]] - position_[f.vertex[i]];
            const Vec3 both = f.normal[i] + f.normal[j];
            const Vec3 mid = (both - 2.0 * e.dot(both) / e.squaredNorm() * e).normalized();
            n += w[i] * w[i] * f.normal[i] + 2.0 * w[i] * w[j] * mid;
        }
        return n.normalized();
    }

    /// From the flat foot to the point of the curved triangle whose normal meets `point`.
    [[nodiscard]] surface::Carried on_curved(std::int32_t t, Vec3 w, const Vec3& point) const {
        const Facet& f = facet_[t];
        const CurvedTriangle c = curved(f);
        constexpr double outside = -0.1;  // no cubic is followed farther beyond its triangle
        w = w.cwiseMax(outside);
        w /= w.sum();
        surface::Carried out;
        for (int step = 0; step < most_steps; ++step) {
            out.normal = normal(t, w);
            out.position = c.at(w);
            const Vec3 off = point - out.position;
            const Vec3 side = off - off.dot(out.normal) * out.normal;
            if (!(side.norm() > tolerance::foot) || step + 1 == most_steps) break;
            const Vec3 a = c.by(1, w) - c.by(0, w);
            const Vec3 b = c.by(2, w) - c.by(0, w);
            const double aa = a.squaredNorm();
            const double ab = a.dot(b);
            const double bb = b.squaredNorm();
            const double det = aa * bb - ab * ab;
            if (!(det > 0.0)) break;
            const double x = (bb * a.dot(side) - ab * b.dot(side)) / det;
            const double y = (aa * b.dot(side) - ab * a.dot(side)) / det;
            w = (w + Vec3(-x - y, x, y)).cwiseMax(outside);
            w /= w.sum();
        }
        out.anchor = {t, Vec2(w[1], w[2])};
        Vec3 inside = w.cwiseMax(0.0) / w.cwiseMax(0.0).sum();
        std::array<std::int32_t, 3> told_by = f.vertex;
        if (needles_.is_needle(t)) {
            const surface::NearestTriangle near =
                needles_.stand_in(t, position_, corners_, out.position);
            told_by = corners_[near.triangle];
            inside = near.weights;
        }
        for (int i = 0; i < 3; ++i) {
            out.curvature_min += inside[i] * curvature_[told_by[i]][0];
            out.curvature_max += inside[i] * curvature_[told_by[i]][1];
        }
        return out;
    }

    std::vector<Vec3> position_;
    std::vector<Facet> facet_;
    std::vector<std::array<Vec3, 2>> control_;
    std::vector<Vec2> curvature_;  ///< per vertex: least, greatest
    remesh::KeptChains chains_;
    std::vector<Vec3> flat_;  ///< normals of the facets
    Needles needles_;
    std::vector<std::array<std::int32_t, 3>> corners_;
    mutable surface::BoxTree tree_;
};

}  // namespace

std::shared_ptr<const surface::Carrier> make_mesh_carrier(remesh::RemeshMesh& mesh) {
    return std::make_shared<MeshCarrier>(mesh);
}

}  // namespace tearline::patch

#include "core/parallel/parallel_surface.h"

#include <Eigen/Geometry>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/parallel/crease_sheets.h"
#include "core/parallel/cut_strips.h"
#include "core/parallel/tolerances.h"
#include "core/parallel/trim_corner.h"
#include "core/parallel/trim_strip.h"
#include "core/surface/mesh_parts.h"

namespace tearline::parallel {
namespace {

/// One copy of a vertex: its own sheet's base point, and where it goes.
struct Copy {
    Vec3 base{0, 0, 0};
    Vec3 normal{0, 0, 1};
    Vec2 chart{0, 0};
    double depth = 0.0;
    std::int32_t vertex = -1;  ///< of the parallel mesh
};

/// Puts the parallel surface together from cut sheets, ridges, mitres and arcs.
class Assembly {
public:
    Assembly(const BaseMesh& base, const DepthAtChart& depth, const CreaseSheets& sheets,
             const std::vector<TrimStrip>& strips, const std::vector<TrimCorner>& corners,
             std::vector<std::vector<CreaseWay>> ways)
        : base_(base),
          depth_(depth),
          sheets_(sheets),
          strips_(strips),
          corners_(corners),
          ways_(std::move(ways)),
          cut_(cut_strips(base, sheets, strips, ways_, corners)) {}

    Result<ParallelSurface> run() {
        place_copies();
        weld_corners();
        weld_ridges();
        weld_mitres();
        number_the_rest();
        add_triangles();
        for (std::size_t l = 0; l < sheets_.lines.size(); ++l) open_arcs(l);
        drop_unused();
        part_pinched();
        tilt_normals();
        if (const auto folded = fold()) return *folded;
        mark_creases();
        surface::set_arc_lengths(out_.mesh);
        return std::move(out_);
    }

private:
    std::int32_t add_vertex(const Vec3& lay, const Vec3& base, const Vec2& chart) {
        out_.mesh.position.push_back(lay);
        out_.base.push_back(base);
        out_.chart.push_back(chart);
        return static_cast<std::int32_t>(out_.base.size() - 1);
    }

    /// Base point, normal and depth of every copy; on a strip's edge from the ridge there.
    void place_copies() {
        copies_.resize(cut_.chart.size());
        ridge_.resize(cut_.chart.size());
        for (std::size_t c = 0; c < copies_.size(); ++c) {
            Copy& copy = copies_[c];
            const bool crease = c < sheets_.origin.size();
            if (cut_.corner[c]) {
                const OnCorner& on = *cut_.corner[c];
                const SheetFoot& foot = corners_[on.corner].feet[on.foot].foot;
                copy = {foot.point.position, foot.point.normal, foot.chart, 0.0, -1};
            } else if (cut_.on[c] &&
                       !(crease && is_tip(*cut_.on[c], static_cast<std::int32_t>(c)))) {
                const OnStrip& on = *cut_.on[c];
                ridge_[c] = strips_[on.strip].ridge_point(base_.at, depth_, on.along);
                const SheetFoot& foot = on.side == Side::left ? ridge_[c]->left : ridge_[c]->right;
                copy = {foot.point.position, foot.point.normal, foot.chart, 0.0, -1};
            } else {
                const std::int32_t v = sheets_.origin[c];
                copy = {base_.mesh.position[v], sheets_.normal[c], base_.chart[v], 0.0, -1};
            }
            copy.depth = depth_(copy.chart);
        }
    }

    /// Whether a vertex on a strip's edge is where the strip closes.
    [[nodiscard]] bool is_tip(const OnStrip& on, std::int32_t copy) const {
        const TrimStrip& strip = strips_[on.strip];
        const auto& line = sheets_.lines[strip.line].vertices;
        for (const std::size_t i : {strip.first, strip.last})
            if (ways_[strip.line][i] != CreaseWay::trimmed && !is_corner(line[i].vertex) &&
                (line[i].left == copy || line[i].right == copy))
                return true;
        return false;
    }

    [[nodiscard]] bool is_corner(std::int32_t vertex) const {
        return std::any_of(corners_.begin(), corners_.end(),
                           [&](const TrimCorner& corner) { return corner.vertex == vertex; });
    }

    /// One vertex for all sheets' copies of each corner; its base point is where the creases meet.
    void weld_corners() {
        std::vector<std::int32_t> made(corners_.size(), -1);
        for (std::size_t c = 0; c < copies_.size(); ++c) {
            if (!cut_.corner[c]) continue;
            const auto k = static_cast<std::size_t>(cut_.corner[c]->corner);
            const std::int32_t v = corners_[k].vertex;
            if (made[k] < 0)
                made[k] = add_vertex(corners_[k].position, base_.mesh.position[v], base_.chart[v]);
            copies_[c].vertex = made[k];
        }
    }

    /// One vertex for both copies of each ridge point; its base point is the crease's.
    void weld_ridges() {
        for (const auto& [l, r] : cut_.pairs) {
            if (cut_.corner[l] || cut_.corner[r]) {
                copies_[l].vertex = copies_[r].vertex = copies_[cut_.corner[l] ? l : r].vertex;
                continue;
            }
            if (!ridge_[l]) continue;  // a tip: mitred with the other crease vertices
            const OnStrip& on = *cut_.on[l];
            const TrimStrip& strip = strips_[on.strip];
            copies_[l].vertex = copies_[r].vertex =
                add_vertex(ridge_[l]->position, strip.section_at(on.along).point,
                           strip.centre_point(on.along));
        }
    }

    /// One vertex for all sheets' copies of a crease vertex that is neither trimmed nor opened:
    /// where their offset planes meet.
    void weld_mitres() {
        std::vector<std::vector<std::int32_t>> of(base_.mesh.position.size());
        for (std::size_t c = 0; c < sheets_.origin.size(); ++c)
            of[sheets_.origin[c]].push_back(static_cast<std::int32_t>(c));
        for (std::size_t l = 0; l < sheets_.lines.size(); ++l)
            for (std::size_t i = 0; i < ways_[l].size(); ++i) {
                if (ways_[l][i] != CreaseWay::mitre) continue;
                const std::int32_t v = sheets_.lines[l].vertices[i].vertex;
                if (copies_[of[v].front()].vertex >= 0 || is_corner(v)) continue;
                const std::int32_t made =
                    add_vertex(mitre(v, of[v]), base_.mesh.position[v], base_.chart[v]);
                for (const std::int32_t c : of[v]) copies_[c].vertex = made;
            }
    }

    /// The point nearest to v at which every sheet through v has its depth.
    [[nodiscard]] Vec3 mitre(std::int32_t v, const std::vector<std::int32_t>& sheet_copies) const {
        Eigen::MatrixX3d normals(static_cast<Eigen::Index>(sheet_copies.size()), 3);
        for (std::size_t k = 0; k < sheet_copies.size(); ++k)
            normals.row(static_cast<Eigen::Index>(k)) = copies_[sheet_copies[k]].normal.transpose();
        Eigen::JacobiSVD<Eigen::MatrixXd> solver(normals,
                                                 Eigen::ComputeThinU | Eigen::ComputeThinV);
        solver.setThreshold(tolerance::flat_crease);
        const Eigen::VectorXd depths =
            Eigen::VectorXd::Constant(normals.rows(), -copies_[sheet_copies.front()].depth);
        return base_.mesh.position[v] + Vec3(solver.solve(depths));
    }

    void number_the_rest() {
        for (std::size_t c = 0; c < copies_.size(); ++c) {
            Copy& copy = copies_[c];
            if (copy.vertex >= 0) continue;
            const Vec3 lay =
                ridge_[c] ? ridge_[c]->position : Vec3(copy.base - copy.depth * copy.normal);
            copy.vertex = add_vertex(lay, copy.base, copy.chart);
        }
    }

    void add_triangle(const std::array<std::int32_t, 3>& vertices,
                      const std::array<Vec3, 3>& normals, const std::array<Vec2, 3>& chart,
                      bool arc) {
        if (vertices[0] == vertices[1] || vertices[1] == vertices[2] || vertices[2] == vertices[0])
            return;
        out_.mesh.triangle.push_back(vertices);
        out_.mesh.corner_normal.push_back(normals);
        out_.corner_chart.push_back(chart);
        out_.arc.push_back(arc);
    }

    void add_triangles() {
        for (std::size_t t = 0; t < cut_.triangle.size(); ++t) {
            std::array<std::int32_t, 3> v{};
            std::array<Vec3, 3> n;
            std::array<Vec2, 3> chart;
            for (int k = 0; k < 3; ++k) {
                const Copy& copy = copies_[cut_.triangle[t][k]];
                v[k] = copy.vertex;
                const bool moved =
                    ridge_[cut_.triangle[t][k]] || cut_.corner[cut_.triangle[t][k]].has_value();
                n[k] = moved ? copy.normal : cut_.corner_normal[t][k];
                chart[k] = copy.chart;
            }
            const std::size_t before = out_.mesh.triangle.size();
            add_triangle(v, n, chart, false);
            if (out_.mesh.triangle.size() > before) sheet_of_.push_back(cut_.triangle[t]);
        }
    }

    /// A point of an arc round a crease vertex.
    struct ArcPoint {
        std::int32_t vertex;
        Vec3 normal;
    };

    /// The arc at a crease vertex, from the left sheet to the right; one point where it is closed.
    std::vector<ArcPoint> arc_at(const CreaseVertex& v, CreaseWay way, int segments) {
        const Copy& left = copies_[v.left];
        const Copy& right = copies_[v.right];
        if (way != CreaseWay::opened) return {{left.vertex, left.normal}};
        std::vector<ArcPoint> arc{{left.vertex, left.normal}};
        for (int k = 1; k < segments; ++k) {
            const Vec3 axis =
                std::copysign(1.0, v.turn) * left.normal.cross(right.normal).normalized();
            const Vec3 n = Eigen::AngleAxisd(v.turn * k / segments, axis) * left.normal;
            arc.push_back({add_vertex(left.base - left.depth * n, left.base, left.chart), n});
        }
        arc.push_back({right.vertex, right.normal});
        return arc;
    }

    void open_arcs(std::size_t l) {
        const CreaseLine& line = sheets_.lines[l];
        int segments = 1;
        for (std::size_t i = 0; i < line.vertices.size(); ++i)
            if (ways_[l][i] == CreaseWay::opened)
                segments =
                    std::max(segments, static_cast<int>(std::ceil(std::abs(line.vertices[i].turn) /
                                                                  tolerance::arc_segment)));
        std::vector<ArcPoint> before = arc_at(line.vertices[0], ways_[l][0], segments);
        for (std::size_t i = 1; i < line.vertices.size(); ++i) {
            std::vector<ArcPoint> after = arc_at(line.vertices[i], ways_[l][i], segments);
            for (int k = 0; k < segments && before.size() + after.size() > 2; ++k)
                fill_arc(line.vertices[i - 1], line.vertices[i], before, after, k);
            before = std::move(after);
        }
    }

    /// Two triangles between segment k of two arcs; one where either is a single point.
    void fill_arc(const CreaseVertex& v, const CreaseVertex& w, const std::vector<ArcPoint>& before,
                  const std::vector<ArcPoint>& after, int k) {
        const auto pick = [](const std::vector<ArcPoint>& arc, int i) {
            return arc[arc.size() > 1 ? static_cast<std::size_t>(i) : 0];
        };
        const auto normal = [&](const std::vector<ArcPoint>& arc, const std::vector<ArcPoint>& wide,
                                int i) {
            return arc.size() > 1 ? pick(arc, i).normal : pick(wide, i).normal;
        };
        const Vec2& cv = base_.chart[v.vertex];
        const Vec2& cw = base_.chart[w.vertex];
        const std::array<ArcPoint, 4> corner{pick(before, k), pick(before, k + 1),
                                             pick(after, k + 1), pick(after, k)};
        const std::array<Vec3, 4> n{normal(before, after, k), normal(before, after, k + 1),
                                    normal(after, before, k + 1), normal(after, before, k)};
        const std::array<Vec2, 4> chart{cv, cv, cw, cw};
        for (const auto& [a, b, c] : {std::array{0, 1, 2}, std::array{0, 2, 3}}) {
            const std::size_t count = out_.mesh.triangle.size();
            add_triangle({corner[a].vertex, corner[b].vertex, corner[c].vertex}, {n[a], n[b], n[c]},
                         {chart[a], chart[b], chart[c]}, true);
            if (out_.mesh.triangle.size() > count) sheet_of_.push_back({-1, -1, -1});
        }
    }

    void drop_unused() {
        std::vector<std::int32_t> renumbered(out_.base.size(), -1);
        std::int32_t count = 0;
        for (const auto& v : out_.mesh.triangle)
            for (const std::int32_t k : v) renumbered[k] = 0;
        for (std::size_t v = 0; v < renumbered.size(); ++v) {
            if (renumbered[v] < 0) continue;
            out_.mesh.position[count] = out_.mesh.position[v];
            out_.base[count] = out_.base[v];
            out_.chart[count] = out_.chart[v];
            renumbered[v] = count++;
        }
        out_.mesh.position.resize(count);
        out_.base.resize(count);
        out_.chart.resize(count);
        for (auto& v : out_.mesh.triangle)
            for (std::int32_t& k : v) k = renumbered[k];
    }

    void part_pinched() {
        const auto before = surface::part_pinched_vertices(out_.mesh);
        for (std::size_t v = out_.base.size(); v < before.size(); ++v) {
            const Vec3 base = out_.base[before[v]];
            const Vec2 chart = out_.chart[before[v]];
            out_.base.push_back(base);
            out_.chart.push_back(chart);
        }
    }

    /// Where the depth varies, normals lean by its gradient over the parallel surface: the normal
    /// of p - d n is along n + grad d (derived; grad taken on the surface at constant depth).
    void tilt_normals() {
        for (std::size_t t = 0; t < out_.mesh.triangle.size(); ++t) {
            const auto& v = out_.mesh.triangle[t];
            auto& n = out_.mesh.corner_normal[t];
            std::array<double, 3> d{};
            for (int k = 0; k < 3; ++k) d[k] = depth_(out_.corner_chart[t][k]);
            if (d[0] == d[1] && d[1] == d[2]) continue;
            const double mean = (d[0] + d[1] + d[2]) / 3.0;
            std::array<Vec3, 3> p;
            for (int k = 0; k < 3; ++k) p[k] = out_.mesh.position[v[k]] + (d[k] - mean) * n[k];
            const Vec3 square = (p[1] - p[0]).cross(p[2] - p[0]);
            if (!(square.squaredNorm() > 0.0)) continue;
            Vec3 gradient(0, 0, 0);
            for (int k = 0; k < 3; ++k)
                gradient += d[k] * square.cross(p[(k + 2) % 3] - p[(k + 1) % 3]);
            gradient /= square.squaredNorm();
            for (Vec3& m : n) m = (m + gradient - gradient.dot(m) * m).normalized();
        }
    }

    /// The refusal for the first triangle that lies upside down at depth.
    [[nodiscard]] std::optional<Result<ParallelSurface>> fold() const {
        for (std::size_t t = 0; t < out_.mesh.triangle.size(); ++t) {
            const auto& v = out_.mesh.triangle[t];
            const auto& n = out_.mesh.corner_normal[t];
            const Vec3& a = out_.mesh.position[v[0]];
            const Vec3& b = out_.mesh.position[v[1]];
            const Vec3& c = out_.mesh.position[v[2]];
            const Vec3 square = (b - a).cross(c - a);
            const double longest = std::max({(b - a).norm(), (c - b).norm(), (a - c).norm()});
            const double area = square.norm();
            if (!(area > tolerance::sliver_height * longest * longest)) continue;
            if (square.dot((n[0] + n[1] + n[2]).normalized()) > tolerance::fold_cosine * area)
                continue;
            const Vec3 p = (out_.base[v[0]] + out_.base[v[1]] + out_.base[v[2]]) / 3.0;
            return no_safe_answer("the surface folds over itself at the ply's depth near (" +
                                      fixed(p.x(), 1) + ", " + fixed(p.y(), 1) + ", " +
                                      fixed(p.z(), 1) +
                                      ") mm: the hull's radius there is smaller than the depth, or "
                                      "creases lie too close together; make the repair shallower, "
                                      "or ease the place",
                                  p);
        }
        return std::nullopt;
    }

    /// Edges whose two triangles belong to different sheets.
    void mark_creases() {
        const auto across = surface::neighbours(out_.mesh);
        out_.crease.resize(out_.mesh.triangle.size(), {false, false, false});
        for (std::size_t t = 0; t < out_.mesh.triangle.size(); ++t)
            for (int i = 0; i < 3; ++i) {
                const std::int32_t n = across[t][i];
                if (n < 0 || out_.arc[t] || out_.arc[n]) continue;
                const auto shares = [&](std::int32_t copy) {
                    const auto& other = sheet_of_[n];
                    return std::find(other.begin(), other.end(), copy) != other.end();
                };
                out_.crease[t][i] = !shares(sheet_of_[t][i]) || !shares(sheet_of_[t][(i + 1) % 3]);
            }
    }

    const BaseMesh& base_;
    const DepthAtChart& depth_;
    const CreaseSheets& sheets_;
    const std::vector<TrimStrip>& strips_;
    const std::vector<TrimCorner>& corners_;
    std::vector<std::vector<CreaseWay>> ways_;
    CutSheets cut_;
    std::vector<Copy> copies_;
    std::vector<std::optional<RidgePoint>> ridge_;       ///< per copy on a strip's edge
    std::vector<std::array<std::int32_t, 3>> sheet_of_;  ///< per triangle: its copies
    ParallelSurface out_;
};

/// What the crease line did to the surface, at the place where it turns most.
CreaseMet crease_met(const BaseMesh& base, const CreaseLine& line, const DepthAtChart& depth,
                     const std::vector<CreaseWay>& ways) {
    std::size_t most = 0;
    for (std::size_t i = 0; i < line.vertices.size(); ++i)
        if (std::abs(line.vertices[i].turn) > std::abs(line.vertices[most].turn)) most = i;
    const CreaseVertex& v = line.vertices[most];
    CreaseMet met;
    met.at = base.mesh.position[v.vertex];
    met.turn = v.turn;
    met.depth = depth(base.chart[v.vertex]);
    met.length = line.vertices.back().along;
    if (ways[most] == CreaseWay::trimmed) met.trimmed = 2.0 * met.depth * std::tan(0.5 * v.turn);
    if (ways[most] == CreaseWay::opened) met.opened = std::abs(met.depth * v.turn);
    return met;
}

Loop2 outline_of(const TrimStrip& strip) {
    Loop2 loop;
    for (const StripNode& node : strip.nodes) loop.push_back(node.ridge.right.chart);
    for (auto node = strip.nodes.rbegin(); node != strip.nodes.rend(); ++node)
        loop.push_back(node->ridge.left.chart);
    return loop;
}

}  // namespace

Result<ParallelSurface> parallel_surface(const BaseMesh& base, const DepthAtChart& depth) {
    const CreaseSheets sheets = take_apart(base.mesh, base.crease);
    std::vector<TrimStrip> strips;
    std::vector<std::vector<CreaseWay>> ways;
    std::vector<CreaseMet> met;
    std::vector<Loop2> trimmed;
    for (const CreaseLine& line : sheets.lines)
        ways.push_back(crease_ways(line, base.chart, depth));
    const std::vector<TrimCorner> corners = trim_corners(base, sheets, ways, depth);
    for (std::size_t l = 0; l < sheets.lines.size(); ++l) {
        auto more = trim_strips(base, sheets, l, ways[l], depth, corners);
        if (!more) return tl::unexpected(more.error());
        for (TrimStrip& strip : *more) {
            trimmed.push_back(outline_of(strip));
            strips.push_back(std::move(strip));
        }
        met.push_back(crease_met(base, sheets.lines[l], depth, ways[l]));
    }
    auto surface = Assembly(base, depth, sheets, strips, corners, std::move(ways)).run();
    if (!surface) return surface;
    surface->creases = std::move(met);
    surface->trimmed = std::move(trimmed);
    return surface;
}

}  // namespace tearline::parallel

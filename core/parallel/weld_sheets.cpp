#include <Eigen/SVD>
#include <algorithm>
#include <span>

#include "core/base/packed_lists.h"
#include "core/parallel/lay_draft.h"
#include "core/parallel/tolerances.h"

namespace tearline::parallel {

LayId LayDraft::add_vertex(const Vec3& lay, const Vec3& base, const Vec2& chart) {
    out.mesh.position.push_back(lay);
    out.base.push_back(base);
    out.chart.push_back(chart);
    return LayId(out.base.size() - 1);
}

void LayDraft::add_triangle(const std::array<LayId, 3>& vertices,
                            const std::array<Vec3, 3>& normals, const std::array<Vec2, 3>& chart,
                            const std::optional<std::array<CopyId, 3>>& on_sheet) {
    if (vertices[0] == vertices[1] || vertices[1] == vertices[2] || vertices[2] == vertices[0])
        return;
    out.mesh.triangle.push_back({vertices[0].value, vertices[1].value, vertices[2].value});
    out.mesh.corner_normal.push_back(normals);
    out.corner_chart.push_back(chart);
    out.arc.push_back(!on_sheet);
    sheet_of.push_back(on_sheet.value_or(std::array<CopyId, 3>()));
}

namespace {

/// Carries the copies to depth and gives those that meet there one vertex.
class Welding {
public:
    explicit Welding(const LayParts& parts) : parts_(parts) {}

    LayDraft run() {
        place_copies();
        weld_corners();
        weld_ridges();
        weld_mitres();
        number_the_rest();
        add_triangles();
        return std::move(draft_);
    }

private:
    /// Base point, normal and depth of every copy; on a strip's edge from the ridge there.
    void place_copies() {
        draft_.copies.resize(parts_.cut.chart.size());
        ridge_.resize(parts_.cut.chart.size());
        const auto stand = [&](LaidCopy& copy, const SheetFoot& foot) {
            copy = {foot.point.position, foot.point.normal, foot.chart, 0.0, {}, true};
        };
        for (const CopyId c : draft_.copies.ids()) {
            LaidCopy& copy = draft_.copies[c];
            const bool of_mesh = c.index() < parts_.sheets.origin.size();
            const auto& on = parts_.cut.on[c];
            if (const auto& corner = parts_.cut.corner[c]) {
                stand(copy, parts_.corners[corner->corner].feet[corner->foot].foot);
            } else if (on && !(of_mesh && is_tip(*on, c))) {
                ridge_[c] =
                    parts_.strips[on->strip].ridge_point(parts_.base.at, parts_.depth, on->along);
                stand(copy, on->side == Side::left ? ridge_[c]->left : ridge_[c]->right);
            } else {
                const std::size_t v = parts_.sheets.origin[c].index();
                copy.base = parts_.base.mesh.position[v];
                copy.normal = parts_.sheets.normal[c];
                copy.chart = parts_.base.chart[v];
            }
            copy.depth = parts_.depth(copy.chart);
        }
    }

    /// Whether a vertex on a strip's edge is where the strip closes.
    [[nodiscard]] bool is_tip(const OnStrip& on, CopyId copy) const {
        const TrimStrip& strip = parts_.strips[on.strip];
        const auto& line = parts_.sheets.lines[strip.line].vertices;
        for (const std::size_t i : {strip.first, strip.last})
            if (parts_.ways[strip.line][i] != CreaseWay::trimmed && !is_corner(line[i].vertex) &&
                (line[i].left == copy || line[i].right == copy))
                return true;
        return false;
    }

    [[nodiscard]] bool is_corner(VertexId vertex) const {
        return std::any_of(parts_.corners.begin(), parts_.corners.end(),
                           [&](const TrimCorner& corner) { return corner.vertex == vertex; });
    }

    /// A new vertex of the surface at depth over a vertex of the mesh.
    LayId add_over(VertexId v, const Vec3& lay) {
        return draft_.add_vertex(lay, parts_.base.mesh.position[v.index()],
                                 parts_.base.chart[v.index()]);
    }

    /// One vertex for all sheets' copies of each corner; its base point is where the creases meet.
    void weld_corners() {
        PerId<CornerId, LayId> made(parts_.corners.size());
        for (const CopyId c : draft_.copies.ids()) {
            if (!parts_.cut.corner[c]) continue;
            const CornerId k = parts_.cut.corner[c]->corner;
            if (!made[k].valid())
                made[k] = add_over(parts_.corners[k].vertex, parts_.corners[k].position);
            draft_.copies[c].vertex = made[k];
        }
    }

    /// One vertex for both copies of each ridge point; its base point is the crease's.
    void weld_ridges() {
        for (const auto& [l, r] : parts_.cut.pairs) {
            LaidCopy &left = draft_.copies[l], &right = draft_.copies[r];
            if (parts_.cut.corner[l] || parts_.cut.corner[r]) {
                left.vertex = right.vertex = (parts_.cut.corner[l] ? left : right).vertex;
                continue;
            }
            if (!ridge_[l]) continue;  // a tip: mitred with the other crease vertices
            const OnStrip& on = *parts_.cut.on[l];
            const TrimStrip& strip = parts_.strips[on.strip];
            left.vertex = right.vertex =
                draft_.add_vertex(ridge_[l]->position, strip.section_at(on.along).point,
                                  strip.centre_point(on.along));
        }
    }

    /// One vertex for all sheets' copies of a crease vertex that is neither trimmed nor opened:
    /// where their offset planes meet.
    void weld_mitres() {
        const PackedLists<VertexId, CopyId> of(parts_.base.mesh.position.size(), [&](auto&& tell) {
            for (const CopyId c : parts_.sheets.origin.ids()) tell(parts_.sheets.origin[c], c);
        });
        for (std::size_t l = 0; l < parts_.sheets.lines.size(); ++l)
            for (std::size_t i = 0; i < parts_.ways[l].size(); ++i) {
                if (parts_.ways[l][i] != CreaseWay::mitre) continue;
                const VertexId v = parts_.sheets.lines[l].vertices[i].vertex;
                if (draft_.copies[of[v].front()].vertex.valid() || is_corner(v)) continue;
                const LayId made = add_over(v, mitre(v, of[v]));
                for (const CopyId c : of[v]) draft_.copies[c].vertex = made;
            }
    }

    /// The point nearest to v at which every sheet through v has its depth.
    [[nodiscard]] Vec3 mitre(VertexId v, std::span<const CopyId> sheet_copies) const {
        Eigen::MatrixX3d normals(static_cast<Eigen::Index>(sheet_copies.size()), 3);
        for (std::size_t k = 0; k < sheet_copies.size(); ++k)
            normals.row(static_cast<Eigen::Index>(k)) =
                draft_.copies[sheet_copies[k]].normal.transpose();
        Eigen::JacobiSVD<Eigen::MatrixXd> solver(normals,
                                                 Eigen::ComputeThinU | Eigen::ComputeThinV);
        solver.setThreshold(tolerance::flat_crease);
        const Eigen::VectorXd depths =
            Eigen::VectorXd::Constant(normals.rows(), -draft_.copies[sheet_copies.front()].depth);
        return parts_.base.mesh.position[v.index()] + Vec3(solver.solve(depths));
    }

    void number_the_rest() {
        const std::size_t most = draft_.out.base.size() + draft_.copies.size();
        draft_.out.mesh.position.reserve(most);
        draft_.out.base.reserve(most);
        draft_.out.chart.reserve(most);
        for (const CopyId c : draft_.copies.ids()) {
            LaidCopy& copy = draft_.copies[c];
            if (copy.vertex.valid()) continue;
            const Vec3 lay =
                ridge_[c] ? ridge_[c]->position : Vec3(copy.base - copy.depth * copy.normal);
            copy.vertex = draft_.add_vertex(lay, copy.base, copy.chart);
        }
    }

    void add_triangles() {
        const std::size_t most = parts_.cut.triangle.size();
        draft_.out.mesh.triangle.reserve(most);
        draft_.out.mesh.corner_normal.reserve(most);
        draft_.out.corner_chart.reserve(most);
        draft_.out.arc.reserve(most);
        draft_.sheet_of.reserve(most);
        for (const TriangleId t : parts_.cut.triangle.ids()) {
            std::array<LayId, 3> v;
            std::array<Vec3, 3> n;
            std::array<Vec2, 3> chart;
            for (int k = 0; k < 3; ++k) {
                const LaidCopy& copy = draft_.copies[parts_.cut.triangle[t][k]];
                v[k] = copy.vertex;
                n[k] = copy.moved ? copy.normal : parts_.cut.corner_normal[t][k];
                chart[k] = copy.chart;
            }
            draft_.add_triangle(v, n, chart, parts_.cut.triangle[t]);
        }
    }

    const LayParts& parts_;
    LayDraft draft_;
    PerId<CopyId, std::optional<RidgePoint>> ridge_;  ///< on a strip's edge
};

}  // namespace

LayDraft weld_sheets(const LayParts& parts) {
    return Welding(parts).run();
}

}  // namespace tearline::parallel

#include "core/parallel/trim_corner.h"

#include <Eigen/SVD>
#include <algorithm>
#include <map>
#include <stdexcept>

#include "core/parallel/tolerances.h"

namespace tearline::parallel {
namespace {

/// An end of a crease line at a vertex where others end too.
struct LineEnd {
    std::size_t line;
    bool at_start;
    bool trimmed;  ///< next to the end
};

std::map<VertexId, std::vector<LineEnd>> inner_ends(
    const CreaseSheets& sheets, const std::vector<std::vector<CreaseWay>>& ways) {
    std::map<VertexId, std::vector<LineEnd>> ends;
    for (std::size_t l = 0; l < sheets.lines.size(); ++l) {
        const CreaseLine& line = sheets.lines[l];
        const std::size_t last = line.vertices.size() - 1;
        if (!line.starts_on_rim)
            ends[line.vertices.front().vertex].push_back(
                {l, true, ways[l][1] == CreaseWay::trimmed});
        if (!line.ends_on_rim)
            ends[line.vertices.back().vertex].push_back(
                {l, false, ways[l][last - 1] == CreaseWay::trimmed});
    }
    return ends;
}

/// The sheets' own points where the lines end.
std::vector<CornerFoot> sheets_round(const BaseMesh& base, const CreaseSheets& sheets,
                                     const std::vector<LineEnd>& ends) {
    std::vector<CornerFoot> feet;
    for (const LineEnd& end : ends) {
        const CreaseLine& line = sheets.lines[end.line];
        const CreaseVertex& v = end.at_start ? line.vertices.front() : line.vertices.back();
        const auto& triangles = end.at_start ? line.sides.front() : line.sides.back();
        const auto add = [&](CopyId copy, TriangleId triangle) {
            const auto known = [&](const CornerFoot& f) { return f.copy == copy; };
            if (std::any_of(feet.begin(), feet.end(), known)) return;
            feet.push_back({copy,
                            {base.chart[v.vertex.index()],
                             {base.mesh.position[v.vertex.index()], sheets.normal[copy],
                              chart_carry(base.mesh, base.chart, triangle)}}});
        };
        add(v.left, triangles[0]);
        add(v.right, triangles[1]);
    }
    return feet;
}

/// The point nearest to where the offset tangent planes of all feet meet.
Vec3 planes_meet(const std::vector<CornerFoot>& feet, const DepthAtChart& depth, const Vec3& near) {
    const auto count = static_cast<Eigen::Index>(feet.size());
    Eigen::MatrixX3d normals(count, 3);
    Eigen::VectorXd heights(count);
    for (Eigen::Index k = 0; k < count; ++k) {
        const SheetPoint& p = feet[static_cast<std::size_t>(k)].foot.point;
        normals.row(k) = p.normal.transpose();
        heights[k] =
            p.normal.dot(p.position - near) - depth(feet[static_cast<std::size_t>(k)].foot.chart);
    }
    Eigen::JacobiSVD<Eigen::MatrixXd> solver(normals, Eigen::ComputeThinU | Eigen::ComputeThinV);
    solver.setThreshold(tolerance::flat_crease);
    return near + Vec3(solver.solve(heights));
}

/// Carries the feet to the corner; false when the steps do not settle.
bool settle(const BaseMesh& base, const DepthAtChart& depth, TrimCorner& corner) {
    for (int step = 0; step < tolerance::most_ridge_steps; ++step) {
        corner.position = planes_meet(corner.feet, depth, corner.position);
        std::vector<Vec3> normals;
        for (const CornerFoot& f : corner.feet) normals.push_back(f.foot.point.normal);
        double moved = 0.0;
        for (std::size_t k = 0; k < corner.feet.size(); ++k) {
            SheetFoot& foot = corner.feet[k].foot;
            const Vec3 off = corner.position - foot.point.position;
            const Vec3 along = off - off.dot(foot.point.normal) * foot.point.normal;
            moved += along.norm();
            std::vector<Vec3> others = normals;
            others.erase(others.begin() + static_cast<std::ptrdiff_t>(k));
            move_foot(base.at, foot, along, others);
        }
        if (moved < tolerance::ridge_step) return true;
    }
    return false;
}

}  // namespace

const SheetFoot& TrimCorner::foot_of(CopyId copy) const {
    for (const CornerFoot& f : feet)
        if (f.copy == copy) return f.foot;
    throw std::logic_error("TrimCorner: no such sheet");
}

PerId<CornerId, TrimCorner> trim_corners(const BaseMesh& base, const CreaseSheets& sheets,
                                         const std::vector<std::vector<CreaseWay>>& ways,
                                         const DepthAtChart& depth) {
    PerId<CornerId, TrimCorner> corners;
    for (const auto& [vertex, ends] : inner_ends(sheets, ways)) {
        const auto trimmed = [](const LineEnd& end) { return end.trimmed; };
        if (ends.size() < 3 || !std::all_of(ends.begin(), ends.end(), trimmed)) continue;
        TrimCorner corner;
        corner.vertex = vertex;
        corner.position = base.mesh.position[vertex.index()];
        corner.feet = sheets_round(base, sheets, ends);
        if (settle(base, depth, corner)) corners.add(std::move(corner));
    }
    return corners;
}

}  // namespace tearline::parallel

#include "core/plan/plug_outline.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <utility>

#include "core/plan/tolerances.h"
#include "core/plane/clip_region.h"
#include "core/plane/offset_region.h"

namespace tearline::plan {

namespace {

/// A line or loop on the table as a region, which has an outside: a line as a sliver.
Region2 as_region(std::vector<Vec2> line, bool closed) {
    if (closed) {
        if (signed_area(line) < 0.0) std::reverse(line.begin(), line.end());
        return {std::move(line), {}};
    }
    Region2 out{line, {}};
    for (std::size_t i = line.size(); i-- > 0;) {
        const Vec2 along = i > 0 ? line[i] - line[i - 1] : line[1] - line[0];
        out.outer.push_back(line[i] + tolerance::line_sliver * turned_left(along.normalized()));
    }
    if (signed_area(out.outer) < 0.0) std::reverse(out.outer.begin(), out.outer.end());
    return out;
}

/// What lies within a width of the hull's end and of openings.
std::vector<Loop2> beside_ends(const templates::Template& outline, double width) {
    std::vector<Loop2> beside;
    const auto add = [&](const std::vector<Vec2>& line, bool closed) {
        if (line.size() < 2) return;
        for (Region2& near : plane::offset_region(as_region(line, closed), width))
            beside.push_back(std::move(near.outer));
    };
    for (const templates::Mark& mark : outline.marks)
        if (const auto* end = std::get_if<templates::HullEnd>(&mark)) add(end->run, false);
    for (const Loop2& hole : outline.net.holes) add(hole, true);
    return beside;
}

Result<Region2> one_of(std::vector<Region2> left, const char* key) {
    if (left.size() == 1) return std::move(left.front());
    return no_safe_answer(
        key, left.empty() ? "nothing is left of the core plug: the place is filled solid with "
                            "paste, which is done where it is 25 mm across or less; make the "
                            "damage larger, or this smaller"
                          : "it parts the core plug in several; make this smaller");
}

/// Its bed, and where it is chamfered its other face.
std::vector<Region2*> faces_of(templates::Template& outline) {
    std::vector<Region2*> faces{&outline.net};
    if (outline.cut) faces.push_back(&*outline.cut);
    return faces;
}

void drop_marks_outside(templates::Template& outline) {
    const Loop2& edge = outline.parting_region().outer;
    std::erase_if(outline.marks, [&](const templates::Mark& mark) {
        if (std::holds_alternative<templates::HullEnd>(mark)) return true;
        const auto* tick = std::get_if<templates::Tick>(&mark);
        return tick != nullptr && !contains(edge, 0.5 * (tick->inner + tick->outer));
    });
}

}  // namespace

Result<void> shrink_plug(double gap, templates::Template& outline) {
    for (Region2* face : faces_of(outline)) {
        auto smaller = one_of(plane::offset_region(*face, -gap), "core.gap");
        if (!smaller) return tl::unexpected(smaller.error());
        *face = std::move(*smaller);
    }
    outline.area_mm2 = area(outline.parting_region());
    return {};
}

Result<double> cut_back_plug(double width, templates::Template& outline) {
    if (!(width > 0.0)) return 0.0;
    const std::vector<Loop2> filled = beside_ends(outline, width);
    if (filled.empty()) return 0.0;
    const double whole = area(outline.net);
    for (Region2* face : faces_of(outline)) {
        auto less = one_of(plane::regions_without({*face}, filled), "core.edge_fill");
        if (!less) return tl::unexpected(less.error());
        *face = std::move(*less);
    }
    drop_marks_outside(outline);
    outline.area_mm2 = area(outline.parting_region());
    return whole - area(outline.net);
}

double direction_of_most_bend(const templates::LaidPly& ply, const damage::FlatFrame& frame) {
    // The paraboloid next to it, by least squares over its vertices.
    Eigen::Matrix<double, 6, 6> normal = Eigen::Matrix<double, 6, 6>::Zero();
    Eigen::Matrix<double, 6, 1> right = Eigen::Matrix<double, 6, 1>::Zero();
    for (const templates::LaidPiece& piece : ply.pieces)
        for (const Vec3& p : piece.piece.lay.position) {
            const Vec3 from = p - frame.middle;
            const double x = frame.x.dot(from), y = frame.y.dot(from);
            Eigen::Matrix<double, 6, 1> row;
            row << 1.0, x, y, 0.5 * x * x, x * y, 0.5 * y * y;
            normal += row * row.transpose();
            right += frame.normal.dot(from) * row;
        }
    const Eigen::Matrix<double, 6, 1> fit = normal.ldlt().solve(right);
    // It bulges towards the hand where it falls away.
    const double across = -0.5 * (fit[3] - fit[5]), twist = -fit[4];
    if (!(std::hypot(across, twist) > tolerance::bends_alike)) return 0.0;
    return 0.5 * std::atan2(twist, across);
}

}  // namespace tearline::plan

#include "core/damage/follow_surface.h"

#include "core/base/tolerances.h"
#include "core/damage/tolerances.h"
#include "core/surface/locate_near.h"

namespace tearline::damage {
namespace {

bool on_hull_end(const surface::Patch& patch, const surface::Location& at) {
    const std::size_t t = at.triangle.index();
    for (int i = 0; i < 3; ++i)
        if (patch.neighbour[t][i] < 0 && patch.hull_end[t][i] &&
            at.weights[(i + 2) % 3] <= tolerance::barycentric_slack)
            return true;
    return false;
}

/// The way in the chart between two points of a curve: a cubic, or the end of the hull, which runs
/// straight there, whatever its tangents in space do at a crease that runs out.
class Span {
public:
    Span(const surface::Patch& patch, const OutlinePoint& from, const OutlinePoint& to)
        : patch_(patch),
          from_(patch.chart_point(from.at)),
          step_(patch.chart_point(to.at) - from_),
          leaving_(step_),
          arriving_(step_) {
        if (on_hull_end(patch, from.at) && on_hull_end(patch, to.at)) return;
        leaving_ = in_chart(from.at, from.tangent_out);
        arriving_ = in_chart(to.at, to.tangent_in);
    }

    /// @param t  [-] in (0, 1)
    [[nodiscard]] OutlinePoint at(double t) const {
        const double t2 = t * t, t3 = t2 * t;
        const Vec2 place = from_ + (-2 * t3 + 3 * t2) * step_ + (t3 - 2 * t2 + t) * leaving_ +
                           (t3 - t2) * arriving_;
        const Vec2 along = (6 * t - 6 * t2) * step_ + (3 * t2 - 4 * t + 1) * leaving_ +
                           (3 * t2 - 2 * t) * arriving_;
        const surface::Location at = surface::locate_near(patch_, place).at;
        const Vec3 tangent = surface::space_direction(patch_, at.triangle, along).normalized();
        return {at, patch_.sample(at).position, tangent, tangent};
    }

    [[nodiscard]] double length() const { return step_.norm(); }

private:
    [[nodiscard]] Vec2 in_chart(const surface::Location& at, const Vec3& tangent) const {
        return step_.norm() * surface::chart_direction(patch_, at.triangle, tangent).normalized();
    }

    const surface::Patch& patch_;
    Vec2 from_, step_, leaving_, arriving_;
};

/// Adds what is needed between two points of a span, in order.
void refine(const Span& span, double a, const OutlinePoint& at_a, double b,
            const OutlinePoint& at_b, std::vector<OutlinePoint>& out) {
    // No chord so short cuts a corner by more than it may; its ends could hide a jump at most.
    if ((b - a) * span.length() <= tolerance::damage_chord) return;
    const double middle = 0.5 * (a + b);
    const OutlinePoint between = span.at(middle);
    const Vec3 chord = at_b.position - at_a.position;
    const Vec3 beside = between.position - at_a.position;
    const Vec3 off = beside - chord * (beside.dot(chord) / chord.squaredNorm());
    const bool follows =
        off.norm() <= tolerance::damage_chord && chord.norm() <= tolerance::damage_spacing;
    if (follows) return;
    refine(span, a, at_a, middle, between, out);
    out.push_back(between);
    refine(span, middle, between, b, at_b, out);
}

}  // namespace

std::vector<OutlinePoint> follow_surface(const surface::Patch& patch,
                                         const std::vector<OutlinePoint>& points) {
    std::vector<OutlinePoint> followed;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const OutlinePoint& from = points[i];
        const OutlinePoint& to = points[(i + 1) % points.size()];
        followed.push_back(from);
        refine(Span(patch, from, to), 0.0, from, 1.0, to, followed);
    }
    return followed;
}

}  // namespace tearline::damage

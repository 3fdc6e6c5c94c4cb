#pragma once
#include <optional>
#include <span>
#include <vector>

#include "core/base/result.h"
#include "core/patch/end_run.h"
#include "core/patch/end_strip.h"
#include "core/surface/patch.h"

namespace tearline::patch {

/// Part of a run of the hull's end, by (fractional) numbers of its points.
struct EndSpan {
    std::size_t run = 0;
    double from = 0.0, to = 0.0;
};

/// A patch with the face beyond the hull's end that cloth is lapped on to.
///
/// Its first vertices and triangles, and their chart, are those of the patch that it was made from;
/// beyond the end the chart goes on square to it.
class LappedPatch {
public:
    surface::Patch patch;

    [[nodiscard]] const EndBend& bend() const { return bend_; }
    /// How far the strips go over the end, bend and all [mm].
    [[nodiscard]] double across() const { return across_; }

    /// The chart point of a place beyond the end of a run, `v` mm over it on the finished face.
    [[nodiscard]] Vec2 chart_at(std::size_t run, double u, double v) const;

    /// A line along the end, `v` mm over it, from one place of a run to another.
    [[nodiscard]] std::vector<Vec2> line(const EndSpan& span, double v) const;

    /// Place in space of one beyond the end.
    [[nodiscard]] Vec3 place_at(std::size_t run, double u, double v) const;

    /// Where a place beyond the end lies.
    struct Beyond {
        Vec2 foot;         ///< [mm] chart point of the end that it lies square over
        double way = 0.0;  ///< [mm] over the finished face from there
    };
    /// Nothing on the hull.
    [[nodiscard]] std::optional<Beyond> beyond(const Vec2& chart_point) const;

    [[nodiscard]] const std::vector<EndRun>& runs() const { return runs_; }
    /// The parts of runs that are asked for; and those that the patch goes over, a little more.
    [[nodiscard]] const std::vector<EndSpan>& spans() const { return spans_; }
    [[nodiscard]] const std::vector<EndSpan>& covered() const { return covered_; }

private:
    friend class LapBuilder;
    struct Corner {
        std::size_t run = 0;
        std::array<Vec2, 3> uv;
    };
    EndBend bend_;
    double across_ = 0.0;
    std::vector<EndRun> runs_;
    std::vector<EndSpan> spans_, covered_;
    std::vector<std::vector<Vec2>> out_;  ///< [-] by run and point: the chart's way of one mm over
    std::vector<std::shared_ptr<const EndStrip>> strips_;  ///< by run; null where none goes over
    std::vector<Corner> corners_;                          ///< by triangle beyond the hull
    std::size_t first_beyond_ = 0;                         ///< triangle
};

/// Lets a patch go over the hull's end.
///
/// @param spans  of `runs`, at most one a run: what is lapped over
/// @param lines  [mm] ways over the end that edges of the mesh run along, the farthest one too
/// @error no_safe_answer  the end bends too tightly for a strip of that width
[[nodiscard]] Result<LappedPatch> lapped_patch(const surface::Patch& patch,
                                               std::vector<EndRun> runs, std::vector<EndSpan> spans,
                                               const EndBend& bend, std::span<const double> lines);

}  // namespace tearline::patch

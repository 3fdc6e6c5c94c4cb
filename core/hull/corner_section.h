#pragma once
#include <optional>
#include <vector>

#include "core/base/vec.h"
#include "core/hull/fair_spline.h"
#include "core/job/measurements.h"

namespace tearline::hull {

/// A place of a section, and the way on from it.
struct SectionPoint {
    Vec2 at{0, 0};         ///< [mm] across, and out towards the person
    double heading = 0.0;  ///< [rad] of the way on; 0 is straight across, positive towards them
    [[nodiscard]] Vec2 normal() const;  ///< towards the person
};

/// A line or an arc of a section.
struct SectionArc {
    SectionPoint start;
    double from = 0.0, to = 0.0;  ///< [mm] round the section
    double curvature = 0.0;       ///< [1/mm] positive where it bulges towards the person
    [[nodiscard]] SectionPoint at(double round) const;
};

/// A section by contour gauge: height over the way across, a fair spline near every figure.
class GaugedCurve {
public:
    explicit GaugedCurve(const std::vector<std::vector<double>>& profile);

    [[nodiscard]] const SplineBasis& basis() const { return basis_; }
    [[nodiscard]] const FairTable& table() const { return table_; }
    [[nodiscard]] double height(double across) const;
    [[nodiscard]] double slope(double across) const;
    /// [mm] round from the line of the marks, where across is 0.
    [[nodiscard]] double from() const { return round_.front(); }
    [[nodiscard]] double to() const { return round_.back(); }
    [[nodiscard]] SectionPoint at(double round) const;

private:
    [[nodiscard]] double length(double from, double to) const;

    SplineBasis basis_;
    FairTable table_;
    double zero_ = 0.0;  ///< [mm] its height at the line of the marks
    std::vector<double> across_, round_;
};

/// The section square to a corner's line, by the way round it from the line of the marks: a flat,
/// the bend, a flat, each running into the next without an edge.
class CornerSection {
public:
    explicit CornerSection(const job::Corner& corner);

    /// [mm] round, to its ends and to those of the bend.
    [[nodiscard]] double least() const;
    [[nodiscard]] double most() const;
    [[nodiscard]] double bend_from() const { return bend_from_; }
    [[nodiscard]] double bend_to() const { return bend_to_; }
    [[nodiscard]] SectionPoint at(double round) const;

    [[nodiscard]] const std::vector<SectionArc>& arcs() const { return arcs_; }
    [[nodiscard]] const std::optional<GaugedCurve>& gauged() const { return gauged_; }

private:
    void add_flats(const job::Corner& corner, const SectionPoint& below, const SectionPoint& above);

    double bend_from_ = 0.0, bend_to_ = 0.0;
    std::optional<GaugedCurve> gauged_;  ///< the bend; else it is one of the arcs
    std::vector<SectionArc> arcs_;
};

}  // namespace tearline::hull

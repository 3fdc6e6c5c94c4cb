#include "core/hull/measured_hull.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sha256.h"
#include "core/base/tolerances.h"
#include "core/hull/batten_patch.h"
#include "core/hull/corner_hull.h"
#include "core/hull/one_surface.h"
#include "core/hull/plane_axes.h"
#include "core/hull/spline_hull.h"
#include "core/hull/table_influence.h"
#include "core/hull/tolerances.h"
#include "core/job/figure_words.h"

namespace tearline::hull {
namespace {

std::string figure_text(double mm) {
    return fixed(mm, 1) + " mm";
}

Result<Hull> hull_of_gaps(const job::HullOptions& options) {
    const job::BattenGaps& gaps = *options.measured;
    const PlaneAxes axes(options);
    const BattenPatch patch = batten_patch(gaps);
    // Half as far again as the batten: marks stand outside the grinding.
    const auto reach = [&](double curvature) {
        const double turn = 1.5 * patch.half * std::abs(curvature);
        return turn > tolerance::measured_turn ? tolerance::measured_turn / std::abs(curvature)
                                               : 1.5 * patch.half;
    };
    constexpr int count = 41;
    const auto sites = [](double half) {
        std::vector<double> all;
        for (int i = 0; i < count; ++i) all.push_back(half * (2.0 * i / (count - 1) - 1.0));
        return all;
    };
    const SplineBasis u(sites(reach(patch.along))), v(sites(reach(patch.across)));
    Eigen::MatrixXd x(count, count), y(count, count), z(count, count);
    const auto place_of = [&](double s, double t) -> Vec3 {
        const Vec3 p = patch.at(s, t);
        return p.x() * axes.along + p.y() * axes.across + Vec3(0, 0, p.z());
    };
    for (Eigen::Index i = 0; i < count; ++i)
        for (Eigen::Index j = 0; j < count; ++j) {
            const Vec3 p = place_of(u.sites()[static_cast<std::size_t>(i)],
                                    v.sites()[static_cast<std::size_t>(j)]);
            x(i, j) = p.x();
            y(i, j) = p.y();
            z(i, j) = p.z();
        }
    Hull hull =
        spline_hull(surface_through(u, v, x, y, z), axes.handedness() * person_outside(options));
    HandMeasured& by_hand = hull.by_hand.emplace();
    by_hand.along = axes.along;
    by_hand.across = axes.across;
    by_hand.half = patch.half;
    for (const BattenReading& reading : readings(gaps))
        by_hand.figures.push_back({"hull.measured." + reading.place, reading.gap,
                                   patch.gap(reading.u, reading.v, reading.way),
                                   place_of(reading.u, reading.v)});
    hull.report.format = "gaps under a batten of " + shortest(gaps.batten) + " mm";
    const auto off = [](const MeasuredFigure& f) { return std::abs(f.figure - f.passes); };
    const auto worst =
        std::max_element(by_hand.figures.begin(), by_hand.figures.end(),
                         [&](const auto& a, const auto& b) { return off(a) < off(b); });
    if (off(*worst) > tolerance::suspicious_figure)
        return at_line(gaps.line, worst->place,
                       "value " + figure_text(worst->figure) + ": the other gaps say about " +
                           figure_text(worst->passes) +
                           " there, since no surface has a mean of gap_along_ends above gap_along "
                           "and a mean of gap_across_ends as far below gap_across; measure these "
                           "six again");
    return hull;
}

Eigen::MatrixXd matrix(const std::vector<std::vector<double>>& rows) {
    Eigen::MatrixXd all(static_cast<Eigen::Index>(rows.size()),
                        static_cast<Eigen::Index>(rows.front().size()));
    for (Eigen::Index i = 0; i < all.rows(); ++i)
        for (Eigen::Index j = 0; j < all.cols(); ++j)
            all(i, j) = rows[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)];
    return all;
}

/// The sites at every pair, as tables beside the heights.
Eigen::MatrixXd down_rows(const SplineBasis& rows, Eigen::Index columns) {
    return Eigen::Map<const Eigen::VectorXd>(rows.sites().data(),
                                             static_cast<Eigen::Index>(rows.sites().size()))
        .replicate(1, columns);
}

/// What a table of figures is called in the job file, and how a place in it is told.
struct TableName {
    std::string key;
    std::vector<int> lines;  ///< of each row
    std::string (*words)(const job::HullOptions&, const Suspicion&);
};

/// Where in the job file a row stands; 0 for tables that came from no file.
int line_of(const std::vector<int>& lines, Eigen::Index row) {
    const auto i = static_cast<std::size_t>(row);
    return i < lines.size() ? lines[i] : 0;
}

/// Figures that the others contradict: refused when far off, else told.
Result<void> judge(const FairTable& table, const TableName& name, const job::HullOptions& options,
                   Warnings& warnings) {
    for (const Suspicion& s : table.suspicious) {
        const std::string key =
            name.key + "[" + std::to_string(s.row + 1) + "][" + std::to_string(s.column + 1) + "]";
        const warn::SuspiciousFigure told{key, name.words(options, s), s.figure, s.expected};
        if (std::abs(s.figure - s.expected) > tolerance::contradicting_figure)
            return at_line(line_of(name.lines, s.row), key, told.refusal());
        warnings.push_back({told});
    }
    return {};
}

Result<Hull> hull_of_grid(const job::HullOptions& options) {
    const job::OffsetGrid& grid = *options.grid;
    const PlaneAxes axes(options);
    const auto sites = [](std::size_t count, double spacing) {
        std::vector<double> all;
        for (std::size_t i = 0; i < count; ++i) all.push_back(spacing * static_cast<double>(i));
        return all;
    };
    const SplineBasis rows(sites(grid.offsets.size(), grid.spacing_across));
    const SplineBasis columns(sites(grid.offsets.front().size(), grid.spacing_along));
    const Eigen::MatrixXd offsets = matrix(grid.offsets);
    const FairTable table = fair_table(rows, columns, offsets);
    Warnings warnings;
    const TableName name{"hull.grid.offsets", grid.lines,
                         [](const job::HullOptions&, const Suspicion& s) {
                             return "row " + std::to_string(s.row + 1) + " from below, figure " +
                                    std::to_string(s.column + 1) + " from aft";
                         }};
    if (auto judged = judge(table, name, options, warnings); !judged)
        return tl::unexpected(judged.error());

    const Eigen::MatrixXd up = down_rows(rows, offsets.cols());
    const Eigen::MatrixXd forward = down_rows(columns, offsets.rows()).transpose();
    const auto coordinate = [&](int k) -> Eigen::MatrixXd {
        return axes.along[k] * forward + axes.across[k] * up;
    };
    const Eigen::MatrixXd x = coordinate(0), y = coordinate(1);
    Hull hull = spline_hull(surface_through(rows, columns, x, y, -table.fitted),
                            -axes.handedness() * person_outside(options));
    hull.warnings = std::move(warnings);
    HandMeasured& by_hand = hull.by_hand.emplace();
    by_hand.along = axes.along;
    by_hand.across = axes.across;
    by_hand.tells = table.tells;
    by_hand.influence = std::make_shared<const TableInfluence>(
        rows, columns, table, TableInfluence::Axes{axes.across, axes.along, Vec3(0, 0, -1), false});
    for (Eigen::Index i = 0; i < offsets.rows(); ++i)
        for (Eigen::Index j = 0; j < offsets.cols(); ++j)
            by_hand.figures.push_back(
                {name.key + "[" + std::to_string(i + 1) + "][" + std::to_string(j + 1) + "]",
                 offsets(i, j), table.fitted(i, j), Vec3(x(i, j), y(i, j), -table.fitted(i, j))});
    hull.report.format = "offsets from a plane";
    return hull;
}

Result<Hull> hull_of_sections(const job::HullOptions& options) {
    const job::OffsetTable& offsets = *options.sections;
    const SplineBasis rows(offsets.stations), columns(offsets.waterlines);
    const Eigen::MatrixXd breadth = matrix(offsets.half_breadths);
    const FairTable table = fair_table(rows, columns, breadth);
    Warnings warnings;
    const TableName name{
        "hull.sections.half_breadths", offsets.lines,
        [](const job::HullOptions& all, const Suspicion& s) {
            return "station at " +
                   shortest(all.sections->stations[static_cast<std::size_t>(s.row)]) +
                   " mm, waterline at " +
                   shortest(all.sections->waterlines[static_cast<std::size_t>(s.column)]) + " mm";
        }};
    if (auto judged = judge(table, name, options, warnings); !judged)
        return tl::unexpected(judged.error());

    const double side = offsets.port ? 1.0 : -1.0;
    const Eigen::MatrixXd x = down_rows(rows, breadth.cols());
    const Eigen::MatrixXd z = down_rows(columns, breadth.rows()).transpose();
    // x along stations, z up: their cross product looks to -y, starboard.
    Hull hull = spline_hull(surface_through(rows, columns, x, side * table.fitted, z), -side);
    hull.warnings = std::move(warnings);
    HandMeasured& by_hand = hull.by_hand.emplace();
    by_hand.tells = table.tells;
    by_hand.influence = std::make_shared<const TableInfluence>(
        rows, columns, table,
        TableInfluence::Axes{Vec3(1, 0, 0), Vec3(0, 0, 1), Vec3(0, side, 0), true});
    for (Eigen::Index i = 0; i < breadth.rows(); ++i)
        for (Eigen::Index j = 0; j < breadth.cols(); ++j)
            by_hand.figures.push_back(
                {name.key + "[" + std::to_string(i + 1) + "][" + std::to_string(j + 1) + "]",
                 breadth(i, j), table.fitted(i, j),
                 Vec3(x(i, j), side * table.fitted(i, j), z(i, j))});
    hull.report.format = "table of offsets";
    return hull;
}

/// All figures as text: what stands in for the bytes of a model file.
std::string all_figures(const Hull& hull, const job::HullOptions& options) {
    std::string text = hull.report.format;
    if (options.measured) text += " " + shortest(options.measured->batten);
    if (options.corner) text += corner_text(*options.corner);
    for (const MeasuredFigure& figure : hull.by_hand->figures) {
        text += "\n" + figure.place + " " + shortest(figure.figure);
        for (const double c : figure.at) text += " " + fixed(c, 3);
    }
    return text;
}

}  // namespace

Result<Hull> measured_hull(const job::HullOptions& options, job::Side side) {
    Result<Hull> hull = options.measured ? hull_of_gaps(options)
                        : options.grid   ? hull_of_grid(options)
                        : options.corner ? hull_of_corner(options)
                                         : hull_of_sections(options);
    if (!hull) return hull;
    hull->surface = options.surface;
    hull->sha256 = sha256_hex(all_figures(*hull, options));
    hull->report.triangles_read = hull->triangles.size();
    job::HullOptions known = options;
    known.outward = "as modelled";
    // The edge of a patch is where the measuring stopped, never a centreline.
    if (!options.sections) known.mirror = false;
    return make_one_surface(std::move(*hull), known, {side, true});
}

}  // namespace tearline::hull

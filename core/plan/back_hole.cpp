#include "core/plan/back_hole.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <utility>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sheet_words.h"
#include "core/closing/backing_kind.h"
#include "core/closing/passes_hole.h"
#include "core/ground/grown_outline.h"
#include "core/job/sides.h"
#include "core/plan/closing_piece.h"
#include "core/templates/directions.h"
#include "core/templates/label_template.h"
#include "core/templates/line_names.h"
#include "core/templates/section_edge.h"

namespace tearline::plan {

namespace {

using job::BackingKind;

/// The job whose plies lie on the backing: that of the first part.
const job::Job& first_job(const Plan& plan) {
    return plan.parts.empty() ? plan.job : plan.parts.front().job;
}

/// The damage on the far face, seen from the side of the plies that lie on the backing.
Result<job::Job> on_far_face(const Plan& plan, const job::Job& job, const hull::Hull& hull) {
    job::Job out = job;
    out.damage.side = first_job(plan).damage.side;
    out.damage.carried = job.hull.skin.value();
    if (!job.damage.centre) return out;
    job::Job near = job;
    near.damage.side = hull.surface;
    auto points = ground::grown_outline(near, hull, 0.0);
    if (!points) return tl::unexpected(points.error());
    out.damage = ground::carried_to(out.damage, std::move(*points), out.damage.carried);
    return out;
}

/// The tightest radius of a patch under a ply [mm]; none of a flat one.
std::optional<double> least_radius(const templates::LaidPly& ply) {
    std::optional<double> least = ply.convex_radius_mm;
    if (ply.concave_radius_mm)
        least = std::min(least.value_or(*ply.concave_radius_mm), *ply.concave_radius_mm);
    return least;
}

void label(templates::LaidPly& ply, const BackingPlan& backing, const job::Job& job,
           const std::string& repair) {
    for (templates::LaidPiece& piece : ply.pieces) {
        templates::Words words;
        words.lines = {
            {"BACKING", 2.2},
            {piece.piece.id, 1.3},
            {face_words, 1.3},
            {"SEEN " + in_capitals(std::string("from ") + job::side_word(ply.side)), 1.3},
            {"LAP " + in_capitals(length_text(backing.lap_mm, 0, job.display_units)) +
                 " ALL ROUND THE HOLE",
             1.0},
            {backing.stays ? "IT STAYS IN THE HULL" : "IT COMES OUT AGAIN", 1.3}};
        if (backing.preformed)
            words.lines.push_back({"PREFORM IT: THE FAR FACE IS TOO ROUND FOR A FLAT SHEET", 0.8});
        if (!repair.empty()) words.lines.insert(words.lines.begin(), {repair, 2.2});
        templates::name_lines(piece.outline);
        templates::label_template(piece.outline, words);
    }
}

/// Extent of a loop along its longest direction and square to it [mm].
std::array<double, 2> extents(const Loop3& loop) {
    Vec3 middle = Vec3::Zero();
    for (const Vec3& p : loop) middle += p / static_cast<double>(loop.size());
    Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
    for (const Vec3& p : loop) spread += (p - middle) * (p - middle).transpose();
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> axes(spread);
    std::array<double, 2> out{};
    for (int i = 0; i < 2; ++i) {
        const Vec3 axis = axes.eigenvectors().col(2 - i);
        double low = 0.0, high = 0.0;
        for (const Vec3& p : loop) {
            low = std::min(low, axis.dot(p - middle));
            high = std::max(high, axis.dot(p - middle));
        }
        out[static_cast<std::size_t>(i)] = high - low;
    }
    if (out[0] < out[1]) std::swap(out[0], out[1]);
    return out;
}

/// How high a laid piece rises over a flat table, which its lowest place lies on [mm].
double rise_of(const templates::LaidPly& ply, const damage::FlatFrame& frame) {
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const templates::LaidPiece& piece : ply.pieces)
        for (const Vec3& p : piece.piece.lay.position) {
            const double height = frame.normal.dot(p - frame.middle);
            low = std::min(low, height);
            high = std::max(high, height);
        }
    return high - low;
}

ThroughHole passing(const Loop3& hole, const BackingPlan& backing, double rise) {
    ThroughHole out;
    const auto [length, width] = extents(hole);
    out.length_mm = length;
    out.width_mm = width;
    out.rise_mm = rise + backing.thickness_mm.value_or(0.0);
    out.passes = closing::passes_hole(length, width, backing.lap_mm, out.rise_mm);
    out.least_length_mm = closing::least_length(width, backing.lap_mm, out.rise_mm);
    out.roll_radius_mm = closing::roll_radius(length, width, backing.thickness_mm.value_or(0.0));
    if (!out.passes && std::isfinite(out.least_length_mm))
        out.cut_area_mm2 =
            0.25 * std::numbers::pi * width * std::max(0.0, out.least_length_mm - length);
    return out;
}

/// Cards of the far face, side by side across it, all from one straight base line behind it.
std::vector<Station> stations_of(const Closing& sheet, const job::Job& job) {
    const double less = job.backing->thickness.value_or(0.0);
    const auto directions = templates::directions(sheet.ground.frame, job.hull.bow, job.hull.up);
    constexpr double apart = 100.0;  // [mm] at most, common practice
    constexpr double base = 60.0;    // [mm] of card under the lowest place
    const damage::FlatFrame& frame = sheet.ground.frame;
    double low = 0.0, high = 0.0, half = 0.0;
    for (const templates::LaidPiece& piece : sheet.ply.pieces)
        for (const Vec3& p : piece.piece.lay.position) {
            low = std::min(low, frame.x.dot(p - frame.middle));
            high = std::max(high, frame.x.dot(p - frame.middle));
            half = std::max(half, std::abs(frame.y.dot(p - frame.middle)));
        }
    const int count = std::max(3, static_cast<int>(std::ceil((high - low) / apart)) + 1);
    std::vector<Station> out;
    double lowest = 0.0;
    for (int i = 0; i < count; ++i) {
        Station station;
        station.number = i + 1;
        station.at_mm = low + (high - low) * i / (count - 1);
        station.edge = templates::section_edge(
            sheet.ground.patch, frame.middle + station.at_mm * frame.x, frame.normal, frame.y);
        std::erase_if(station.edge, [&](const Vec2& p) { return std::abs(p.x()) > half; });
        if (station.edge.size() < 2) continue;
        for (const Vec2& p : station.edge) lowest = std::min(lowest, p.y());
        out.push_back(std::move(station));
    }
    for (Station& station : out) {
        for (Vec2& p : station.edge) p.y() += base - lowest - less;
        station.name =
            "station " + std::to_string(station.number) + " of " + std::to_string(count) + ", " +
            length_text(std::abs(station.at_mm), 0, job.display_units) +
            (station.at_mm < 0.0 ? " left" : " right") + " of the datum, turned over, from behind";
        station.ends = {directions.ends[3], directions.ends[1]};
    }
    return out;
}

}  // namespace

Result<std::optional<BackingPlan>> back_hole(const Plan& plan, const job::Job& job,
                                             const hull::Hull& hull) {
    if (!job.backing || job.backing->kind == BackingKind::none) return std::optional<BackingPlan>();
    const job::Backing& asked = *job.backing;
    BackingPlan out;
    out.lap_mm = asked.lap;
    out.thickness_mm = asked.thickness;
    out.stays = asked.stays.value_or(false);
    const auto far = on_far_face(plan, job, hull);
    if (!far) return tl::unexpected(far.error());
    ClosingRequest request{"backing",
                           far->damage.side,
                           job.hull.skin.value(),
                           asked.lap,
                           0.0,
                           0.5 * asked.thickness.value_or(0.0)};
    auto sheet = lay_closing(*far, hull, request);
    if (!sheet) return tl::unexpected(sheet.error());
    for (const templates::LaidPiece& piece : sheet->ply.pieces)
        out.strain = std::max(out.strain, piece.piece.strain_max);
    out.area_mm2 = sheet->ply.surface_area_mm2;
    out.kind = closing::backing_kind(asked.kind, out.strain);
    out.least_radius_mm = least_radius(sheet->ply);
    const auto bends_to = closing::plywood_radius(asked.thickness.value_or(0.0));
    const double tightest = bends_to.value_or(closing::preformed_below);
    out.preformed = out.least_radius_mm && *out.least_radius_mm < tightest;
    Loop3 hole;
    for (const damage::OutlinePoint& point : sheet->ground.outline.points)
        hole.push_back(point.position);
    if (out.stays && asked.access == job::Access::one_side)
        out.passing = passing(hole, out, rise_of(sheet->ply, sheet->ground.frame));
    if (out.kind == BackingKind::stations) {
        out.stations = stations_of(*sheet, job);
        return std::optional(std::move(out));
    }
    if (out.kind == BackingKind::petals) {
        request.strain_limit = closing::sheet_strain;
        sheet = lay_closing(*far, hull, request);
        if (!sheet) return tl::unexpected(sheet.error());
    }
    label(sheet->ply, out, job, plan.repair);
    out.pieces.push_back(std::move(sheet->ply));
    return std::optional(std::move(out));
}

}  // namespace tearline::plan

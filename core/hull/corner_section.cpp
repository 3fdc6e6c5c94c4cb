#include "core/hull/corner_section.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <numbers>

#include "core/base/tolerances.h"
#include "core/hull/batten_patch.h"
#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

/// From a place along an arc by a length, which may be negative.
SectionPoint further(const SectionPoint& from, double curvature, double length) {
    const double half = 0.5 * curvature * length;
    const double chord = std::abs(half) < tolerance::straight_turn
                             ? length * (1.0 - half * half / 6.0)
                             : length * std::sin(half) / half;
    const double towards = from.heading - half;
    return {from.at + chord * Vec2(std::cos(towards), std::sin(towards)),
            from.heading - 2.0 * half};
}

SplineBasis basis_across(const std::vector<std::vector<double>>& profile) {
    std::vector<double> across;
    for (const auto& point : profile) across.push_back(point[0]);
    return SplineBasis(std::move(across));
}

FairTable fair_heights(const SplineBasis& basis, const std::vector<std::vector<double>>& profile) {
    Eigen::MatrixXd heights(1, basis.size());
    for (Eigen::Index i = 0; i < basis.size(); ++i)
        heights(0, i) = profile[static_cast<std::size_t>(i)][1];
    return fair_table(SplineBasis({0.0}), basis, heights);
}

}  // namespace

Vec2 SectionPoint::normal() const {
    return {-std::sin(heading), std::cos(heading)};
}

SectionPoint SectionArc::at(double round) const {
    return further(start, curvature, round - from);
}

GaugedCurve::GaugedCurve(const std::vector<std::vector<double>>& profile)
    : basis_(basis_across(profile)), table_(fair_heights(basis_, profile)) {
    zero_ = basis_.at(0.0).dot(table_.poles.row(0));
    // The way round at places so near each other that a quadrature between two is exact.
    constexpr int parts_a_span = 8;
    const std::vector<double>& sites = basis_.sites();
    for (std::size_t i = 0; i + 1 < sites.size(); ++i)
        for (int k = 0; k < parts_a_span; ++k)
            across_.push_back(sites[i] + (sites[i + 1] - sites[i]) * k / parts_a_span);
    across_.push_back(sites.back());
    round_.push_back(0.0);
    for (std::size_t i = 1; i < across_.size(); ++i)
        round_.push_back(round_.back() + length(across_[i - 1], across_[i]));
    const auto after = std::upper_bound(across_.begin(), across_.end(), 0.0);
    const auto before = static_cast<std::size_t>(std::distance(across_.begin(), after)) - 1;
    const double middle = round_[before] + length(across_[before], 0.0);
    for (double& round : round_) round -= middle;
}

double GaugedCurve::height(double across) const {
    return basis_.at(across).dot(table_.poles.row(0)) - zero_;
}

double GaugedCurve::slope(double across) const {
    return basis_.at(across, 1).dot(table_.poles.row(0));
}

double GaugedCurve::length(double from, double to) const {
    // Gauss and Legendre's five places.
    static constexpr std::array<double, 5> place = {-0.906179845938664, -0.538469310105683, 0.0,
                                                    0.538469310105683, 0.906179845938664};
    static constexpr std::array<double, 5> weight = {0.236926885056189, 0.478628670499366,
                                                     0.568888888888889, 0.478628670499366,
                                                     0.236926885056189};
    double sum = 0.0;
    const double half = 0.5 * (to - from);
    for (std::size_t i = 0; i < place.size(); ++i)
        sum += weight[i] * std::hypot(1.0, slope(from + half * (1.0 + place[i])));
    return half * sum;
}

SectionPoint GaugedCurve::at(double round) const {
    const auto after = std::upper_bound(round_.begin(), round_.end(), round);
    const auto next = std::clamp<std::ptrdiff_t>(std::distance(round_.begin(), after), 1,
                                                 static_cast<std::ptrdiff_t>(round_.size()) - 1);
    const auto i = static_cast<std::size_t>(next) - 1;
    double across = across_[i];
    constexpr int most_steps = 20;
    for (int step = 0; step < most_steps; ++step) {
        const double miss = round - round_[i] - length(across_[i], across);
        if (!(std::abs(miss) > tolerance::measured_rest)) break;
        across += miss / std::hypot(1.0, slope(across));
        across = std::clamp(across, across_.front(), across_.back());
    }
    return {{across, height(across)}, std::atan(slope(across))};
}

CornerSection::CornerSection(const job::Corner& corner) {
    if (!corner.profile.empty()) {
        const GaugedCurve& curve = gauged_.emplace(corner.profile);
        bend_from_ = curve.from();
        bend_to_ = curve.to();
        add_flats(corner, curve.at(bend_from_), curve.at(bend_to_));
        return;
    }
    const double turn = corner.angle.value() * std::numbers::pi / 180.0;
    const double curvature = (corner.convex.value() ? 1.0 : -1.0) / corner.radius.value();
    bend_to_ = 0.5 * turn * corner.radius.value();
    bend_from_ = -bend_to_;
    const SectionPoint below = further({}, curvature, bend_from_);
    arcs_.push_back({below, bend_from_, bend_to_, curvature});
    add_flats(corner, below, further({}, curvature, bend_to_));
}

void CornerSection::add_flats(const job::Corner& corner, const SectionPoint& below,
                              const SectionPoint& above) {
    if (!corner.flats) return;
    const auto bend_of = [&](std::size_t i) {
        if (!corner.gaps_across) return 0.0;
        return curvature_of_gap((*corner.gaps_across)[i], 0.5 * corner.batten_across.value());
    };
    const auto [down, up] = *corner.flats;
    if (down > tolerance::weld)
        arcs_.insert(arcs_.begin(), {further(below, bend_of(0), -down), bend_from_ - down,
                                     bend_from_, bend_of(0)});
    if (up > tolerance::weld) arcs_.push_back({above, bend_to_, bend_to_ + up, bend_of(1)});
}

double CornerSection::least() const {
    return arcs_.empty() ? bend_from_ : std::min(bend_from_, arcs_.front().from);
}

double CornerSection::most() const {
    return arcs_.empty() ? bend_to_ : std::max(bend_to_, arcs_.back().to);
}

SectionPoint CornerSection::at(double round) const {
    for (const SectionArc& arc : arcs_)
        if (round >= arc.from && round <= arc.to) return arc.at(round);
    if (gauged_) return gauged_->at(std::clamp(round, bend_from_, bend_to_));
    const SectionArc& end = round < arcs_.front().from ? arcs_.front() : arcs_.back();
    return end.at(std::clamp(round, end.from, end.to));
}

}  // namespace tearline::hull

#include "core/plies/resample.h"

#include <algorithm>
#include <cmath>

#include "core/base/tolerances.h"
#include "core/plies/tolerances.h"

namespace tearline::plies {
namespace {

/// Part of a curve between two kept points, by arc length.
class Span {
public:
    Span(std::vector<Vec2> points, Between between) : p_(std::move(points)), between_(between) {
        s_.assign(p_.size(), 0.0);
        for (std::size_t i = 1; i < p_.size(); ++i) s_[i] = s_[i - 1] + (p_[i] - p_[i - 1]).norm();
    }

    [[nodiscard]] double length() const { return s_.back(); }

    [[nodiscard]] Vec2 at(double s) const {
        const std::size_t i = segment_of(s);
        const double width = s_[i + 1] - s_[i];
        const double t = width > 0.0 ? (s - s_[i]) / width : 0.0;
        if (runs_straight(i)) return (1 - t) * p_[i] + t * p_[i + 1];
        // Cubic Hermite with the slopes of the parabolas through three neighbouring points.
        const Vec2 m0 = slope(i) * width;
        const Vec2 m1 = slope(i + 1) * width;
        const double t2 = t * t, t3 = t2 * t;
        return (2 * t3 - 3 * t2 + 1) * p_[i] + (t3 - 2 * t2 + t) * m0 +
               (-2 * t3 + 3 * t2) * p_[i + 1] + (t3 - t2) * m1;
    }

    /// Largest distance of the curve's points between two places from the chord between them.
    [[nodiscard]] double sagitta(double from, double to) const {
        const Vec2 a = at(from);
        const Vec2 chord = at(to) - a;
        const double length = chord.norm();
        double worst = 0.0;
        const auto test = [&](const Vec2& p) {
            const Vec2 d = p - a;
            worst = std::max(worst, length > 0.0 ? std::abs(cross2(chord, d)) / length : d.norm());
        };
        test(at(0.5 * (from + to)));
        for (std::size_t i = segment_of(from) + 1; i < p_.size() && s_[i] < to; ++i) test(p_[i]);
        return worst;
    }

private:
    [[nodiscard]] std::size_t segment_of(double s) const {
        const auto above = std::upper_bound(s_.begin() + 1, s_.end() - 1, s);
        return static_cast<std::size_t>(above - s_.begin()) - 1;
    }

    /// A segment much longer than its neighbours is a straight piece between curved ones.
    [[nodiscard]] bool runs_straight(std::size_t i) const {
        if (between_ == Between::straight || p_.size() == 2) return true;
        const double width = s_[i + 1] - s_[i];
        const double before = i > 0 ? s_[i] - s_[i - 1] : width;
        const double after = i + 2 < s_.size() ? s_[i + 2] - s_[i + 1] : width;
        return width > 3.0 * std::min(before, after);
    }

    [[nodiscard]] Vec2 chord_slope(std::size_t i) const {
        const double width = s_[i + 1] - s_[i];
        if (!(width > 0.0)) return Vec2::Zero();
        return (p_[i + 1] - p_[i]) / width;
    }

    [[nodiscard]] Vec2 slope(std::size_t i) const {
        if (p_.size() == 2) return chord_slope(0);
        const std::size_t mid = std::clamp<std::size_t>(i, 1, p_.size() - 2);
        const double h0 = s_[mid] - s_[mid - 1], h1 = s_[mid + 1] - s_[mid];
        const Vec2 d0 = chord_slope(mid - 1), d1 = chord_slope(mid);
        const Vec2 second = (d1 - d0) / (h0 + h1);  // half the second derivative
        const Vec2 at_mid = (d0 * h1 + d1 * h0) / (h0 + h1);
        return at_mid + 2.0 * second * (s_[i] - s_[mid]);
    }

    std::vector<Vec2> p_;
    std::vector<double> s_;
    Between between_;
};

void split(const Span& span, double from, double to, double floor, std::vector<Vec2>& out) {
    if (to - from > 2.0 * floor && span.sagitta(from, to) > tolerance::outline_chord) {
        const double middle = 0.5 * (from + to);
        split(span, from, middle, floor, out);
        split(span, middle, to, floor, out);
        return;
    }
    out.push_back(span.at(from));
}

void sample_span(const Span& span, const SizeAt& size, std::vector<Vec2>& out) {
    // Steps of the asked length, counted first so that they come out even.
    const double length = span.length();
    double steps = 0.0;
    double smallest = size(span.at(0.0));
    for (double s = 0.0; s < length;) {
        const double here = size(span.at(s));
        smallest = std::min(smallest, here);
        const double ds = std::min(0.5 * here, length - s);
        steps += ds / here;
        s += ds;
        if (!(ds > 0.0)) break;
    }
    const int count = std::max(1, static_cast<int>(std::ceil(steps - 0.25)));
    // Places where the running count of steps passes whole multiples.
    std::vector<double> stops{0.0};
    double run = 0.0;
    for (double s = 0.0; s < length && static_cast<int>(stops.size()) < count;) {
        const double here = size(span.at(s));
        const double ds = std::min(0.25 * here, length - s);
        if (!(ds > 0.0)) break;
        const double next = run + ds / here * count / steps;
        while (next >= static_cast<double>(stops.size()) &&
               static_cast<int>(stops.size()) < count) {
            const double part = (static_cast<double>(stops.size()) - run) / (next - run);
            stops.push_back(s + part * ds);
        }
        run = next;
        s += ds;
    }
    stops.push_back(length);
    const double floor = smallest / 16.0;
    for (std::size_t i = 0; i + 1 < stops.size(); ++i)
        split(span, stops[i], stops[i + 1], floor, out);
}

/// How much a curve turns at a point [rad], seen from points at least `arm` away on both sides.
double turn_at(const MarkedCurve& curve, std::size_t i, double arm) {
    const std::size_t n = curve.points.size();
    const Vec2& here = curve.points[i];
    const auto away = [&](std::size_t step) {
        std::size_t k = i;
        for (std::size_t taken = 0; taken + 1 < n; ++taken) {
            const bool at_end = !curve.closed && k == (step == 1 ? n - 1 : 0);
            if (at_end) break;
            k = (k + step) % n;
            if ((curve.points[k] - here).norm() >= arm) break;
        }
        return curve.points[k];
    };
    const Vec2 in = here - away(n - 1), out = away(1) - here;
    return std::abs(std::atan2(cross2(in, out), in.dot(out)));
}

}  // namespace

MarkedCurve mark_corners(const std::vector<Vec2>& points, bool closed) {
    MarkedCurve curve;
    curve.closed = closed;
    for (const Vec2& p : points)
        if (curve.points.empty() || (p - curve.points.back()).norm() > tolerance::chart_merge)
            curve.points.push_back(p);
    if (closed)
        while (curve.points.size() > 1 &&
               !((curve.points.front() - curve.points.back()).norm() > tolerance::chart_merge))
            curve.points.pop_back();
    const std::size_t n = curve.points.size();
    curve.keep.assign(n, 0);
    if (!closed && n > 0) curve.keep.front() = curve.keep.back() = 1;
    for (std::size_t i = 0; i < n; ++i) {
        if (!closed && (i == 0 || i + 1 == n)) continue;
        const bool turns_here = turn_at(curve, i, 0.0) > tolerance::outline_corner;
        // Where fronts cross a net line has jogs far smaller than a cut: no corners.
        curve.keep[i] =
            turns_here && turn_at(curve, i, tolerance::corner_arm) > tolerance::outline_corner;
    }
    return curve;
}

void insert_kept(MarkedCurve& curve, std::size_t segment, const Vec2& point) {
    const std::size_t next = (segment + 1) % curve.points.size();
    for (const std::size_t end : {segment, next})
        if (!((curve.points[end] - point).norm() > tolerance::chart_merge)) {
            curve.keep[end] = 1;
            return;
        }
    const auto place = static_cast<std::ptrdiff_t>(segment) + 1;
    curve.points.insert(curve.points.begin() + place, point);
    curve.keep.insert(curve.keep.begin() + place, 1);
}

std::vector<Vec2> resample(const MarkedCurve& curve, const SizeAt& size, Between between) {
    const std::size_t n = curve.points.size();
    std::vector<Vec2> out;
    if (n < 2) return curve.points;
    if (!curve.closed) {
        std::size_t begin = 0;
        for (std::size_t i = 1; i < n; ++i) {
            if (!curve.keep[i]) continue;
            const std::vector<Vec2> part(curve.points.begin() + static_cast<std::ptrdiff_t>(begin),
                                         curve.points.begin() + static_cast<std::ptrdiff_t>(i) + 1);
            sample_span(Span(part, between), size, out);
            begin = i;
        }
        out.push_back(curve.points.back());
        return out;
    }
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < n; ++i)
        if (curve.keep[i]) kept.push_back(i);
    if (kept.empty()) kept.push_back(0);
    for (std::size_t k = 0; k < kept.size(); ++k) {
        const std::size_t from = kept[k];
        std::size_t count = (kept[(k + 1) % kept.size()] + n - from) % n;
        if (count == 0) count = n;
        std::vector<Vec2> part;
        for (std::size_t i = 0; i <= count; ++i) part.push_back(curve.points[(from + i) % n]);
        sample_span(Span(std::move(part), between), size, out);
    }
    return out;
}

}  // namespace tearline::plies

#include "core/templates/kerf_lines.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tearline::templates {

namespace {

/// Kerfs along one direction: where parallel lines, one through `middle`, lie inside the region.
class KerfSet {
public:
    KerfSet(const Vec2& middle, double turn, double pitch)
        : middle_(middle), along_(std::cos(turn), std::sin(turn)), pitch_(pitch) {}

    void draw(const Region2& region, std::vector<Mark>& marks) const {
        const Vec2 aside = turned_left(along_);
        double low = 0.0, high = 0.0;
        for (const Vec2& p : region.outer) {
            low = std::min(low, aside.dot(p - middle_));
            high = std::max(high, aside.dot(p - middle_));
        }
        for (double k = std::ceil(low / pitch_); k * pitch_ <= high; ++k)
            draw_line(middle_ + k * pitch_ * aside, region, marks);
    }

private:
    void draw_line(const Vec2& through, const Region2& region, std::vector<Mark>& marks) const {
        std::vector<double> crossings;
        add_crossings(through, region.outer, crossings);
        for (const Loop2& hole : region.holes) add_crossings(through, hole, crossings);
        std::sort(crossings.begin(), crossings.end());
        for (std::size_t i = 0; i + 1 < crossings.size(); i += 2)
            marks.emplace_back(
                Kerf{through + crossings[i] * along_, through + crossings[i + 1] * along_});
    }

    /// How far along the line it crosses a loop; a corner on the line counts to one of its sides.
    void add_crossings(const Vec2& through, const Loop2& loop, std::vector<double>& out) const {
        const Vec2 aside = turned_left(along_);
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec2 from = loop[i] - through, to = loop[(i + 1) % loop.size()] - through;
            const double a = aside.dot(from), b = aside.dot(to);
            if ((a < 0.0) == (b < 0.0)) continue;
            out.push_back(along_.dot(from) + a / (a - b) * along_.dot(to - from));
        }
    }

    Vec2 middle_, along_;
    double pitch_;
};

}  // namespace

void add_kerfs(double pitch, double turn, Template& outline) {
    const Vec2 middle = datum_of(outline.marks).value_or(Vec2(0, 0));
    constexpr double quarter = 0.5 * std::numbers::pi;
    for (const double way : {turn, turn + quarter})
        KerfSet(middle, way, pitch).draw(outline.parting_region(), outline.marks);
}

}  // namespace tearline::templates

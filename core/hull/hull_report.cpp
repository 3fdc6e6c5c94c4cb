#include "core/hull/hull_report.h"

#include "core/base/numbers.h"
#include "core/hull/place.h"

namespace tearline::hull {
namespace {

constexpr double mm2_per_m2 = 1e6;

std::string line(const std::string& name, const std::string& text) {
    constexpr std::size_t column = 16;
    return name + std::string(column - name.size(), ' ') + text + "\n";
}

/// The first few of many values, the largest first.
std::string first_few(const std::vector<double>& values, double unit, int digits,
                      const std::string& name) {
    constexpr std::size_t most = 5;
    std::string text;
    for (std::size_t i = 0; i < values.size() && i < most; ++i) {
        text += (i == 0 ? "" : ", ") + fixed(values[i] / unit, digits) + name;
    }
    return values.size() > most ? text + ", ..." : text;
}

std::string openings(const HullReport& report) {
    if (report.closed) return "none: the surface is closed";
    const std::string count = std::to_string(report.opening_lengths.size());
    return count + (report.opening_lengths.size() == 1 ? ", perimeter " : ", perimeters ") +
           first_few(report.opening_lengths, 1.0, 0, " mm");
}

std::string bodies(const HullReport& report) {
    const std::string count = std::to_string(report.body_areas.size());
    if (report.body_areas.size() == 1) return count;
    return count + ", not joined: " + first_few(report.body_areas, mm2_per_m2, 3, " m2");
}

std::string radius(double value, const Vec3& at, bool exact) {
    return value > 0.0 ? (exact ? "" : "about ") + fixed(value, 1) + " mm near " + place(at)
                       : "none found";
}

}  // namespace

std::string hull_report_text(const Hull& hull) {
    const HullReport& report = hull.report;
    const Vec3 size = report.extent_max - report.extent_min;
    std::string text;
    text += line("format", report.format + ", in " + report.unit);
    if (report.faces > 0) text += line("faces", std::to_string(report.faces));
    text +=
        line("triangles", std::to_string(report.triangles_read) +
                              (report.faces > 0 ? " (coarse, to find the way about)" : " read"));
    text += line("extent", fixed(size.x(), 1) + " x " + fixed(size.y(), 1) + " x " +
                               fixed(size.z(), 1) + " mm, from " + place(report.extent_min) +
                               " to " + place(report.extent_max));
    text += line("area", fixed(report.area_mm2 / mm2_per_m2, 3) + " m2");
    text += line("bodies", bodies(report));
    text += line("openings", openings(report));
    text += line("orientation", report.orientation);
    text += line("convex radius", radius(report.smallest_convex_radius, report.smallest_convex_at,
                                         report.faces > 0));
    text += line("concave radius", radius(report.smallest_concave_radius,
                                          report.smallest_concave_at, report.faces > 0));
    if (report.mended.empty()) text += line("mended", "nothing");
    for (const std::string& what : report.mended) text += line("mended", what);
    if (!hull.centreline.empty()) {
        text += line("half hull?",
                     "an open edge lies in a plane of bow x and up z: a job may need "
                     "hull.mirror");
    }
    return text;
}

}  // namespace tearline::hull

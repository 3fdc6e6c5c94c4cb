#include "core/hull/hull_report.h"

#include <algorithm>
#include <vector>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/us_constants.h"
#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

std::string line(const std::string& name, const std::string& text) {
    constexpr std::size_t column = 16;
    return name + std::string(column - name.size(), ' ') + text + "\n";
}

std::string length(double mm, Units units) {
    constexpr double in_feet_from = 10.0;
    if (units == Units::metric) return fixed(mm, 0) + " mm";
    const double feet = mm / us::mm_per_foot;
    return feet >= in_feet_from ? fixed(feet, 1) + " ft" : length_text(mm, 0, units);
}

/// A point, "(1200.0, -340.5, 80.2) mm".
std::string corner(const Vec3& p, Units units) {
    return units == Units::metric ? place_text(p) + " mm" : place_text(p / us::mm_per_inch) + " in";
}

std::string area(double mm2, Units units) {
    constexpr double m2 = 1e6, square_foot = us::mm_per_foot * us::mm_per_foot;
    return units == Units::metric ? fixed(mm2 / m2, 3) + " m2"
                                  : fixed(mm2 / square_foot, 2) + " ft2";
}

/// The first few of many values, the largest first.
template <class Text>
std::string first_few(const std::vector<double>& values, Text text_of) {
    constexpr std::size_t most = 5;
    std::string text;
    for (std::size_t i = 0; i < values.size() && i < most; ++i)
        text += (i == 0 ? "" : ", ") + text_of(values[i]);
    return values.size() > most ? text + ", ..." : text;
}

std::string openings(const HullReport& report, Units units) {
    if (report.closed) return "none: the surface is closed";
    const std::string count = std::to_string(report.opening_lengths.size());
    return count + (report.opening_lengths.size() == 1 ? ", perimeter " : ", perimeters ") +
           first_few(report.opening_lengths, [&](double mm) { return length(mm, units); });
}

std::string bodies(const HullReport& report, Units units) {
    const std::string count = std::to_string(report.body_areas.size());
    if (report.body_areas.size() == 1) return count;
    return count + ", not joined: " + first_few(report.body_areas, [&](double mm2) {
               return area(mm2, units);
           });
}

std::string radius(double value, const Vec3& at, bool exact, Units units) {
    return value > 0.0 ? (exact ? "" : "about ") + length_text(value, 1, units) + " near " +
                             corner(at, units)
                       : "none found";
}

std::string extent(const HullReport& report, Units units) {
    const Vec3 size = report.extent_max - report.extent_min;
    const std::string told =
        units == Units::metric
            ? fixed(size.x(), 1) + " x " + fixed(size.y(), 1) + " x " + fixed(size.z(), 1) + " mm"
            : length(size.x(), units) + " x " + length(size.y(), units) + " x " +
                  length(size.z(), units);
    return told + ", from " + corner(report.extent_min, units) + " to " +
           corner(report.extent_max, units);
}

/// How large each face of a model is and where it lies, by the numbers that `flatten --face` takes.
std::string faces_by_number(const Hull& hull, Units units) {
    struct Seen {
        double area = 0.0;          ///< [mm2] of its coarse triangles
        Vec3 centroid{0, 0, 0};     ///< [mm] times its area
        Vec3 place{0, 0, 0};        ///< [mm] on it, near its middle
        double from_middle = -1.0;  ///< [mm] that place
    };
    std::vector<Seen> faces(static_cast<std::size_t>(hull.report.faces));
    const auto each = [&](auto visit) {
        for (std::size_t t = 0; t < hull.face.size(); ++t) {
            const auto at = [&](std::size_t k) -> const Vec3& {
                return hull.vertices[static_cast<std::size_t>(hull.triangles[t][k])];
            };
            if (hull.face[t].index() >= faces.size()) continue;  // a mirror image
            visit(faces[hull.face[t].index()], (at(0) + at(1) + at(2)) / 3.0,
                  0.5 * (at(1) - at(0)).cross(at(2) - at(0)).norm());
        }
    };
    each([](Seen& face, const Vec3& middle, double area) {
        face.area += area;
        face.centroid += area * middle;
    });
    each([](Seen& face, const Vec3& middle, double) {
        const double area = std::max(face.area, tolerance::least_face_area);
        const double away = (middle - face.centroid / area).norm();
        if (face.from_middle >= 0.0 && away >= face.from_middle) return;
        face.place = middle;
        face.from_middle = away;
    });
    constexpr std::size_t most = 12;
    std::string text;
    for (std::size_t f = 0; f < faces.size() && f < most; ++f)
        if (faces[f].area > 0.0)
            text += line("face " + std::to_string(f + 1),
                         area(faces[f].area, units) + ", about " + corner(faces[f].place, units));
    return text;
}

}  // namespace

std::string hull_report_text(const Hull& hull, Units units) {
    const HullReport& report = hull.report;
    std::string text;
    text += line("format", report.format + ", in " + report.unit);
    if (report.faces > 0) text += line("faces", std::to_string(report.faces));
    if (report.faces > 1) text += faces_by_number(hull, units);
    text +=
        line("triangles", std::to_string(report.triangles_read) +
                              (report.faces > 0 ? " (coarse, to find the way about)" : " read"));
    text += line("extent", extent(report, units));
    text += line("area", area(report.area_mm2, units));
    text += line("bodies", bodies(report, units));
    text += line("openings", openings(report, units));
    text += line("orientation", report.orientation);
    text += line("convex radius", radius(report.smallest_convex_radius, report.smallest_convex_at,
                                         report.faces > 0, units));
    text += line("concave radius", radius(report.smallest_concave_radius,
                                          report.smallest_concave_at, report.faces > 0, units));
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

#pragma once
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/base/vec.h"

/// Scans: measurements of a hull or of a dish, with what the person says of them. Coordinates are
/// the scan's own times its unit; a tape's scale comes on top.
namespace tearline::job {

/// What a scan was made with, and so how it errs.
enum class ScanKind {
    light,  ///< laser or structured light
    photo,  ///< photographs
    depth,  ///< the depth sensor of a phone
};

/// What lies inside the damage outline of a scan.
enum class ScanShows { sound_hull, damage, dish };

/// A distance taped on the hull between two places of the scan.
struct ScanTape {
    enum class Laid { on_the_hull, straight };
    Vec3 from{0, 0, 0}, to{0, 0, 0};  ///< [mm] before scale
    double length = 0.0;              ///< [mm]
    Laid laid = Laid::on_the_hull;
    int line = 0;
};

/// A chine or other edge that stays sharp, or the middle of a tight bend.
struct ScanCrease {
    std::vector<Vec3> points;      ///< [mm] before scale, in order along it
    std::optional<double> radius;  ///< [mm] where it is a bend
    int line = 0;
};

/// [hull.scan]: the model is a measurement.
struct HullScan {
    ScanKind kind = ScanKind::light;
    std::optional<double> noise;  ///< [mm] standard deviation; else the kind's
    ScanShows shows = ScanShows::damage;
    std::optional<double> fairness;  ///< [mm] l; else by the noise
    std::optional<Vec3> seen_from;   ///< [mm] a place outside the hull
    std::vector<Vec3> bow_points, up_points, level_points;
    std::vector<ScanTape> tapes;
    std::vector<ScanCrease> creases;
};

/// [damage.scan], [[damage.scan_after]]: the ground place as a scan of its own shows it.
struct DishScan {
    std::filesystem::path model;  ///< as resolved against the job file's folder
    std::string model_as_given;
    std::string unit = "mm";
    ScanKind kind = ScanKind::light;
    std::optional<double> noise;        ///< [mm] standard deviation; else the kind's
    std::map<std::string, Vec3> marks;  ///< [mm] of the hull's marks, in this scan; none: it lies
                                        ///< as the hull's model does
    int ply = 0;  ///< taken on the cured work after this ply
    int line = 0;
};

}  // namespace tearline::job

#pragma once
#include <Eigen/Geometry>
#include <filesystem>
#include <string>
#include <vector>

#include "core/base/vec.h"

/// Models made by formula for the tests, each written as STEP (exact) and STL (1 mm deflection).
namespace tearline::test {

/// Part of a sphere about the origin round its lowest point, `reach` of arc each way [mm].
void write_sphere(double radius, const std::filesystem::path& stem, double reach = 400.0);

/// Curvature -1/radius^2 everywhere: radius cosh(y/radius) turned about the x axis, y the distance
/// along the meridian, 500 mm each way; its lowest point is (0, 0, -radius).
void write_saddle(double radius, const std::filesystem::path& stem);

/// Two planes through the x axis, 600 wide and 1600 long, each turned up by half of `turn` [rad]
/// from the plane z = 0: a keel with its sharp edge down, facing downward.
void write_keel(double turn, const std::filesystem::path& stem);

/// A flat square plate, its face up, from -half to half; holes as (x, y, radius).
void write_plate(double half, const std::vector<Vec3>& holes, const std::filesystem::path& stem);

/// The lower half of a sphere about the origin as one face that collapses at its lowest point.
void write_bowl(double radius, const std::filesystem::path& stem);

/// A whole cylinder about the x axis, open at both ends, as one face.
void write_tube(double radius, double length, const std::filesystem::path& stem);

/// The same tube as a circle drawn out along the axis, which mirrors its seam and its facets.
void write_drawn_tube(double radius, double length, const std::filesystem::path& stem);

/// A deck, 1000 square, its upper side z = 0, on which an oval tube stands about the z axis: half
/// axes a along x and b along y, 300 high.
void write_foot(double a, double b, const std::filesystem::path& stem);

/// A sample model ("curlew", "sandpiper", "cone", ...) moved, and scaled about the origin first.
void write_moved(const std::string& sample, const Eigen::Isometry3d& motion, double scale,
                 const std::filesystem::path& stem);

}  // namespace tearline::test

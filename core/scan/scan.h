#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/hull/topology.h"
#include "core/job/scan.h"
#include "core/scan/noise.h"

namespace tearline::scan {

/// A scan as its file has it, in mm by the unit that was given.
struct Scan {
    std::vector<Vec3> points;   ///< [mm]
    hull::Triangles triangles;  ///< of points; none in a file of bare points
    std::string format;         ///< "PLY", "STL (binary)", "points"
    std::string unit;
    std::string sha256;   ///< of the file
    double scaled = 1.0;  ///< [-] by scale(), since it was read

    /// The same, every coordinate times `factor`.
    void scale(double factor);
    /// A place as the job file has it, before any scale.
    [[nodiscard]] Vec3 as_picked(const Vec3& place) const { return place / scaled; }
};

/// @param unit  "mm", "cm", "m", "in", "ft"
/// @error bad_input  as read_mesh_file(), but for a file of bare points
[[nodiscard]] Result<Scan> read_scan(const std::filesystem::path& path, const std::string& unit);

/// The middle distance from a point to its nearest neighbour, of some hundred points [mm].
[[nodiscard]] double spacing_of(const std::vector<Vec3>& points);

/// What scanners of a kind are known for; what is seen in a scan is never taken for less.
[[nodiscard]] Noise noise_of_kind(job::ScanKind kind);

/// "light", "photo", "depth".
[[nodiscard]] std::string kind_word(job::ScanKind kind);

}  // namespace tearline::scan

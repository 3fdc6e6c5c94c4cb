#pragma once
#include <optional>

#include "core/base/result.h"
#include "core/hull/model_file.h"
#include "core/hull/topology.h"

namespace tearline::hull {

/// Triangles as a mesh file lists them, in the file's own unit.
struct RawMesh {
    std::vector<Vec3> points;
    Triangles triangles;           ///< every corner a valid index into points
    bool single_precision = true;  ///< coordinates went through 32-bit floats
};

/// How corners that an STL file repeats with each facet become points.
enum class Corners { each, once };

/// Reads STL, OBJ or PLY; polygons are cut into triangles, concave ones too.
///
/// Counts in headers are checked against the bytes that follow before anything is reserved.
/// @error bad_input  truncated, malformed, no triangle, or a coordinate that is no finite number,
///                   with the facet, vertex or line
[[nodiscard]] Result<RawMesh> read_mesh_file(const ModelFile& file);

/// Reads the points of a scan, of an STL file each once, with its triangles where it has any.
/// @error bad_input  as read_mesh_file(), but for a file without triangles
[[nodiscard]] Result<RawMesh> read_scan_file(const ModelFile& file);

/// How many millimetres the unit is; nothing for an unknown one.
[[nodiscard]] std::optional<double> millimetres_in(const std::string& unit);

// The single formats, as read_mesh_file calls them.
[[nodiscard]] Result<RawMesh> read_stl_binary(const ModelFile& file, Corners corners);
[[nodiscard]] Result<RawMesh> read_stl_ascii(const ModelFile& file, Corners corners);
[[nodiscard]] Result<RawMesh> read_obj(const ModelFile& file);
[[nodiscard]] Result<RawMesh> read_ply(const ModelFile& file);
/// A point a line, x y z first: XYZ, PTS, CSV.
[[nodiscard]] Result<RawMesh> read_points(const ModelFile& file);

}  // namespace tearline::hull

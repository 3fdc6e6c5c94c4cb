#include "core/hull/mesh_file.h"

#include <stdexcept>

#include "core/base/us_constants.h"

namespace tearline::hull {
namespace {

Result<RawMesh> read_any(const ModelFile& file, Corners corners) {
    switch (file.format) {
        case ModelFormat::stl_binary:
            return read_stl_binary(file, corners);
        case ModelFormat::stl_ascii:
            return read_stl_ascii(file, corners);
        case ModelFormat::obj:
            return read_obj(file);
        case ModelFormat::ply:
            return read_ply(file);
        case ModelFormat::points:
            return read_points(file);
        default:
            throw std::logic_error("read_mesh_file: " + format_name(file.format));
    }
}

}  // namespace

Result<RawMesh> read_mesh_file(const ModelFile& file) {
    Result<RawMesh> mesh = read_any(file, Corners::each);
    if (mesh && mesh->triangles.empty()) {
        return model_error(file.path,
                           mesh->points.empty()
                               ? "it holds no triangle; export the hull's surface as a mesh"
                               : "it holds points without facets: a job takes them as a scan, "
                                 "with [hull.scan] kind = \"light\", \"photo\" or \"depth\"; "
                                 "else export the surface as a mesh");
    }
    return mesh;
}

Result<RawMesh> read_scan_file(const ModelFile& file) {
    Result<RawMesh> scan = read_any(file, Corners::once);
    if (scan && scan->points.empty()) return model_error(file.path, "it holds no point");
    return scan;
}

std::optional<double> millimetres_in(const std::string& unit) {
    if (unit == "mm") return 1.0;
    if (unit == "cm") return 10.0;
    if (unit == "m") return 1000.0;
    if (unit == "in") return us::mm_per_inch;
    if (unit == "ft") return us::mm_per_foot;
    return std::nullopt;
}

}  // namespace tearline::hull

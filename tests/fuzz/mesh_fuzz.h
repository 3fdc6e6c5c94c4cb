#pragma once
#include <cstddef>
#include <cstdint>
#include <string>

#include "core/base/tolerances.h"
#include "core/hull/mend.h"
#include "core/hull/mesh_file.h"
#include "core/hull/one_surface.h"
#include "core/hull/tolerances.h"

namespace tearline::fuzz {

/// Feeds bytes to one mesh reader and what it reads to the mending; false when an answer breaks
/// its contract.
inline bool mesh_reader_holds(const std::string& bytes, hull::ModelFormat format) {
    const auto refusal_is_told = [](const Error& error) {
        return error.kind == ErrorKind::bad_input && error.message().starts_with("hull.");
    };
    const auto raw = hull::read_mesh_file({"fuzz.model", bytes, format});
    if (!raw) return refusal_is_told(raw.error());
    for (const Vec3& p : raw->points) {
        if (!p.allFinite()) return false;
        if (p.cwiseAbs().maxCoeff() > tolerance::largest_model)
            return true;  // refused by read_hull
    }
    hull::MendedMesh mended = hull::mend(raw->points, raw->triangles, tolerance::weld);
    if (mended.triangles.empty()) return true;  // refused by read_hull
    hull::Hull hull;
    hull.vertices = std::move(mended.vertices);
    hull.triangles = std::move(mended.triangles);
    job::HullOptions options;
    options.model = "fuzz.model";
    options.outward = "as modelled";
    const auto one = hull::make_one_surface(std::move(hull), options, {});
    if (!one) return refusal_is_told(one.error());
    for (const auto& t : one->triangles) {
        for (const std::int32_t v : t) {
            if (v < 0 || static_cast<std::size_t>(v) >= one->vertices.size()) return false;
        }
    }
    return one->report.area_mm2 > 0.0;
}

inline bool mesh_readers_hold(const std::string& bytes) {
    using hull::ModelFormat;
    for (const ModelFormat format :
         {ModelFormat::stl_binary, ModelFormat::stl_ascii, ModelFormat::obj, ModelFormat::ply}) {
        if (!mesh_reader_holds(bytes, format)) return false;
    }
    return true;
}

}  // namespace tearline::fuzz

#pragma once
#include <string>

#include "core/hull/mesh_file.h"

namespace tearline::fuzz {

/// Feeds bytes to the readers of scans; false when an answer breaks its contract.
inline bool scan_readers_hold(const std::string& bytes) {
    using hull::ModelFormat;
    for (const ModelFormat format : {ModelFormat::points, ModelFormat::ply}) {
        const auto scan = hull::read_scan_file({"fuzz.model", bytes, format});
        if (!scan) {
            if (scan.error().kind != ErrorKind::bad_input ||
                !scan.error().message().starts_with("hull."))
                return false;
            continue;
        }
        if (scan->points.empty()) return false;
        for (const Vec3& p : scan->points)
            if (!p.allFinite()) return false;
        for (const auto& t : scan->triangles)
            for (const std::int32_t v : t)
                if (v < 0 || static_cast<std::size_t>(v) >= scan->points.size()) return false;
    }
    return true;
}

}  // namespace tearline::fuzz

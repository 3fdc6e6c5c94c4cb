#include "core/scan/scan.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "core/base/length_text.h"
#include "core/base/sha256.h"
#include "core/hull/mesh_file.h"
#include "core/hull/model_file.h"
#include "core/scan/robust.h"
#include "core/scan/tolerances.h"

namespace tearline::scan {

void Scan::scale(double factor) {
    for (Vec3& point : points) point *= factor;
}

Result<Scan> read_scan(const std::filesystem::path& path, const std::string& unit) {
    const auto file = hull::read_model_file(path);
    if (!file) return tl::unexpected(file.error());
    if (hull::knows_its_unit(file->format))
        return hull::model_error(path, hull::format_name(file->format) +
                                           " models are exact; scans are .ply, .stl, .obj, .xyz, "
                                           ".pts or .csv");
    auto raw = hull::read_scan_file(*file);
    if (!raw) return tl::unexpected(raw.error());
    Scan scan{std::move(raw->points), std::move(raw->triangles), hull::format_name(file->format),
              unit, sha256_hex(file->bytes)};
    scan.scale(hull::millimetres_in(unit).value());
    for (const Vec3& p : scan.points)
        if (!(p.cwiseAbs().maxCoeff() <= tolerance::largest_scanned))
            return hull::model_error(path, "a point lies at " + place_text(p) +
                                               " mm, over 100 000 km out: check hull.unit");
    return scan;
}

double spacing_of(const std::vector<Vec3>& points) {
    constexpr std::size_t asked = 200;
    const std::size_t stride = std::max<std::size_t>(1, points.size() / asked);
    std::vector<double> nearest;
    for (std::size_t i = 0; i < points.size(); i += stride) {
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t k = 0; k < points.size(); ++k)
            if (k != i) least = std::min(least, (points[k] - points[i]).squaredNorm());
        nearest.push_back(std::sqrt(least));
    }
    return median(nearest);
}

Noise noise_of_kind(job::ScanKind kind) {
    switch (kind) {
        case job::ScanKind::light:
            return {0.1, 4.0};
        case job::ScanKind::photo:
            return {1.0, 8.0};
        case job::ScanKind::depth:
            return {3.0, 24.0};
    }
    throw std::logic_error("noise_of_kind: no such kind");
}

std::string kind_word(job::ScanKind kind) {
    switch (kind) {
        case job::ScanKind::light:
            return "light";
        case job::ScanKind::photo:
            return "photo";
        case job::ScanKind::depth:
            return "depth";
    }
    throw std::logic_error("kind_word: no such kind");
}

}  // namespace tearline::scan

#include "core/scan/scan.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>
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
    scaled *= factor;
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
    scan.scaled = 1.0;
    for (const Vec3& p : scan.points)
        if (!(p.cwiseAbs().maxCoeff() <= tolerance::largest_scanned))
            return hull::model_error(path, "a point lies at " + place_text(p) +
                                               " mm, over 100 000 km out: check hull.unit");
    return scan;
}

namespace {

/// Numbers of points from the least x to the greatest, the same whatever order they come in.
std::vector<std::int32_t> by_x(const std::vector<Vec3>& points) {
    std::vector<std::int32_t> order(points.size());
    std::iota(order.begin(), order.end(), 0);
    const auto before = [&](std::int32_t a, std::int32_t b) {
        const Vec3& p = points[static_cast<std::size_t>(a)];
        const Vec3& q = points[static_cast<std::size_t>(b)];
        return std::lexicographical_compare(p.data(), p.data() + 3, q.data(), q.data() + 3);
    };
    if (!std::is_sorted(order.begin(), order.end(), before))
        std::sort(order.begin(), order.end(), before);
    return order;
}

}  // namespace

double spacing_of(const std::vector<Vec3>& points) {
    constexpr std::size_t asked = 200;
    const std::size_t stride = std::max<std::size_t>(1, points.size() / asked);
    const std::vector<std::int32_t> order = by_x(points);
    std::vector<double> nearest;
    for (std::size_t at = 0; at < order.size(); at += stride) {
        const Vec3& p = points[static_cast<std::size_t>(order[at])];
        double least = std::numeric_limits<double>::infinity();
        // Nothing whose x alone is farther off is nearer.
        const auto nearer = [&](std::int32_t other) {
            const Vec3 way = points[static_cast<std::size_t>(other)] - p;
            if (way.x() * way.x() > least) return false;
            least = std::min(least, way.squaredNorm());
            return true;
        };
        for (std::size_t k = at + 1; k < order.size() && nearer(order[k]);) ++k;
        for (std::size_t k = at; k-- > 0 && nearer(order[k]);) {
        }
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

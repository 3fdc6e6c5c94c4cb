#include <IntCurvesFace_ShapeIntersector.hxx>
#include <Precision.hxx>
#include <TopoDS_Shape.hxx>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <fstream>
#include <gp_Lin.hxx>
#include <numbers>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include "sample-models/shapes.h"
#include "sample-models/write_scan.h"

namespace tearline::samples {
namespace {

using Point = std::array<double, 3>;

// A scan from photographs: 1 mm and 8 mm of correlation, one part in a hundred too small, in
// metres.
constexpr double spread = 0.8, correlation = 8.0, size = 1.0 / 1.01;
constexpr double spacing = 9.0;                                              // [mm]
constexpr double aft = 2300.0, forward = 3100.0, low = 395.0, high = 745.0;  // [mm]
constexpr double dent_x = 2700.0, dent_z = 575.0, dent_depth = 12.0, dent_radius = 42.0;

/// Noise along the normal with a covariance exp(-r^2 / 2 L^2), as a sum of waves of random
/// direction, always the same.
/// @source  Rahimi and Recht, Random features for large-scale kernel machines (2007)
class Waves {
public:
    Waves() {
        std::mt19937 random(20'26);
        const auto share = [&] { return (random() + 0.5) / 4294967296.0; };
        for (Wave& wave : waves_) {
            // Box and Muller: two normal numbers, the same on every machine.
            const double length = std::sqrt(-2.0 * std::log(share())) / correlation;
            const double turn = 2.0 * std::numbers::pi * share();
            wave = {length * std::cos(turn), length * std::sin(turn),
                    2.0 * std::numbers::pi * share()};
        }
    }
    [[nodiscard]] double at(double x, double z) const {
        double sum = 0.0;
        for (const Wave& wave : waves_) sum += std::cos(wave.x * x + wave.z * z + wave.phase);
        return spread * std::sqrt(2.0 / static_cast<double>(waves_.size())) * sum;
    }

private:
    struct Wave {
        double x, z, phase;
    };
    std::array<Wave, 300> waves_{};
};

/// The port topside as a grid, y over x and z.
struct Grid {
    int columns = 0, rows = 0;
    std::vector<Point> points;
};

Grid scanned() {
    const TopoDS_Shape hull = curlew();
    IntCurvesFace_ShapeIntersector ray;
    ray.Load(hull, Precision::Confusion());
    const Waves noise;
    Grid grid;
    grid.columns = static_cast<int>((forward - aft) / spacing) + 1;
    grid.rows = static_cast<int>((high - low) / spacing) + 1;
    for (int row = 0; row < grid.rows; ++row)
        for (int column = 0; column < grid.columns; ++column) {
            const double x = aft + spacing * column, z = low + spacing * row;
            ray.PerformNearest(gp_Lin(gp_Pnt(x, 5000.0, z), gp_Dir(0, -1, 0)), 0.0, 5000.0);
            if (!ray.IsDone() || ray.NbPnt() == 0)
                throw std::runtime_error("the scan passes the hull");
            const double away = std::hypot(x - dent_x, z - dent_z) / dent_radius;
            const double dent = dent_depth * std::exp(-away * away * away * away);
            grid.points.push_back({x, ray.Pnt(1).Y() - dent + noise.at(x, z), z});
        }
    return grid;
}

/// A leg of the trestle that she stands on, seen in front of her.
std::vector<Point> trestle() {
    std::vector<Point> points;
    for (int i = 0; i < 40; ++i)
        for (int k = 0; k < 3; ++k) points.push_back({2400.0 + 9.0 * k, 1130.0, low + 4.0 * i});
    return points;
}

/// In metres, to a tenth of a millimetre, as such a program writes.
Point in_metres(const Point& p) {
    return {p[0] * size / 1000.0, p[1] * size / 1000.0, p[2] * size / 1000.0};
}

void write_points(const std::vector<Point>& points, const std::filesystem::path& file) {
    std::ofstream out(file);
    for (const Point& p : points) {
        const Point m = in_metres(p);
        std::array<char, 64> line{};
        std::snprintf(line.data(), line.size(), "%.4f %.4f %.4f\n", m[0], m[1], m[2]);
        out << line.data();
    }
    if (!out) throw std::runtime_error("cannot write " + file.string());
}

template <class T>
void put(std::ofstream& out, T value) {
    out.write(reinterpret_cast<const char*>(&value), sizeof value);
}

void write_mesh(const Grid& grid, const std::filesystem::path& file) {
    std::ofstream out(file, std::ios::binary);
    const int faces = 2 * (grid.columns - 1) * (grid.rows - 1);
    out << "ply\nformat binary_little_endian 1.0\ncomment Saltmarsh Yard\nelement vertex "
        << grid.points.size() << "\nproperty float x\nproperty float y\nproperty float z\n"
        << "element face " << faces << "\nproperty list uchar ushort vertex_indices\nend_header\n";
    for (const Point& p : grid.points)
        for (const double c : in_metres(p)) put(out, static_cast<float>(c));
    for (int row = 0; row + 1 < grid.rows; ++row)
        for (int column = 0; column + 1 < grid.columns; ++column) {
            const auto at = [&](int r, int c) {
                return static_cast<std::uint16_t>((row + r) * grid.columns + column + c);
            };
            // Seen from port the bow lies to the left: x and z run clockwise there.
            for (const auto& corners : {std::array{at(0, 0), at(1, 0), at(1, 1)},
                                        std::array{at(0, 0), at(1, 1), at(0, 1)}}) {
                put(out, std::uint8_t{3});
                for (const std::uint16_t corner : corners) put(out, corner);
            }
        }
    if (!out) throw std::runtime_error("cannot write " + file.string());
}

}  // namespace

void write_scan_of_curlew(const std::filesystem::path& folder) {
    const Grid grid = scanned();
    write_mesh(grid, folder / "curlew-photo.ply");
    std::vector<Point> points = grid.points;
    for (const Point& p : trestle()) points.push_back(p);
    write_points(points, folder / "curlew-photo.xyz");
}

}  // namespace tearline::samples

#pragma once
#include <unistd.h>

#include <array>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <functional>
#include <numbers>
#include <stdexcept>
#include <string>
#include <vector>

#include "core/base/numbers.h"
#include "core/base/vec.h"

/// Meshes made by formula and written in every format the program reads.
namespace tearline::test {

struct PlainMesh {
    std::vector<Vec3> points;
    std::vector<std::array<std::int32_t, 3>> triangles;
};

/// A rectangle of parameters cut into cells of two triangles each, carried into space.
inline PlainMesh grid(int across, int along, const std::function<Vec3(double, double)>& at) {
    PlainMesh mesh;
    for (int j = 0; j <= along; ++j) {
        for (int i = 0; i <= across; ++i) {
            mesh.points.push_back(
                at(static_cast<double>(i) / across, static_cast<double>(j) / along));
        }
    }
    const auto number = [&](int i, int j) { return j * (across + 1) + i; };
    for (int j = 0; j < along; ++j) {
        for (int i = 0; i < across; ++i) {
            mesh.triangles.push_back({number(i, j), number(i + 1, j), number(i + 1, j + 1)});
            mesh.triangles.push_back({number(i, j), number(i + 1, j + 1), number(i, j + 1)});
        }
    }
    return mesh;
}

/// The lower half of a cylinder along x, facing outward.
inline PlainMesh trough(double radius, double length, int round, int along) {
    return grid(round, along, [=](double u, double v) {
        const double angle = std::numbers::pi * (1.0 + u);
        return Vec3(length * v, radius * std::cos(angle), radius * std::sin(angle));
    });
}

/// A box from `low` to `high`, facing outward: 12 triangles.
inline PlainMesh box(const Vec3& low, const Vec3& high) {
    PlainMesh mesh;
    for (int i = 0; i < 8; ++i) {
        mesh.points.emplace_back(i & 1 ? high.x() : low.x(), i & 2 ? high.y() : low.y(),
                                 i & 4 ? high.z() : low.z());
    }
    mesh.triangles = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5}, {0, 5, 4},
                      {2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
    return mesh;
}

inline void append(PlainMesh& mesh, const PlainMesh& other) {
    const auto first = static_cast<std::int32_t>(mesh.points.size());
    mesh.points.insert(mesh.points.end(), other.points.begin(), other.points.end());
    for (const auto& [a, b, c] : other.triangles) {
        mesh.triangles.push_back({a + first, b + first, c + first});
    }
}

inline PlainMesh turned_over(PlainMesh mesh) {
    for (auto& t : mesh.triangles) std::swap(t[1], t[2]);
    return mesh;
}

/// A folder of the test's own, gone with it.
class Folder {
public:
    Folder() {
        std::string name = (std::filesystem::temp_directory_path() / "tearline-XXXXXX").string();
        if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
        path_ = name;
    }
    ~Folder() { std::filesystem::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::filesystem::path write(const std::string& name, const std::string& bytes) const {
        std::ofstream(path_ / name, std::ios::binary) << bytes;
        return path_ / name;
    }

private:
    std::filesystem::path path_;
};

template <class T>
std::string raw(T value, bool swap = false) {
    std::string bytes(sizeof value, '\0');
    std::memcpy(bytes.data(), &value, sizeof value);
    return swap ? std::string(bytes.rbegin(), bytes.rend()) : bytes;
}

inline std::string stl_binary(const PlainMesh& mesh) {
    std::string bytes(80, ' ');
    bytes += raw(static_cast<std::uint32_t>(mesh.triangles.size()));
    for (const auto& t : mesh.triangles) {
        bytes.append(12, '\0');
        for (const std::int32_t v : t) {
            for (const double x : mesh.points[static_cast<std::size_t>(v)]) {
                bytes += raw(static_cast<float>(x));
            }
        }
        bytes.append(2, '\0');
    }
    return bytes;
}

inline std::string words(const Vec3& p) {
    return shortest(p.x()) + " " + shortest(p.y()) + " " + shortest(p.z());
}

inline std::string stl_text(const PlainMesh& mesh) {
    std::string text = "solid hull\n";
    for (const auto& t : mesh.triangles) {
        text += "  facet normal 0 0 0\n    outer loop\n";
        for (const std::int32_t v : t) {
            text += "      vertex " + words(mesh.points[static_cast<std::size_t>(v)]) + "\n";
        }
        text += "    endloop\n  endfacet\n";
    }
    return text + "endsolid hull\n";
}

inline std::string obj_text(const PlainMesh& mesh) {
    std::string text = "# a hull\no hull\n";
    for (const Vec3& p : mesh.points) text += "v " + words(p) + "\n";
    for (const auto& [a, b, c] : mesh.triangles) {
        text += "f " + std::to_string(a + 1) + " " + std::to_string(b + 1) + " " +
                std::to_string(c + 1) + "\n";
    }
    return text;
}

/// PLY with a needless property before and a needless element behind, as scanners write them.
inline std::string ply(const PlainMesh& mesh, const std::string& coding) {
    const bool ascii = coding == "ascii", swap = coding == "binary_big_endian";
    std::string text =
        "ply\nformat " + coding + " 1.0\ncomment a hull\nelement vertex " +
        std::to_string(mesh.points.size()) +
        "\nproperty uchar red\nproperty double x\nproperty double y\nproperty double "
        "z\nelement face " +
        std::to_string(mesh.triangles.size()) +
        "\nproperty list uchar int vertex_indices\nelement edge 1\nproperty int "
        "vertex1\nend_header\n";
    for (const Vec3& p : mesh.points) {
        if (ascii) {
            text += "255 " + words(p) + "\n";
            continue;
        }
        text += raw(std::uint8_t{255});
        for (const double x : p) text += raw(x, swap);
    }
    for (const auto& t : mesh.triangles) {
        text += ascii ? std::string("3") : raw(std::uint8_t{3});
        for (const std::int32_t v : t) text += ascii ? " " + std::to_string(v) : raw(v, swap);
        if (ascii) text += "\n";
    }
    return text + (ascii ? std::string("0\n") : raw(std::int32_t{0}, swap));
}

}  // namespace tearline::test

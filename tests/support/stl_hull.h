#pragma once
#include <array>
#include <cstring>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <vector>

#include "core/hull/hull.h"

namespace tearline::test {

/// The facets of a binary STL file welded at equal coordinates: a reader of the test's own.
inline hull::Hull stl_hull(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    const std::string bytes((std::istreambuf_iterator<char>(file)),
                            std::istreambuf_iterator<char>());
    hull::Hull hull;
    std::uint32_t count = 0;
    std::memcpy(&count, bytes.data() + 80, sizeof count);
    std::map<std::array<float, 3>, std::int32_t> number;
    for (std::uint32_t t = 0; t < count; ++t) {
        std::array<std::int32_t, 3> v{};
        for (std::size_t k = 0; k < 3; ++k) {
            std::array<float, 3> p{};
            std::memcpy(p.data(), bytes.data() + 84 + 50 * t + 12 + 12 * k, sizeof p);
            const auto [found, fresh] =
                number.try_emplace(p, static_cast<std::int32_t>(hull.vertices.size()));
            if (fresh) hull.vertices.emplace_back(p[0], p[1], p[2]);
            v[k] = found->second;
        }
        if (v[0] != v[1] && v[1] != v[2] && v[2] != v[0]) hull.triangles.push_back(v);
    }
    return hull;
}

}  // namespace tearline::test

#include <cmath>
#include <cstdint>
#include <cstring>

#include "core/hull/mesh_file.h"
#include "core/hull/text_lines.h"

namespace tearline::hull {
namespace {

constexpr std::size_t header_bytes = 80, facet_bytes = 50, normal_bytes = 12;

void add_triangle(RawMesh& mesh) {
    const auto n = static_cast<std::int32_t>(mesh.points.size());
    mesh.triangles.push_back({n - 3, n - 2, n - 1});
}

}  // namespace

Result<RawMesh> read_stl_binary(const ModelFile& file) {
    const std::string& bytes = file.bytes;
    std::uint32_t said = 0;
    if (bytes.size() < header_bytes + sizeof said) {
        return model_error(file.path, "the STL file ends inside its header; export it again");
    }
    std::memcpy(&said, bytes.data() + header_bytes, sizeof said);
    const std::size_t held = (bytes.size() - header_bytes - sizeof said) / facet_bytes;
    if (said > held) {
        return model_error(file.path, "the STL header says " + std::to_string(said) +
                                          " facets but the file holds " + std::to_string(held) +
                                          ": it is cut short or damaged; export it again");
    }
    RawMesh mesh;
    mesh.points.reserve(std::size_t{3} * said);
    mesh.triangles.reserve(said);
    const char* at = bytes.data() + header_bytes + sizeof said;
    for (std::uint32_t f = 0; f < said; ++f, at += facet_bytes) {
        float c[9];
        std::memcpy(c, at + normal_bytes, sizeof c);
        for (int k = 0; k < 9; k += 3) mesh.points.emplace_back(c[k], c[k + 1], c[k + 2]);
        add_triangle(mesh);
        float sum = 0.0f;
        for (const float x : c) sum += x * 0.0f;  // NaN when any is NaN or infinite
        if (!(sum == 0.0f)) {
            return model_error(file.path, "facet " + std::to_string(f + 1) +
                                              " has a coordinate that is no finite number");
        }
    }
    return mesh;
}

Result<RawMesh> read_stl_ascii(const ModelFile& file) {
    RawMesh mesh;
    TextLines lines(file.bytes);
    int corners = 0;
    bool closed = false;
    while (lines.next()) {
        const auto fail = [&](const std::string& what) {
            return model_error(file.path, "line " + std::to_string(lines.number()) + ": " + what);
        };
        const std::string_view word = lines.word();
        if (word == "vertex") {
            Vec3 p;
            for (int k = 0; k < 3; ++k) {
                const std::string_view text = lines.word();
                if (!read_word(text, p[k]) || !std::isfinite(p[k])) {
                    return fail("vertex: '" + std::string(text) + "' is no finite number");
                }
            }
            if (++corners > 3) return fail("a facet has more than three vertices");
            mesh.points.push_back(p);
        } else if (word == "endloop" || word == "endfacet") {
            if (corners != 0 && corners != 3) return fail("a facet has not three vertices");
            if (corners == 3) add_triangle(mesh);
            corners = 0;
        } else if (word == "endsolid") {
            closed = true;
        } else if (word == "solid") {
            closed = false;
        } else if (!word.empty() && word != "facet" && word != "outer") {
            return fail("'" + std::string(word.substr(0, 20)) + "' is no word of a text STL file");
        }
    }
    if (corners != 0 || !closed) {
        return model_error(file.path,
                           "the STL file ends too early, endsolid is missing; export it "
                           "again");
    }
    return mesh;
}

}  // namespace tearline::hull

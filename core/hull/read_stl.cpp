#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>

#include "core/hull/mesh_file.h"
#include "core/hull/points_once.h"
#include "core/hull/text_lines.h"

namespace tearline::hull {
namespace {

constexpr std::size_t header_bytes = 80, facet_bytes = 50, normal_bytes = 12;

/// Facets as they come, each corner a point of its own or one that another facet has, too.
class Facets {
public:
    Facets(RawMesh& mesh, Corners corners) : mesh_(mesh), corners_(corners), once_(mesh.points) {}

    void reserve(std::size_t facets) {
        mesh_.triangles.reserve(facets);
        if (corners_ == Corners::each)
            mesh_.points.reserve(3 * facets);
        else
            once_.reserve(facets / 2 + facets / 50);  // of a surface without many holes
    }
    void add(const std::array<Vec3, 3>& corner) {
        std::array<std::int32_t, 3> number{};
        for (std::size_t k = 0; k < 3; ++k) {
            number[k] = corners_ == Corners::once ? once_.number_of(corner[k])
                                                  : static_cast<std::int32_t>(mesh_.points.size());
            if (corners_ == Corners::each) mesh_.points.push_back(corner[k]);
        }
        mesh_.triangles.push_back(number);
    }

private:
    RawMesh& mesh_;
    Corners corners_;
    PointsOnce once_;
};

}  // namespace

Result<RawMesh> read_stl_binary(const ModelFile& file, Corners corners) {
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
    Facets facets(mesh, corners);
    facets.reserve(said);
    const char* at = bytes.data() + header_bytes + sizeof said;
    for (std::uint32_t f = 0; f < said; ++f, at += facet_bytes) {
        float c[9];
        std::memcpy(c, at + normal_bytes, sizeof c);
        float sum = 0.0f;
        for (const float x : c) sum += x * 0.0f;  // NaN when any is NaN or infinite
        if (!(sum == 0.0f)) {
            return model_error(file.path, "facet " + std::to_string(f + 1) +
                                              " has a coordinate that is no finite number");
        }
        facets.add({Vec3(c[0], c[1], c[2]), Vec3(c[3], c[4], c[5]), Vec3(c[6], c[7], c[8])});
    }
    return mesh;
}

Result<RawMesh> read_stl_ascii(const ModelFile& file, Corners kept) {
    RawMesh mesh;
    Facets facets(mesh, kept);
    TextLines lines(file.bytes);
    std::array<Vec3, 3> corner;
    std::size_t corners = 0;
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
            if (corners == 3) return fail("a facet has more than three vertices");
            corner[corners++] = p;
        } else if (word == "endloop" || word == "endfacet") {
            if (corners != 0 && corners != 3) return fail("a facet has not three vertices");
            if (corners == 3) facets.add(corner);
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

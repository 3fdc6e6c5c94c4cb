#include <cmath>
#include <cstdint>

#include "core/hull/cut_polygon.h"
#include "core/hull/mesh_file.h"
#include "core/hull/text_lines.h"

namespace tearline::hull {

Result<RawMesh> read_obj(const ModelFile& file) {
    RawMesh mesh;
    mesh.single_precision = false;
    TextLines lines(file.bytes);
    std::vector<std::int32_t> polygon;
    while (lines.next()) {
        const auto fail = [&](const std::string& what) {
            return model_error(file.path, "line " + std::to_string(lines.number()) + ": " + what);
        };
        const std::string_view word = lines.word();
        if (word == "v") {
            Vec3 p;
            for (int k = 0; k < 3; ++k) {
                const std::string_view text = lines.word();
                if (!read_word(text, p[k]) || !std::isfinite(p[k])) {
                    return fail("v: '" + std::string(text) + "' is no finite number");
                }
            }
            mesh.points.push_back(p);
        } else if (word == "f") {
            polygon.clear();
            const auto known = static_cast<std::int64_t>(mesh.points.size());
            for (std::string_view text = lines.word(); !text.empty(); text = lines.word()) {
                std::int64_t index = 0;
                const std::string_view number = text.substr(0, text.find('/'));
                if (!read_word(number, index)) {
                    return fail("f: '" + std::string(text) + "' is no vertex number");
                }
                if (index < 0) index += known + 1;  // counted back from the last
                if (index < 1 || index > known) {
                    return fail("f: vertex '" + std::string(text) + "' does not exist; " +
                                std::to_string(known) + " are known here");
                }
                polygon.push_back(static_cast<std::int32_t>(index - 1));
            }
            if (polygon.size() < 3) return fail("f: a face needs three vertices or more");
            if (const auto why = cut_polygon(mesh.points, polygon, mesh.triangles)) {
                return fail("f: " + *why);
            }
        }
    }
    return mesh;
}

}  // namespace tearline::hull

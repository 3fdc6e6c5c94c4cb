#include "core/pieces/ply_shape.h"

#include <string>

namespace tearline::pieces {

Result<plies::LaySurface> lay_with_lines(const PlyShape& shape,
                                         const std::vector<std::vector<Vec2>>& lines) {
    plies::RegionMeshOptions options;
    options.lines = shape.kinks;
    options.lines.insert(options.lines.end(), lines.begin(), lines.end());
    const auto mesh = plies::mesh_region(*shape.patch, shape.region, options);
    if (!mesh) return tl::unexpected(mesh.error());
    return plies::lay_surface(*shape.patch, *mesh, shape.depth, shape.middle);
}

std::string piece_letters(std::size_t index) {
    std::string letters;
    for (std::size_t rest = index + 1; rest > 0; rest = (rest - 1) / 26)
        letters.insert(letters.begin(), static_cast<char>('A' + (rest - 1) % 26));
    return letters;
}

std::string piece_id(const PlyShape& shape, std::size_t index) {
    return std::to_string(shape.ply) + piece_letters(shape.first_piece + index);
}

}  // namespace tearline::pieces

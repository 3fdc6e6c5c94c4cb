#include "core/formats/piece_mesh.h"

#include <array>
#include <bit>
#include <cstddef>
#include <stdexcept>
#include <string_view>
#include <utility>
#include <vector>

#include "core/formats/json_writer.h"

namespace tearline::formats {

namespace {

static_assert(std::endian::native == std::endian::little,
              "arrays are written as they lie in memory");

/// The arrays of a file: where they lie is known before they are copied behind the header that
/// names them. They stay with whoever adds them.
class Arrays {
public:
    Arrays() { list_.begin_array(); }

    /// Rows of numbers as they lie in memory, without gaps.
    template <class Number, std::size_t columns, class Row>
    void add_rows(std::string_view name, const std::vector<Row>& rows) {
        static_assert(sizeof(Row) == columns * sizeof(Number));
        const std::size_t offset = (size_ + alignment - 1) / alignment * alignment;
        list_.begin_object().field("name", name);
        list_.field("type", sizeof(Number) == 8 ? "float64" : "int32");
        list_.key("shape").begin_array().value(rows.size()).value(columns).end_array();
        list_.field("offset", offset).end_object();
        const std::size_t bytes = rows.size() * sizeof(Row);
        blocks_.push_back({reinterpret_cast<const char*>(rows.data()), bytes, offset});
        size_ = offset + bytes;
    }

    /// The header line that names them, then their bytes.
    [[nodiscard]] std::string file_of(JsonWriter header) {
        header.field("bytes", size_);
        header.key("arrays").raw(list_.end_array().take()).end_object();
        std::string text = header.take();
        // Spaces before the line's end, so that the arrays are aligned in the file as well.
        const std::size_t start = (text.size() + alignment) / alignment * alignment;
        text.reserve(start + size_);
        text.resize(start - 1, ' ');
        text += '\n';
        for (const Block& block : blocks_) {
            text.resize(start + block.offset, '\0');
            text.append(block.data, block.bytes);
        }
        return text;
    }

private:
    static constexpr std::size_t alignment = 8;
    struct Block {
        const char* data;
        std::size_t bytes, offset;
    };
    JsonWriter list_;
    std::vector<Block> blocks_;
    std::size_t size_ = 0;
};

void add_points(Arrays& arrays, std::string_view name, const std::vector<Vec3>& points) {
    arrays.add_rows<double, 3>(name, points);
}

void add_numbers(Arrays& arrays, std::string_view name, const std::vector<double>& numbers) {
    arrays.add_rows<double, 1>(name, numbers);
}

void add_triangles(Arrays& arrays, const std::vector<std::array<std::int32_t, 3>>& triangles) {
    arrays.add_rows<std::int32_t, 3>("triangles", triangles);
}

}  // namespace

std::string piece_mesh(const pieces::Piece& piece) {
    const std::size_t vertices = piece.lay.position.size();
    if (piece.base.size() != vertices || piece.flat.size() != vertices)
        throw std::logic_error("piece " + piece.id + ": not every vertex has its places");
    Arrays arrays;
    add_points(arrays, "lay", piece.lay.position);
    add_points(arrays, "base", piece.base);
    arrays.add_rows<double, 2>("flat", piece.flat);
    add_triangles(arrays, piece.lay.triangle);
    std::vector<std::array<double, 2>> strain;
    if (!piece.shear_degrees.empty()) {
        add_numbers(arrays, "shear_deg", piece.shear_degrees);
    } else {
        strain.reserve(piece.stretch.size());
        for (const auto& [s1, s2] : piece.stretch) strain.push_back({s1 - 1.0, s2 - 1.0});
        arrays.add_rows<double, 2>("strain", strain);
    }
    JsonWriter header;
    header.begin_object().field("schema", "tearline-piece/1").field("piece", piece.id);
    return arrays.file_of(std::move(header));
}

std::string dish_mesh(const plan::DishView& dish) {
    Arrays arrays;
    add_points(arrays, "base", dish.points);
    add_numbers(arrays, "depth", dish.depth);
    add_triangles(arrays, dish.triangles);
    JsonWriter header;
    header.begin_object().field("schema", "tearline-dish/1");
    return arrays.file_of(std::move(header));
}

}  // namespace tearline::formats

#include "core/formats/piece_mesh.h"

#include <bit>
#include <cstring>
#include <stdexcept>
#include <utility>

#include "core/formats/json_writer.h"

namespace tearline::formats {

namespace {

static_assert(std::endian::native == std::endian::little,
              "arrays are written as they lie in memory");

/// The arrays of a file, gathered before the header that names them is written.
class Arrays {
public:
    template <class Number>
    void begin(std::string name, std::size_t rows, std::size_t columns) {
        while (bytes_.size() % 8 != 0) bytes_ += '\0';
        list_.begin_object().field("name", name);
        list_.field("type", sizeof(Number) == 8 ? "float64" : "int32");
        list_.key("shape").begin_array().value(rows).value(columns).end_array();
        list_.field("offset", bytes_.size()).end_object();
    }
    template <class Number>
    void add(Number number) {
        char raw[sizeof(Number)];
        std::memcpy(raw, &number, sizeof(Number));
        bytes_.append(raw, sizeof(Number));
    }
    /// Rows of numbers as they lie in memory, without gaps.
    template <class Number, std::size_t columns, class Row>
    void add_rows(std::string name, const std::vector<Row>& rows) {
        static_assert(sizeof(Row) == columns * sizeof(Number));
        begin<Number>(std::move(name), rows.size(), columns);
        bytes_.append(reinterpret_cast<const char*>(rows.data()), rows.size() * sizeof(Row));
    }
    void begin_list() { list_.begin_array(); }
    [[nodiscard]] std::string list() { return list_.end_array().take(); }
    [[nodiscard]] const std::string& bytes() const { return bytes_; }

private:
    JsonWriter list_;
    std::string bytes_;
};

void add_points(Arrays& arrays, const std::string& name, const std::vector<Vec3>& points) {
    arrays.add_rows<double, 3>(name, points);
}

void add_numbers(Arrays& arrays, const std::string& name, const std::vector<double>& numbers) {
    arrays.add_rows<double, 1>(name, numbers);
}

void add_triangles(Arrays& arrays, const std::vector<std::array<std::int32_t, 3>>& triangles) {
    arrays.add_rows<std::int32_t, 3>("triangles", triangles);
}

/// The header line that names the arrays, then their bytes.
std::string file_of(JsonWriter& header, Arrays& arrays) {
    header.field("bytes", arrays.bytes().size());
    header.key("arrays").raw(arrays.list()).end_object();
    std::string text = header.take();
    // Spaces before the line's end, so that the arrays are aligned in the file as well.
    while (text.size() % 8 != 7) text += ' ';
    return text + "\n" + arrays.bytes();
}

}  // namespace

std::string piece_mesh(const pieces::Piece& piece) {
    const std::size_t vertices = piece.lay.position.size();
    if (piece.base.size() != vertices || piece.flat.size() != vertices)
        throw std::logic_error("piece " + piece.id + ": not every vertex has its places");
    Arrays arrays;
    arrays.begin_list();
    add_points(arrays, "lay", piece.lay.position);
    add_points(arrays, "base", piece.base);
    arrays.add_rows<double, 2>("flat", piece.flat);
    add_triangles(arrays, piece.lay.triangle);
    if (!piece.shear_degrees.empty()) {
        add_numbers(arrays, "shear_deg", piece.shear_degrees);
    } else {
        arrays.begin<double>("strain", piece.stretch.size(), 2);
        for (const auto& [s1, s2] : piece.stretch) {
            arrays.add(s1 - 1.0);
            arrays.add(s2 - 1.0);
        }
    }
    JsonWriter header;
    header.begin_object().field("schema", "tearline-piece/1").field("piece", piece.id);
    return file_of(header, arrays);
}

std::string dish_mesh(const plan::DishView& dish) {
    Arrays arrays;
    arrays.begin_list();
    add_points(arrays, "base", dish.points);
    add_numbers(arrays, "depth", dish.depth);
    add_triangles(arrays, dish.triangles);
    JsonWriter header;
    header.begin_object().field("schema", "tearline-dish/1");
    return file_of(header, arrays);
}

}  // namespace tearline::formats

#include "core/formats/piece_mesh.h"

#include <gtest/gtest.h>

#include <cstring>
#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>

/// The file is read back by a reader that knows its definition alone.
namespace tearline::formats::piece_mesh_test {
namespace {

struct Array {
    std::string type;
    std::size_t rows = 0, columns = 0;
    std::vector<double> number;
};

struct MeshFile {
    nlohmann::json header;
    std::map<std::string, Array> arrays;
};

template <class Number>
void take(const std::string& bytes, std::size_t from, Array& array) {
    for (std::size_t i = 0; i < array.rows * array.columns; ++i) {
        Number number{};
        std::memcpy(&number, bytes.data() + from + i * sizeof number, sizeof number);
        array.number.push_back(static_cast<double>(number));
    }
}

/// Offsets count from the end of the header line; every array has to lie aligned and in the file.
MeshFile read(const std::string& bytes) {
    MeshFile file;
    const std::size_t line = bytes.find('\n');
    file.header = nlohmann::json::parse(bytes.substr(0, line));
    std::size_t end = line + 1;
    for (const auto& entry : file.header["arrays"]) {
        Array array{entry["type"], entry["shape"][0], entry["shape"][1], {}};
        const std::size_t size = array.type == "float64" ? 8 : 4;
        const std::size_t from = line + 1 + entry["offset"].get<std::size_t>();
        EXPECT_EQ(from % 8, 0u) << entry;
        EXPECT_GE(from, end) << entry << " begins in the array before";
        EXPECT_LT(from, end + 8) << entry << " leaves room before it";
        end = from + size * array.rows * array.columns;
        EXPECT_LE(end, bytes.size()) << entry;
        if (end > bytes.size()) break;
        size == 8 ? take<double>(bytes, from, array) : take<std::int32_t>(bytes, from, array);
        file.arrays.emplace(entry["name"], std::move(array));
    }
    EXPECT_EQ(file.header["bytes"], bytes.size() - line - 1);
    EXPECT_EQ(end, bytes.size());
    return file;
}

/// One triangle, then another beside it: an odd number of int32 would leave what follows askew.
pieces::Piece piece(std::size_t triangles) {
    pieces::Piece made;
    made.id = "2B";
    made.lay.position = {{0.0, 0.0, 1.5}, {10.0, 0.0, 1.5}, {0.0, 10.0, 1.0 / 3.0}, {10, 10, -2}};
    made.base = {{0, 0, 0}, {10, 0, 0}, {0, 10, 0}, {10, 10, 0.1}};
    made.flat = {{-0.25, 0.0}, {9.75, 0.0}, {-0.25, 1e-17}, {9.75, 10.0}};
    made.lay.triangle = {{0, 1, 2}, {1, 3, 2}};
    made.lay.triangle.resize(triangles);
    made.stretch = {{1.25, 0.5}, {1.0, 1.0}};
    made.stretch.resize(triangles);
    return made;
}

TEST(PieceMesh, IsReadBackBitByBit) {
    const pieces::Piece written = piece(1);
    const MeshFile file = read(piece_mesh(written));
    EXPECT_EQ(file.header["schema"], "tearline-piece/1");
    EXPECT_EQ(file.header["piece"], "2B");
    ASSERT_EQ(file.arrays.size(), 5u);
    for (const auto& [name, points] :
         {std::pair("lay", &written.lay.position), {"base", &written.base}}) {
        const Array& array = file.arrays.at(name);
        ASSERT_EQ(array.rows, points->size());
        ASSERT_EQ(array.columns, 3u);
        for (std::size_t i = 0; i < array.number.size(); ++i)
            EXPECT_EQ(array.number[i], (*points)[i / 3][static_cast<Eigen::Index>(i % 3)]);
    }
    EXPECT_EQ(file.arrays.at("flat").number,
              (std::vector<double>{-0.25, 0.0, 9.75, 0.0, -0.25, 1e-17, 9.75, 10.0}));
    EXPECT_EQ(file.arrays.at("triangles").type, "int32");
    EXPECT_EQ(file.arrays.at("triangles").number, (std::vector<double>{0, 1, 2}));
}

TEST(PieceMesh, TellsStrainsAndNotStretches) {
    // By definition strain = stretch - 1.
    for (const std::size_t triangles : {1u, 2u}) {
        const Array strain = read(piece_mesh(piece(triangles))).arrays.at("strain");
        ASSERT_EQ(strain.rows, triangles);
        EXPECT_EQ(strain.columns, 2u);
        EXPECT_EQ(strain.number[0], 0.25);
        EXPECT_EQ(strain.number[1], -0.5);
    }
}

TEST(PieceMesh, OfClothTellsShearInsteadOfStrain) {
    pieces::Piece cloth = piece(2);
    cloth.shear_degrees = {3.5, -12.25};
    const MeshFile file = read(piece_mesh(cloth));
    EXPECT_EQ(file.arrays.at("shear_deg").number, (std::vector<double>{3.5, -12.25}));
    EXPECT_EQ(file.arrays.count("strain"), 0u);
}

TEST(PieceMesh, OfNothingIsAFileToo) {
    const MeshFile file = read(piece_mesh({}));
    ASSERT_EQ(file.arrays.size(), 5u);
    for (const auto& [name, array] : file.arrays) EXPECT_EQ(array.rows, 0u) << name;
}

TEST(PieceMesh, RefusesAVertexWithoutItsPlaces) {
    pieces::Piece half = piece(2);
    half.flat.pop_back();
    EXPECT_THROW((void)piece_mesh(half), std::logic_error);
    half = piece(2);
    half.base.pop_back();
    EXPECT_THROW((void)piece_mesh(half), std::logic_error);
}

TEST(PieceMesh, IsAlignedWhateverTheLengthOfItsName) {
    // The header's length goes through every remainder of 8; read() looks at each array's place.
    pieces::Piece named = piece(1);
    for (int length = 0; length < 9; ++length) {
        named.id = std::string(static_cast<std::size_t>(length), 'A');
        EXPECT_EQ(read(piece_mesh(named)).header["piece"], named.id);
    }
}

TEST(DishMesh, IsReadBack) {
    const plan::DishView dish{{{1, 2, 3}, {4, 5, 6}, {7, 8, 9.5}}, {0.0, 2.5, 6.0}, {{0, 1, 2}}};
    const MeshFile file = read(dish_mesh(dish));
    EXPECT_EQ(file.header["schema"], "tearline-dish/1");
    EXPECT_EQ(file.arrays.at("base").number, (std::vector<double>{1, 2, 3, 4, 5, 6, 7, 8, 9.5}));
    EXPECT_EQ(file.arrays.at("depth").number, (std::vector<double>{0.0, 2.5, 6.0}));
    EXPECT_EQ(file.arrays.at("triangles").number, (std::vector<double>{0, 1, 2}));
}

}  // namespace
}  // namespace tearline::formats::piece_mesh_test

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

#include "core/hull/read_hull.h"
#include "tests/support/mesh_files.h"

namespace tearline::hull {
namespace {

using namespace tearline::test;

std::string sample_bytes(const std::string& name) {
    std::ifstream in(std::string(TEARLINE_SAMPLES) + "/" + name, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::string replaced(std::string text, const std::string& what, const std::string& by) {
    const std::size_t at = text.find(what);
    if (at == std::string::npos) throw std::runtime_error("nothing to replace: " + what);
    return text.replace(at, what.size(), by);
}

PlainMesh small() {
    return trough(500.0, 2000.0, 8, 4);
}

std::string with_coordinate(float value) {
    std::string bytes = stl_binary(small());
    const std::string patch = raw(value);
    return bytes.replace(84 + 50 * 10 + 12, 4, patch);
}

struct BadFile {
    std::string what, name, bytes, says;  ///< `says`: the words a repairer needs
};

std::vector<BadFile> bad_files() {
    const std::string stl = stl_binary(small()), text = stl_text(small()), obj = obj_text(small());
    const std::string step = sample_bytes("cylinder.step");
    const std::string little = ply(small(), "binary_little_endian"), ascii = ply(small(), "ascii");
    std::string huge = stl;
    huge.replace(80, 4, raw(std::uint32_t{0xFFFFFFFF}));
    return {
        {"empty STL", "a.stl", "", "empty"},
        {"blank STL", "a.stl", "  \n\n", "empty"},
        {"header only", "a.stl", std::string(50, 'x'), "ends inside its header"},
        {"no facets", "a.stl", std::string(84, '\0'), "no triangle"},
        {"huge count", "a.stl", huge, "says 4294967295 facets but the file holds 64"},
        {"cut short", "a.stl", stl.substr(0, stl.size() / 2), "cut short"},
        {"NaN", "a.stl", with_coordinate(std::nanf("")), "facet 11"},
        {"infinite", "a.stl", with_coordinate(INFINITY), "facet 11"},
        {"far away", "a.stl", with_coordinate(3e30f), "check hull.unit"},
        {"text cut short", "a.stl", text.substr(0, text.size() / 2), "ends too early"},
        {"text without end", "a.stl", text.substr(0, text.rfind("endsolid")), "endsolid"},
        {"text NaN", "a.stl", replaced(text, "vertex 0", "vertex nan"), "line 4: vertex: 'nan'"},
        {"text no number", "a.stl", replaced(text, "vertex 0", "vertex left"), "'left'"},
        {"text comma", "a.stl", replaced(text, "vertex 0", "vertex 0,5"), "'0,5'"},
        {"text quadrilateral", "a.stl",
         replaced(text, "    endloop", "      vertex 1 2 3\n    endloop"), "more than three"},
        {"text other words", "a.stl", "solid x\nhello\nendsolid\n", "line 2: 'hello'"},
        {"all flat", "a.stl",
         stl_text(grid(4, 4, [](double u, double) { return Vec3(900 * u, 0, 0); })),
         "none of its triangles has any area"},
        {"PLY as STL", "a.stl", ascii, "of kind PLY, not STL"},
        {"STEP as OBJ", "a.obj", step, "of kind STEP, not OBJ"},
        {"STL as STEP", "a.step", stl, "of kind STL, not STEP"},
        {"OBJ as PLY", "a.ply", obj, "not PLY"},
        {"noise as STEP", "a.step", std::string(3000, '\x93'), "not STEP"},
        {"noise as IGES", "a.igs", std::string(3000, '\x07'), "not IGES"},
        {"noise as BREP", "a.brep", "what is this", "not BREP"},
        {"unknown ending", "a.3dm", "x", "use .step"},
        {"no ending", "hull", "x", "use .step"},
        {"OBJ without faces", "a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\n", "points without facets"},
        {"OBJ vertex missing", "a.obj", "v 0 0 0\nv 1 0 0\nf 1 2 3\n", "line 3: f: vertex '3'"},
        {"OBJ vertex zero", "a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 0 1 2\n",
         "line 4: f: vertex '0'"},
        {"OBJ two corners", "a.obj", "v 0 0 0\nv 1 0 0\nf 1 2\n", "three vertices"},
        {"OBJ infinite", "a.obj", "v 0 0 0\nv 1 inf 0\n", "line 2: v: 'inf'"},
        {"PLY without end", "a.ply", "ply\nformat ascii 1.0\n", "end_header"},
        {"PLY format", "a.ply", replaced(ascii, "ascii 1.0", "utf8 1.0"),
         "'utf8' is no PLY format"},
        {"PLY huge", "a.ply", replaced(little, "vertex 45", "vertex 4500000000"),
         "says 4500000000 of element vertex"},
        {"PLY cut short", "a.ply", little.substr(0, little.size() - 40), "of element face"},
        {"PLY bad face", "a.ply", replaced(ascii, "3 0 1", "3 0 901"), "vertex 901 of 45"},
        {"PLY negative face", "a.ply", replaced(ascii, "3 0 1", "3 0 -1"), "does not exist"},
        {"PLY NaN", "a.ply", replaced(ascii, "255 0", "255 nan"), "vertex 0"},
        {"STEP cut short", "a.step", step.substr(0, step.size() / 2), "END-ISO-10303-21"},
        {"STEP header only", "a.step", "ISO-10303-21;\nEND-ISO-10303-21;\n", "DATA"},
        {"STEP no data", "a.step", "ISO-10303-21;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n",
         "DATA section"},
        {"STEP reference", "a.step", replaced(step, "#60 = (", "#6000 = ("), "#60 is used but"},
        {"STEP bracket", "a.step", replaced(step, "LENGTH_UNIT()", "LENGTH_UNIT("), "parenthesis"},
        {"STEP no surface", "a.step", replaced(step, "CYLINDRICAL_SURFACE", "CYLINDRICAL_SURFICE"),
         "surface"},
    };
}

TEST(BadFiles, AreRefusedNamingFileAndRemedy) {
    const Folder folder;
    for (const BadFile& bad : bad_files()) {
        job::HullOptions options;
        options.model = folder.write(bad.name, bad.bytes);
        options.unit = "mm";
        const auto hull = read_hull(options, job::Side::outside);
        ASSERT_FALSE(hull) << bad.what;
        const std::string& message = hull.error().message();
        EXPECT_EQ(hull.error().kind, ErrorKind::bad_input) << bad.what;
        EXPECT_NE(message.find(options.model.string()), std::string::npos) << bad.what << message;
        EXPECT_NE(message.find(bad.says), std::string::npos) << bad.what << ": " << message;
    }
}

TEST(BadFiles, AMissingFileAndAFolderAreRefused) {
    const Folder folder;
    for (const std::filesystem::path& path :
         {std::filesystem::path("/nowhere/hull.stl"), folder.write("a.stl", "x").parent_path()}) {
        job::HullOptions options;
        options.model = path;
        const auto hull = read_hull(options, job::Side::outside);
        ASSERT_FALSE(hull);
        EXPECT_NE(hull.error().message().find(path.string()), std::string::npos);
    }
}

TEST(BadFiles, MeshesWithoutAKnownUnitAskForOne) {
    const Folder folder;
    job::HullOptions options;
    options.model = folder.write("a.stl", stl_binary(small()));
    for (const auto& unit : {std::optional<std::string>(), std::optional<std::string>("furlong")}) {
        options.unit = unit;
        const auto hull = read_hull(options, job::Side::outside);
        ASSERT_FALSE(hull);
        EXPECT_NE(hull.error().message().find("hull.unit"), std::string::npos);
    }
}

}  // namespace
}  // namespace tearline::hull

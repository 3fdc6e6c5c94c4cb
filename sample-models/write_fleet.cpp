#include "sample-models/write_fleet.h"

#include <IntCurvesFace_ShapeIntersector.hxx>
#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <gp_Lin.hxx>
#include <iterator>
#include <stdexcept>
#include <string>
#include <vector>

#include "sample-models/shapes.h"

namespace tearline::samples {
namespace {

constexpr int jobs = 40;

/// Where ten damages lie on a hull: looked at from one side, along a line of places.
struct Boat {
    const char* name;
    const char* model;
    TopoDS_Shape shape;
    gp_Dir from;       ///< the looker's direction, towards the hull
    gp_Pnt first;      ///< outside the hull, before the first damage
    gp_Vec step;       ///< to the next
    double thickness;  ///< [mm] of the skin
};

/// What is laid, by turns.
struct Laying {
    const char* layup;
    const char* resin;
    double depth;  ///< [mm]
};

constexpr Laying layings[] = {
    {"fill = \"mat 450\"\ncover = [\"mat 300\", \"mat 300\"]\n",
     "kind = \"polyester\"\nhardener_percent = 1.25\n", 4.2},
    {"fill = [\"mat 450\", \"roving 600\"]\ncover = [\"mat 300\"]\n",
     "kind = \"polyester\"\nhardener_percent = 1.5\n", 5.4},
    {"order = \"largest first\"\nfill = \"mat 300\"\n",
     "kind = \"polyester\"\nhardener_percent = 1.25\n", 2.8},
    {"fill = \"biaxial 400\"\ncover = [\"cloth 200\"]\n",
     "kind = \"epoxy\"\ndensity = 1.12\nhardener_parts = [5, 1]\nhardener_basis = \"mass\"\n", 3.5},
    {"fill = [\"mat 300\", \"biaxial 400\"]\ncover = [\"mat 300\"]\n",
     "kind = \"polyester\"\nhardener_percent = 1.5\n", 4.8}};

/// The place of the hull that one looks at.
gp_Pnt seen(const Boat& boat, int number) {
    const gp_Pnt eye = boat.first.Translated(number * boat.step);
    IntCurvesFace_ShapeIntersector ray;
    ray.Load(boat.shape, 1e-6);
    ray.PerformNearest(gp_Lin(eye, boat.from), 0.0, 1e5);
    if (!ray.IsDone() || ray.NbPnt() == 0)
        throw std::runtime_error(std::string("the fleet misses ") + boat.model);
    return ray.Pnt(1);
}

std::string text(double value) {
    std::array<char, 32> out{};
    std::snprintf(out.data(), out.size(), "%.1f", value == 0.0 ? 0.0 : value);
    return out.data();
}

std::string job_text(const Boat& boat, int number, int place) {
    const Laying& laying = layings[static_cast<std::size_t>(number) % std::size(layings)];
    const gp_Pnt at = seen(boat, place);
    const double radius = 35.0 + 5.0 * (number * 7 % 11);
    const double ratio = number % 8 == 7 ? 16.0 : 12.0;
    std::string out = "# A place of the season's work list.\ntearline = 1\ntitle = \"" +
                      std::string(boat.name) + ", place " + std::to_string(place + 1) + "\"\n";
    if (number % 9 == 4) out += "display_units = \"us\"\n";
    out += "\n[hull]\nmodel = \"../" + std::string(boat.model) +
           ".step\"\nbow = [1, 0, 0]\nup = [0, 0, 1]\nskin = \"" + text(boat.thickness) + " mm\"\n";
    out +=
        "\n[damage]\ncentre = [" + text(at.X()) + ", " + text(at.Y()) + ", " + text(at.Z()) + "]\n";
    if (number % 3 == 2)
        out += "length = \"" + text(2.6 * radius) + " mm\"\nheight = \"" + text(1.6 * radius) +
               " mm\"\n";
    else
        out += "radius = \"" + text(radius) + " mm\"\n";
    out += "depth = \"" + text(laying.depth) + " mm\"\n";
    out += "\n[scarf]\nratio = " + text(ratio) + "\n\n[layup]\n" + laying.layup + "\n[resin]\n" +
           laying.resin;
    if (number % 4 == 1)
        out +=
            "\n[old_laminate]\nthickness = \"" + text(boat.thickness) + " mm\"\nkind = \"mat\"\n";
    return out;
}

void write(const std::filesystem::path& file, const std::string& text) {
    std::ofstream out(file, std::ios::binary);
    out << text;
    out.close();
    if (!out) throw std::runtime_error("cannot write " + file.string());
}

}  // namespace

void write_fleet(const std::filesystem::path& folder) {
    const std::vector<Boat> boats = {
        {"Curlew 6 m workboat, port topside", "curlew", curlew(), gp_Dir(0, -1, 0),
         gp_Pnt(1400, 3000, 480), gp_Vec(300, 0, 0), 9.0},
        {"Sandpiper dinghy, starboard topside", "sandpiper", sandpiper(), gp_Dir(0, 1, 0),
         gp_Pnt(900, -3000, 300), gp_Vec(170, 0, 0), 6.0},
        {"Wigley launch, port side", "wigley", wigley(), gp_Dir(0, -1, 0),
         gp_Pnt(-1000, 1000, -100), gp_Vec(220, 0, 0), 8.0},
        {"Curlew 6 m workboat, starboard bottom", "curlew", curlew(), gp_Dir(0, 0, 1),
         gp_Pnt(1200, -520, -2000), gp_Vec(260, 0, 0), 9.0}};
    std::filesystem::create_directories(folder / "fleet");
    std::string list =
        "# A season at the Saltmarsh Yard: tearline batch jobs.txt -o results\n"
        "# A job file a line, relative to this file.\n";
    for (int number = 0; number < jobs; ++number) {
        const auto count = static_cast<int>(boats.size());
        const Boat& boat = boats[static_cast<std::size_t>(number % count)];
        std::array<char, 64> name{};
        std::snprintf(name.data(), name.size(), "%02d-%s.toml", number + 1, boat.model);
        write(folder / "fleet" / name.data(), job_text(boat, number, number / count));
        list += std::string(name.data()) + "\n";
    }
    write(folder / "fleet" / "jobs.txt", list);
}

}  // namespace tearline::samples

#include "core/job/fabric_catalogue.h"

#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

struct Entry {
    const char* name;
    FabricKind kind;
    int weight;  ///< [g/m2]
};

// Weights as sold metric; the name is the kind's trade word and the weight.
constexpr Entry entries[] = {
    {"mat 225", FabricKind::mat, 225},         {"mat 300", FabricKind::mat, 300},
    {"mat 450", FabricKind::mat, 450},         {"mat 600", FabricKind::mat, 600},
    {"roving 600", FabricKind::woven, 600},    {"roving 800", FabricKind::woven, 800},
    {"biaxial 400", FabricKind::biaxial, 400}, {"biaxial 600", FabricKind::biaxial, 600},
    {"biaxial 800", FabricKind::biaxial, 800}, {"cloth 200", FabricKind::woven, 200},
    {"cloth 300", FabricKind::woven, 300}};

}  // namespace

Fabric fabric_of_kind(FabricKind kind) {
    Fabric fabric;
    fabric.kind = kind;
    // Glass contents: ISO 12215-5 hand lay-up, from memory. Least radii within the ranges of
    // SOURCES.md section 5 (mat 6-10 mm, woven roving 12-25 mm), from memory.
    switch (kind) {
        case FabricKind::mat:
            fabric.glass_content = 0.30;
            fabric.least_radius = 8.0;
            break;
        case FabricKind::woven:
            fabric.glass_content = 0.48;
            fabric.least_radius = 20.0;
            break;
        case FabricKind::biaxial:
            fabric.glass_content = 0.50;
            fabric.least_radius = 15.0;
            break;
    }
    return fabric;
}

std::map<std::string, Fabric> built_in_fabrics() {
    std::map<std::string, Fabric> fabrics;
    for (const Entry& entry : entries) {
        Fabric fabric = fabric_of_kind(entry.kind);
        fabric.name = entry.name;
        fabric.weight = GramsPerSquareMetre(entry.weight);
        fabrics.emplace(fabric.name, fabric);
    }
    return fabrics;
}

std::vector<std::string_view> built_in_names() {
    std::vector<std::string_view> names;
    for (const Entry& entry : entries) names.push_back(entry.name);
    return names;
}

Layup usual_layup() {
    Layup layup;
    layup.fill = {StackEntry{"mat 450", 0.0, 0.0}};
    layup.cover = {StackEntry{"mat 300", 0.0, 0.0}, StackEntry{"mat 300", 0.0, 0.0}};
    return layup;
}

std::string_view kind_word(FabricKind kind) {
    return word_for(fabric_kind_words(), kind);
}

}  // namespace tearline::job

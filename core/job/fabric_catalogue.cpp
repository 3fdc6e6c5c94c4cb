#include "core/job/fabric_catalogue.h"

#include "core/job/schema/tables.h"

namespace tearline::job {

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
    struct Entry {
        const char* prefix;
        FabricKind kind;
        int weight;
    };
    // Weights as sold metric; the name is the kind's trade word and the weight in g/m2.
    static constexpr Entry entries[] = {
        {"mat", FabricKind::mat, 225},         {"mat", FabricKind::mat, 300},
        {"mat", FabricKind::mat, 450},         {"mat", FabricKind::mat, 600},
        {"roving", FabricKind::woven, 600},    {"roving", FabricKind::woven, 800},
        {"biaxial", FabricKind::biaxial, 400}, {"biaxial", FabricKind::biaxial, 600},
        {"biaxial", FabricKind::biaxial, 800}, {"cloth", FabricKind::woven, 200},
        {"cloth", FabricKind::woven, 300}};
    std::map<std::string, Fabric> fabrics;
    for (const Entry& entry : entries) {
        Fabric fabric = fabric_of_kind(entry.kind);
        fabric.name = std::string(entry.prefix) + " " + std::to_string(entry.weight);
        fabric.weight = GramsPerSquareMetre(entry.weight);
        fabrics.emplace(fabric.name, fabric);
    }
    return fabrics;
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

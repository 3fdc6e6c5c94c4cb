#include "core/job/default_marks.h"

#include <algorithm>
#include <stdexcept>
#include <string>

namespace tearline::job {

namespace {

constexpr DefaultMark marks[] = {
    {"scarf.ratio", "common practice"},
    {"scarf.least_step", "form"},
    {"scarf.safety_factor", "common practice"},
    {"layup.order", "form"},
    {"layup.fill", "common practice"},
    {"layup.fill_to", "form"},
    {"layup.cover", "common practice"},
    {"layup.cover_step", "common practice"},
    {"layup.position", "form"},
    {"layup.copies", "form"},
    {"fabric.glass_content of mat", "from memory"},
    {"fabric.glass_content of woven", "from memory"},
    {"fabric.glass_content of biaxial", "from memory"},
    {"fabric.binder of mat", "common practice"},
    {"fabric.roll_width", "from memory"},
    {"fabric.tear_margin of mat", "common practice"},
    {"fabric.lap of woven", "common practice"},
    {"fabric.lap of biaxial", "common practice"},
    {"fabric.strain_limit of mat", "from memory"},
    {"fabric.shear_limit of woven", "common practice"},
    {"fabric.shear_limit of biaxial", "common practice"},
    {"fabric.least_radius of mat", "from memory"},
    {"fabric.least_radius of woven", "from memory"},
    {"fabric.least_radius of biaxial", "from memory"},
    {"resin.kind", "form"},
    {"resin.density of polyester", "published"},
    {"resin.cured_density of polyester", "published"},
    {"resin.cured_density of epoxy", "from memory"},
    {"resin.hardener_percent of polyester", "common practice"},
    {"resin.hardener_range of polyester", "published"},
    {"resin.hardener_density of polyester", "from memory"},
    {"resin.least_temperature", "common practice"},
    {"resin.recoat_hours", "common practice"},
    {"resin.waxed", "common practice"},
    {"resin.cup", "common practice"},
    {"resin.waste", "common practice"},
    {"resin.prime", "common practice"},
    {"resin.can", "common practice"},
    {"resin.can of US units", "common practice"},
    {"topcoat.finish", "form"},
    {"topcoat.thickness", "common practice"},
    {"topcoat.density", "from memory"},
    {"topcoat.hardener_percent", "published"},
    {"topcoat.hardener_range", "published"},
    {"laminator.wet_out_rate", "from memory"},
    {"laminator.use_fraction", "common practice"},
    {"shop.temperature", "common practice"},
    {"shop.stage_thickness", "common practice"},
    {"shop.cutting_gap", "common practice"},
    {"shop.fairing_skim", "common practice"},
};

}  // namespace

std::span<const DefaultMark> default_marks() {
    return marks;
}

std::string_view mark_of_default(std::string_view key) {
    const auto* found = std::find_if(std::begin(marks), std::end(marks),
                                     [key](const DefaultMark& mark) { return mark.key == key; });
    if (found == std::end(marks))
        throw std::logic_error("no mark for the default of " + std::string(key));
    return found->mark;
}

}  // namespace tearline::job

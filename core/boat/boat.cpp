#include "core/boat/boat.h"

#include <algorithm>
#include <stdexcept>

namespace tearline::boat {

std::size_t Boat::planned() const {
    return static_cast<std::size_t>(
        std::count_if(repairs.begin(), repairs.end(),
                      [](const Repair& repair) { return repair.plan.has_value(); }));
}

const Plan& Boat::any() const {
    for (const Repair& repair : repairs)
        if (repair.plan) return *repair.plan;
    throw std::logic_error("Boat::any: no repair is planned");
}

std::string piece_name(const std::string& repair, const std::string& piece) {
    return repair + "-" + piece;
}

}  // namespace tearline::boat

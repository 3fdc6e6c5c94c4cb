#include "core/variants/variant.h"

#include <algorithm>

#include "core/base/numbers.h"
#include "core/variants/tolerances.h"

namespace tearline::variants {

namespace {
/// [-] below it a scarf is a matter for licensed practice (SOURCES.md section 1)
constexpr double least_ratio = 12.0;
}  // namespace

std::optional<double> Variant::figure(const std::string& name) const {
    const auto found = figures.find(name);
    return found == figures.end() ? std::nullopt : std::optional(found->second);
}

int Variant::count(WarningRank rank) const {
    return static_cast<int>(std::count_if(warnings.begin(), warnings.end(),
                                          [&](const Caution& c) { return c.rank == rank; }));
}

std::string Variant::not_marked_because() const {
    if (!status.is_done()) return "not planned";
    std::string why;
    const auto add = [&](const std::string& more) { why += (why.empty() ? "" : "; ") + more; };
    const double ratio = figure("ratio").value_or(0.0);
    if (!(ratio >= least_ratio)) add("scarf below 12");
    if (const auto required = figure("required_ratio"); required && !(ratio >= *required))
        add("scarf below its check, " + fixed(*required, 1));
    if (weaker || figure("strength").value_or(1.0) < 1.0 - tolerance::same_figure)
        add("weaker than the old laminate");
    if (const int stops = count(WarningRank::stop); stops > 0)
        add(std::to_string(stops) + " to stop and decide");
    return why;
}

}  // namespace tearline::variants

#include "core/job/default_marks.h"

#include <optional>
#include <stdexcept>
#include <string>

#include "core/job/schema/tables.h"

namespace tearline::job {

StandIn stand_in(std::string_view path, std::string_view of) {
    const std::size_t dot = path.rfind('.');
    std::optional<StandIn> found;
    for_each_table([&](const auto& table) {
        if (table.path != path.substr(0, dot)) return;
        for (const auto& key : table.keys)
            for (const Defaults::OfKind& each : key.defaults.all)
                if (key.name == path.substr(dot + 1) && each.of == of)
                    found = StandIn{key.on_sheet, each.mark};
    });
    if (!found) throw std::logic_error("no default of " + std::string(path));
    return *found;
}

}  // namespace tearline::job

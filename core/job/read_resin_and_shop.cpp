#include <cmath>

#include "core/base/numbers.h"
#include "core/job/read_tables.h"
#include "core/job/resin_of_kind.h"

namespace tearline::job {

namespace {

void check_in_range(TableReader& table, const std::optional<double>& percent,
                    const std::optional<std::array<double, 2>>& range) {
    if (!percent || !range || between((*range)[0], (*range)[1]).holds(*percent)) return;
    table.refuse("hardener_percent",
                 "outside hardener_range, " + shortest((*range)[0]) + " to " +
                     shortest((*range)[1]) +
                     " %; too little never cures and too much burns: stay within the data sheet");
}

void read_epoxy(KeyReader<Resin>& table) {
    for (const auto key : {"hardener_percent", "hardener_range"})
        if (table.has(key))
            table.refuse(key, "epoxy is mixed by a fixed ratio; write hardener_parts = [5, 1]");
    table.require("hardener_parts",
                  "epoxy needs its fixed ratio from the data sheet, such as [5, 1]");
    table.require("hardener_basis", "say whether hardener_parts are by \"mass\" or by \"volume\"");
    table.read("hardener_parts");
}

void read_catalysed(KeyReader<Resin>& table, Resin& resin) {
    if (table.has("hardener_parts"))
        table.refuse("hardener_parts",
                     "is for epoxy; polyester and vinylester take hardener_percent");
    if (resin.kind == ResinKind::vinylester) {
        table.require("hardener_percent",
                      "vinylester has no usual figure; write the percentage of its data sheet");
        table.require("cured_density",
                      "vinylester has no usual figure; write the cured density of its data sheet "
                      "in g/cm3, which the thickness of a ply follows from");
    }
    table.read("hardener_range");
    resin.hardener_given = table.has("hardener_percent");
    table.read("hardener_percent");
    check_in_range(table, resin.hardener_percent, resin.hardener_range);
}

void read_gel(KeyReader<Resin>& table, Resin& resin, Job& job) {
    table.read("gel_minutes");
    // Epoxy has a fixed ratio, so no percentage belongs to its gel time.
    const bool epoxy = resin.kind == ResinKind::epoxy;
    const std::string right =
        epoxy ? "a gel time counts only for the temperature and mass it was measured at: "
                "gel_at = {temperature = 20, mass = \"100 g\"}"
              : "a gel time counts only for the temperature, percentage and mass it was measured "
                "at: gel_at = {temperature = 20, percent = 1.25, mass = \"100 g\"}";
    if (table.has("gel_minutes")) table.require("gel_at", right);
    if (!table.has("gel_at")) return;
    if (!table.has("gel_minutes"))
        table.refuse("gel_at", "goes with gel_minutes, which is missing");
    GelAt read;
    KeyReader<GelAt> at(table.refusals(), table.find("gel_at"), table.path_of("gel_at"), gel_keys(),
                        read, job);
    at.require("temperature", right);
    if (!epoxy) at.require("percent", right);
    at.require("mass", right);
    at.read("temperature");
    const Node* percent = at.find("percent");
    if (epoxy && percent != nullptr && percent->kind == Node::Kind::number &&
        std::isfinite(percent->number) && !(percent->number > 0.0 && percent->number <= 20.0))
        at.refuse(
            "percent",
            "epoxy is mixed by a fixed ratio and no percentage belongs to its gel time; leave "
            "it out: gel_at = {temperature = 20, mass = \"100 g\"}");
    at.rest();
    resin.gel_at = read;
}

}  // namespace

void read_resin(const JobSource& source, Job& job) {
    Resin& out = job.resin;
    KeyReader table = source.table(resin_keys(), out, job);
    table.read("kind");
    out = resin_of_kind(out.kind);
    for (const auto key : {"density", "hardener_density", "cured_density", "hardener_basis"})
        table.read(key);
    out.hardener_density_given = table.has("hardener_density");
    out.cured_density_given = table.has("cured_density");
    if (out.kind == ResinKind::epoxy)
        read_epoxy(table);
    else
        read_catalysed(table, out);
    read_gel(table, out, job);
    if (job.display_units == Units::us) out.can = us_can();
    table.rest();
}

void read_topcoat(const JobSource& source, Job& job) {
    Topcoat& out = job.topcoat;
    KeyReader table = source.table(topcoat_keys(), out, job);
    // An empty table, as `tearline new` writes it, says nothing.
    job.topcoat_given = table.has_any();
    out = topcoat_over(job.resin.kind);
    if (job.resin.kind == ResinKind::epoxy && job.topcoat_given) {
        table.require("thickness", "over epoxy no topcoat is usual; write its own wet thickness");
        table.require("density", "over epoxy no topcoat is usual; write its own density in g/mL");
    }
    table.through("density");
    table.read("hardener_range");
    out.hardener_given = table.has("hardener_percent");
    table.read("hardener_percent");
    check_in_range(table, out.hardener_percent, out.hardener_range);
}

void read_shop(const JobSource& source, Job& job) {
    KeyReader table = source.table(shop_keys(), job.shop, job);
    table.rest();
    if (job.shop.temperature < job.resin.least_temperature)
        table.refuse("temperature",
                     shortest(job.shop.temperature.value()) +
                         " C is colder than resin.least_temperature, " +
                         shortest(job.resin.least_temperature.value()) +
                         " C: the resin would not cure; warm the shop, the hull and the resin, and "
                         "never add more hardener instead");
}

void read_prices(const JobSource& source, Job& job) {
    Prices prices;
    KeyReader table = source.table(price_keys(), prices, job);
    if (!table.given()) return;
    for (const std::string_view key : price_keys().names())
        if (key != "fabric_per_m2") table.read(key);
    table.rest();
    job.prices = prices;
}

}  // namespace tearline::job

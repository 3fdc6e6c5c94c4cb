#include <algorithm>
#include <limits>

#include "core/base/numbers.h"
#include "core/job/read_tables.h"
#include "core/job/resin_of_kind.h"

namespace tearline::job {

namespace {

const std::vector<std::string_view> resin_keys = {"kind",
                                                  "density",
                                                  "cured_density",
                                                  "hardener_percent",
                                                  "hardener_parts",
                                                  "hardener_basis",
                                                  "hardener_range",
                                                  "hardener_density",
                                                  "gel_minutes",
                                                  "gel_at",
                                                  "least_temperature",
                                                  "recoat_hours",
                                                  "waxed",
                                                  "cup",
                                                  "waste",
                                                  "prime",
                                                  "drops_per_mL",
                                                  "can"};

/// A range of hardener percentages and a percentage inside it.
void read_range(TableReader& table, std::optional<std::array<double, 2>>& range) {
    if (!table.has("hardener_range")) return;
    std::array<double, 2> read{};
    table.pair("hardener_range", read, {0.0, 20.0, false, true});
    if (!(read[0] <= read[1])) table.refuse("hardener_range", "the smaller percentage comes first");
    range = read;
}

void check_in_range(TableReader& table, const std::optional<double>& percent,
                    const std::optional<std::array<double, 2>>& range) {
    if (!percent || !range || between((*range)[0], (*range)[1]).holds(*percent)) return;
    table.refuse("hardener_percent",
                 "outside hardener_range, " + shortest((*range)[0]) + " to " +
                     shortest((*range)[1]) +
                     " %; too little never cures and too much burns: stay within the data sheet");
}

void read_epoxy(TableReader& table, Resin& resin) {
    for (const auto key : {"hardener_percent", "hardener_range"})
        if (table.has(key))
            table.refuse(key, "epoxy is mixed by a fixed ratio; write hardener_parts = [5, 1]");
    table.require("hardener_parts",
                  "epoxy needs its fixed ratio from the data sheet, such as [5, 1]");
    table.require("hardener_basis", "say whether hardener_parts are by \"mass\" or by \"volume\"");
    if (!table.has("hardener_parts")) return;
    std::array<double, 2> parts{};
    table.pair("hardener_parts", parts, above_zero_to(1000.0));
    resin.hardener_parts = parts;
}

void read_catalysed(TableReader& table, Resin& resin) {
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
    read_range(table, resin.hardener_range);
    resin.hardener_given = table.has("hardener_percent");
    table.number("hardener_percent", resin.hardener_percent, {0.0, 20.0, false, true}, "%");
    check_in_range(table, resin.hardener_percent, resin.hardener_range);
}

/// Liquid and cured densities; those not given stay what they are for the kind.
void read_densities(TableReader& table, Resin& resin) {
    const auto density = [&](std::string_view key, std::optional<GramsPerMillilitre>& value,
                             const Range& range) {
        std::optional<double> read;
        table.number(key, read, range, "g/mL");
        if (read) value = GramsPerMillilitre(*read);
    };
    density("density", resin.density, between(0.8, 2.0));
    density("hardener_density", resin.hardener_density, between(0.7, 2.0));
    resin.hardener_density_given = table.has("hardener_density");
    table.number("cured_density", resin.cured_density, between(0.8, 2.0), "g/cm3");
    resin.cured_density_given = table.has("cured_density");
}

void read_gel(TableReader& table, Resin& resin) {
    std::optional<double> minutes;
    table.number("gel_minutes", minutes, between(1.0, 1440.0), "minutes");
    if (minutes) resin.gel_minutes = Minutes(*minutes);
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
    TableReader at(table.refusals(), table.find("gel_at"), table.path_of("gel_at"),
                   {"temperature", "percent", "mass"});
    GelAt read;
    at.require("temperature", right);
    if (!epoxy) at.require("percent", right);
    at.require("mass", right);
    at.number("temperature", read.temperature, between(-20.0, 60.0), "degrees Celsius");
    const Range usual{0.0, 20.0, false, true};
    constexpr double any = std::numeric_limits<double>::max();
    at.number("percent", read.percent, epoxy ? between(-any, any) : usual, "%");
    if (epoxy && at.has("percent") && !usual.holds(read.percent))
        at.refuse(
            "percent",
            "epoxy is mixed by a fixed ratio and no percentage belongs to its gel time; leave "
            "it out: gel_at = {temperature = 20, mass = \"100 g\"}");
    at.mass("mass", read.mass, above_zero_to(100'000.0));
    resin.gel_at = read;
}

}  // namespace

void read_resin(const JobSource& source, Job& job) {
    TableReader table = source.table("resin", resin_keys);
    ResinKind kind = ResinKind::polyester;
    table.choice<ResinKind>("kind", kind,
                            {{"polyester", ResinKind::polyester},
                             {"vinylester", ResinKind::vinylester},
                             {"epoxy", ResinKind::epoxy}});
    job.resin = resin_of_kind(kind);
    Resin& out = job.resin;
    read_densities(table, out);
    Basis basis = Basis::mass;
    table.choice<Basis>("hardener_basis", basis,
                        {{"mass", Basis::mass}, {"volume", Basis::volume}});
    out.hardener_basis = basis;
    if (out.kind == ResinKind::epoxy)
        read_epoxy(table, out);
    else
        read_catalysed(table, out);
    read_gel(table, out);
    table.number("least_temperature", out.least_temperature, between(-20.0, 50.0),
                 "degrees Celsius");
    table.number("recoat_hours", out.recoat_hours, above_zero_to(1000.0), "hours");
    table.truth("waxed", out.waxed);
    table.mass("cup", out.cup, between(5.0, 20'000.0));
    table.number("waste", out.waste, {0.0, 1.0, true, false}, "");
    table.areal_weight("prime", out.prime, between(0.0, 2000.0));
    table.number("drops_per_mL", out.drops_per_mL, above_zero_to(200.0), "drops");
    if (job.display_units == Units::us) out.can = us_can();
    table.can("can", out.can, between(50.0, 2'000'000.0));
}

void read_topcoat(const JobSource& source, Job& job) {
    const std::vector<std::string_view> keys = {"finish", "thickness", "density",
                                                "hardener_percent", "hardener_range"};
    TableReader table = source.table("topcoat", keys);
    // An empty table, as `tearline new` writes it, says nothing.
    job.topcoat_given =
        std::any_of(keys.begin(), keys.end(), [&](std::string_view key) { return table.has(key); });
    job.topcoat = topcoat_over(job.resin.kind);
    Topcoat& out = job.topcoat;
    if (job.resin.kind == ResinKind::epoxy && job.topcoat_given) {
        table.require("thickness", "over epoxy no topcoat is usual; write its own wet thickness");
        table.require("density", "over epoxy no topcoat is usual; write its own density in g/mL");
    }
    table.choice<bool>("finish", out.final_coat, {{"sacrificial", false}, {"final", true}});
    table.length("thickness", out.thickness, above_zero_to(5.0));
    table.number("density", out.density, between(0.8, 2.5), "g/mL");
    read_range(table, out.hardener_range);
    out.hardener_given = table.has("hardener_percent");
    table.number("hardener_percent", out.hardener_percent, {0.0, 20.0, false, true}, "%");
    check_in_range(table, out.hardener_percent, out.hardener_range);
}

void read_laminator(const JobSource& source, Job& job) {
    TableReader table = source.table("laminator", {"wet_out_rate", "use_fraction"});
    table.number("wet_out_rate", job.laminator.wet_out_rate, above_zero_to(10.0), "m2 a minute");
    table.number("use_fraction", job.laminator.use_fraction, above_zero_to(1.0), "");
}

void read_shop(const JobSource& source, Job& job) {
    TableReader table = source.table("shop", {"temperature", "stage_thickness", "cutting_gap",
                                              "hours_between_stages", "fairing_skim"});
    table.number("temperature", job.shop.temperature, between(-20.0, 50.0), "degrees Celsius");
    table.length("stage_thickness", job.shop.stage_thickness, above_zero_to(50.0));
    table.length("cutting_gap", job.shop.cutting_gap, between(0.0, 100.0));
    std::optional<double> hours;
    table.number("hours_between_stages", hours, above_zero_to(10'000.0), "hours");
    if (hours) job.shop.hours_between_stages = Hours(*hours);
    table.length("fairing_skim", job.shop.fairing_skim, between(0.0, 20.0));
    if (job.shop.temperature < job.resin.least_temperature)
        table.refuse("temperature",
                     shortest(job.shop.temperature.value()) +
                         " C is colder than resin.least_temperature, " +
                         shortest(job.resin.least_temperature.value()) +
                         " C: the resin would not cure; warm the shop, the hull and the resin, and "
                         "never add more hardener instead");
}

void read_prices(const JobSource& source, Job& job) {
    TableReader table =
        source.table("prices", {"currency", "fabric_per_m2", "resin_per_kg", "hardener_per_kg",
                                "topcoat_per_kg", "fairing_per_litre"});
    if (!table.given()) return;
    Prices prices;
    const Range price = between(0.0, 1'000'000.0);
    table.text("currency", prices.currency);
    table.number("resin_per_kg", prices.resin_per_kg, price, "");
    table.number("hardener_per_kg", prices.hardener_per_kg, price, "");
    table.number("topcoat_per_kg", prices.topcoat_per_kg, price, "");
    table.number("fairing_per_litre", prices.fairing_per_litre, price, "");
    if (const Node* list = table.find("fabric_per_m2")) {
        std::vector<std::string_view> names;
        for (const auto& [name, unused] : job.fabrics) names.push_back(name);
        TableReader fabrics(*source.refusals, list, "prices.fabric_per_m2", names);
        for (const auto name : names) {
            std::optional<double> per_m2;
            fabrics.number(name, per_m2, price, "");
            if (per_m2) prices.fabric_per_m2.emplace(name, *per_m2);
        }
    }
    job.prices = prices;
}

}  // namespace tearline::job

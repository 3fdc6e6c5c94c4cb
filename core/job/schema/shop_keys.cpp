#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

using namespace rests_on;

const Range price = between(0.0, 1'000'000.0);

/// A price for each cloth that the job knows.
Value<Prices> price_list() {
    Value<Prices> value{.kind = "prices of cloths"};
    value.range = price;
    value.read = [](TableReader& in, std::string_view key, Prices& out, Job& job) {
        const Node* list = in.find(key);
        if (list == nullptr) return;
        std::vector<std::string_view> names;
        for (const auto& [name, unused] : job.fabrics) names.push_back(name);
        TableReader fabrics(in.refusals(), list, in.path_of(key), names);
        for (const auto name : names)
            if (const auto per_m2 = fabrics.read(name, &TableReader::number, price, ""))
                out.fabric_per_m2.emplace(name, *per_m2);
    };
    value.write = [](const Prices& of) {
        Node out;
        for (const auto& [name, per_m2] : of.fabric_per_m2) {
            out.items.push_back(node_of(per_m2));
            out.items.back().key = name;
        }
        return out;
    };
    return value;
}

}  // namespace

const Table<Laminator>& laminator_keys() {
    static const Table<Laminator> keys{
        "laminator",
        {key("wet_out_rate", number(&Laminator::wet_out_rate, between(0.001, 10.0), "m2 a minute"),
             from_memory, "m2 that one person wets out in a minute", "# m2 a minute",
             "Wetted out in a minute"),
         key("use_fraction", number(&Laminator::use_fraction, above_zero_to(1.0)), common_practice,
             "share of the gel time that a cup is used for", "# of the gel time",
             "Share of the gel time to use a cup in")}};
    return keys;
}

const Table<Shop>& shop_keys() {
    static const Table<Shop> keys{
        "shop",
        {key("temperature", number(&Shop::temperature, between(-20.0, 50.0), "degrees Celsius"),
             common_practice, "Celsius, of shop, hull and resin", "", "Temperature of the shop"),
         key("stage_thickness", length(&Shop::stage_thickness, above_zero_to(50.0)),
             common_practice, "most that is laid wet on wet in one go", "",
             "Most that is laid wet on wet, flat"),
         key("cutting_gap", length(&Shop::cutting_gap, between(0.0, 100.0)), common_practice,
             "between pieces on the roll"),
         key("hours_between_stages",
             number(&Shop::hours_between_stages, above_zero_to(10'000.0), "hours"), {},
             "as you plan the work; past recoat_hours it is warned of",
             "16 # as you plan the work; past recoat_hours it is warned of; no default"),
         key("fairing_skim", length(&Shop::fairing_skim, between(0.0, 20.0)), common_practice,
             "of fairing compound over all, for pits and pinholes", "",
             "Fairing compound all over, for pits")}};
    return keys;
}

const Table<Prices>& price_keys() {
    static const Table<Prices> keys{
        "prices",
        {key("currency", text(&Prices::currency), {}, "of the prices below", R"("EUR" #)"),
         key("fabric_per_m2", price_list(), {}, "of each cloth",
             R"({"mat 450" = 4.20, "mat 300" = 3.10} #)"),
         key("resin_per_kg", number(&Prices::resin_per_kg, price), {}, "of resin", "6.00 #"),
         key("hardener_per_kg", number(&Prices::hardener_per_kg, price), {}, "of hardener",
             "25.00 #"),
         key("topcoat_per_kg", number(&Prices::topcoat_per_kg, price), {}, "of topcoat", "11.00 #"),
         key("fairing_per_litre", number(&Prices::fairing_per_litre, price), {},
             "of fairing compound", "18.00 #")}};
    return keys;
}

}  // namespace tearline::job

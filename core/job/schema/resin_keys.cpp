#include "core/job/resin_of_kind.h"
#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

using namespace rests_on;

const Range percentages{0.0, 20.0, false, true};

/// A range of hardener percentages.
template <class T>
Value<T> percent_range(std::optional<std::array<double, 2>> T::*part) {
    Value<T> value = pair(part, percentages, "%");
    value.read = [read = value.read, part](TableReader& in, std::string_view key, T& out,
                                           Job& job) {
        read(in, key, out, job);
        const auto& range = out.*part;
        if (range && !((*range)[0] <= (*range)[1]))
            in.refuse(key, "the smaller percentage comes first");
    };
    return value;
}

/// Epoxy has a fixed ratio, so no percentage belongs to its gel time.
Value<Resin> gel_at() {
    Value<Resin> value = table(&Resin::gel_at, gel_keys());
    value.write = [](const Resin& of) {
        if (!of.gel_at) return Node::nothing();
        Node out = written(gel_keys(), *of.gel_at);
        for (Node& item : out.items)
            if (item.key == "percent" && of.kind == ResinKind::epoxy)
                item.kind = Node::Kind::nothing;
        return out;
    };
    return value;
}

Resin in_us_cans() {
    Resin resin = resin_of_kind(ResinKind::polyester);
    resin.can = us_can();
    return resin;
}

}  // namespace

const Words<ResinKind>& resin_kind_words() {
    static const Words<ResinKind> words = {{"polyester", ResinKind::polyester},
                                           {"vinylester", ResinKind::vinylester},
                                           {"epoxy", ResinKind::epoxy}};
    return words;
}

const Table<GelAt>& gel_keys() {
    static const Table<GelAt> keys{
        "resin.gel_at",
        {key("temperature", number(&GelAt::temperature, between(-20.0, 60.0), "degrees Celsius"),
             {}, "Celsius that the gel time was measured at"),
         key("percent", number(&GelAt::percent, percentages, "%"), {},
             "percent of hardener that it was measured at"),
         key("mass", mass(&GelAt::mass, above_zero_to(100'000.0)), {},
             "mass that it was measured at, g")}};
    return keys;
}

const Table<Resin>& resin_keys() {
    static const Table<Resin> keys{
        "resin",
        {key("kind", choice(&Resin::kind, resin_kind_words()), form, "kind of resin",
             R"(# "polyester", "vinylester" or "epoxy")"),
         key("density", number(&Resin::density, between(0.8, 2.0), "g/mL"),
             {{"polyester", published}},
             "of the liquid resin, g/mL; epoxy: of its resin part alone",
             "# g/mL, of the liquid resin; epoxy: of its resin part alone. Vinylester, epoxy: no "
             "default",
             "Resin, liquid"),
         key("cured_density", number(&Resin::cured_density, between(0.8, 2.0), "g/cm3"),
             {{"polyester", published}, {"epoxy", from_memory}}, "cured, g/cm3",
             "1.20 # g/cm3; epoxy 1.15 (from memory); vinylester: from its data sheet, required",
             "Resin, cured"),
         key("hardener_percent", number(&Resin::hardener_percent, percentages, "%"),
             {{"polyester", common_practice}}, "percent of the resin",
             "# polyester 1.25, by mass; vinylester: from its data sheet, required",
             "Hardener of the resin"),
         key("hardener_parts", pair(&Resin::hardener_parts, above_zero_to(1000.0)), {},
             "epoxy: parts of resin and of hardener, such as 5 and 1",
             "[5, 1] # epoxy: resin, hardener, with hardener_basis; both required"),
         key("hardener_basis",
             choice(&Resin::hardener_basis, {{"mass", Basis::mass}, {"volume", Basis::volume}}),
             unmarked, "whether percent or parts are by mass or by volume",
             R"(# or "volume": of hardener_percent and of hardener_parts alike)"),
         key("hardener_range", percent_range(&Resin::hardener_range), {{"polyester", published}},
             "percent that the data sheet allows, least and most",
             "[1.0, 2.0] # percent that the data sheet allows; outside it is refused. Vinylester: "
             "no default",
             "Hardener that is allowed"),
         key("hardener_density", number(&Resin::hardener_density, between(0.7, 2.0), "g/mL"),
             {{"polyester", from_memory}}, "g/mL",
             "# g/mL, from its data sheet. Vinylester, epoxy: no default, and then no mL beside "
             "the grams",
             "Hardener"),
         key("gel_minutes", number(&Resin::gel_minutes, between(1.0, 1440.0), "minutes"), {},
             "gel time from the data sheet or a test cup", "20 #", "",
             {.above =
                  "# The gel time from the data sheet or a test cup, with what it was measured "
                  "at; no default:\n"}),
         key("gel_at", gel_at(), {}, "what the gel time was measured at",
             R"({temperature = 20, percent = 1.25, mass = "100 g"}  # epoxy: without percent, its ratio is fixed)"),
         key("least_temperature",
             number(&Resin::least_temperature, between(-20.0, 50.0), "degrees Celsius"),
             common_practice, "Celsius; a colder shop is refused", "",
             "Coldest that resin is laid"),
         key("recoat_hours", number(&Resin::recoat_hours, above_zero_to(1000.0), "hours"),
             common_practice, "later than this: wash and abrade before the next ply", "",
             "Longest wait before the next stage"),
         key("waxed", truth(&Resin::waxed), common_practice, "the resin holds wax", "#"),
         key("cup", mass(&Resin::cup, between(5.0, 20'000.0)), common_practice,
             "most that is mixed at once", "", "Most that is mixed at once"),
         key("waste", number(&Resin::waste, {0.0, 1.0, true, false}), common_practice,
             "share left in cups, rollers and brushes", "0.10",
             "Left in pots, rollers and brushes"),
         key("prime", areal_weight(&Resin::prime, between(0.0, 2000.0)), common_practice,
             "resin over the ground area before the first ply", "", "Resin to wet the ground"),
         key("drops_per_mL", number(&Resin::drops_per_mL, above_zero_to(200.0), "drops"), {},
             "count your own", "33 # count your own; no default"),
         key("can", can(&Resin::can, between(50.0, 2'000'000.0)),
             {{"", common_practice}, {"US units", common_practice}}, "size that resin is sold in",
             R"(# size that resin is sold in, by mass or volume ("1 qt", the default in US units))",
             "Resin is sold in cans of")},
        {{"", resin_of_kind(ResinKind::polyester)},
         {"epoxy", resin_of_kind(ResinKind::epoxy)},
         {"US units", in_us_cans()}}};
    return keys;
}

const Table<Topcoat>& topcoat_keys() {
    static const Table<Topcoat> keys{
        "topcoat",
        {key("finish", choice(&Topcoat::final_coat, {{"sacrificial", false}, {"final", true}}),
             form, "sanded off again, or left",
             R"(# sanded off; or "final": the glass then ends lower by its thickness)"),
         key("thickness", length(&Topcoat::thickness, above_zero_to(5.0)), common_practice,
             "wet thickness", R"("20 mil" # wet)", "Topcoat, wet film"),
         key("density", number(&Topcoat::density, between(0.8, 2.5), "g/mL"), from_memory, "g/mL",
             "", "Topcoat, liquid"),
         key("hardener_percent", number(&Topcoat::hardener_percent, percentages, "%"), published,
             "percent by mass", "2.0 # by mass", "Hardener of the topcoat"),
         key("hardener_range", percent_range(&Topcoat::hardener_range), published,
             "percent that the data sheet allows, least and most", "[1.2, 3.0] #",
             "Hardener that its sheet allows")}};
    return keys;
}

}  // namespace tearline::job

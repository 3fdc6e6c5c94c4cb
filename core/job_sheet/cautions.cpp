#include "core/job_sheet/cautions.h"

namespace tearline::job_sheet {

std::vector<Caution> cautions(const job::Job& job) {
    std::vector<Caution> list;
    const bool peroxide = job.resin.kind != job::ResinKind::epoxy;
    if (peroxide) {
        list.push_back(
            {"Hardener in the eyes blinds.",
             "MEKP burns eyes deeply. Goggles on and an eye wash within reach before it is "
             "opened. Rinse at once for at least 15 minutes, then to hospital."});
        list.push_back({"Hardener never meets cobalt promoter, acetone or laminate dust.",
                        "Peroxide and promoter mixed directly explode; with acetone or dust it can "
                        "catch fire or go off by shock. Keep them apart, also as waste."});
    } else {
        list.push_back(
            {"Epoxy sensitises the skin; its hardener is corrosive.",
             "Gloves and goggles, sleeves down; nothing on the skin, ever. Wash it off with soap "
             "and water, never with solvent. A rash: stop working with epoxy."});
        list.push_back({"Hardener in the eyes burns them.",
                        "An eye wash within reach before the hardener is opened; rinse at least 15 "
                        "minutes, then to hospital."});
        list.push_back({"Epoxy left in the pot boils by its own heat.",
                        "Mix no more than a cup, pour it out flat at once; a cup that gets warm in "
                        "the hand goes outdoors. The fumes are poisonous."});
        list.push_back(
            {"Amine blush parts the layers.",
             "The greasy film on cured epoxy: wash it off with water and a pad, and "
             "wipe dry, before the next layer or any sanding. Sanding only rubs it in."});
    }
    list.push_back(
        {"Resin in the pot heats, smokes and can catch fire.",
         "Never carry a smoking cup. Stand leftovers outdoors on bare ground away from what "
         "burns; cool with water if that goes without splashing. Never into a drain, the "
         "sea or a bin."});
    if (peroxide)
        list.push_back(
            {"Styrene vapour is flammable and takes the breath.",
             "No flame heater, no smoking. Inside a hull forced ventilation and a second "
             "person outside; a cartridge mask gives no oxygen. Limits: OSHA 100 ppm, "
             "ceiling 200, peak 600; NIOSH 50 ppm, 100 for a short time; 700 ppm endangers life at "
             "once."});
    list.push_back({"Before grinding.",
                    "Support the hull. Look behind the skin for tanks, wiring and seacocks."});
    list.push_back(
        {"Dust.",
         job.damage.side == job::Side::outside
             ? "Glass dust: NIOSH 3 fibres/cm³, 5 mg/m³: mask, gloves, suction. Old antifouling, "
               "where there is any, is poisonous: wet-sand and collect it."
             : "Glass dust: NIOSH 3 fibres/cm³, 5 mg/m³: mask, gloves, suction."});
    // One can for both would bring together what caution 2 keeps apart.
    if (peroxide)
        list.push_back({"Rags with peroxide and rags with acetone",
                        "go each into a metal can with water of their own: never both in one."});
    else
        list.push_back({"Rags with solvent", "go into a metal can with water."});
    list.push_back(
        {"Too cold or too little hardener is no repair.",
         "Below the least temperature do not begin. Never add hardener to a laid laminate. "
         "Past the recoat time wash and abrade before the next layer."});
    if (peroxide) list.push_back({"MEKP in the air:", "ceiling 0.2 ppm."});
    list.push_back({"All limits here are US figures;", "those of your country may be lower."});
    return list;
}

std::vector<std::string_view> ask_first() {
    return {
        "Keel, rudder, rig or chainplate zone",
        "Stringers, frames or bulkhead bonds touched",
        "Bottom panel that slams",
        "Wet core",
        "Carbon or aramid in the laminate",
        "Cracked or failed without an impact: what caused it, and must it be reinforced?",
        "Deck-to-hull joint touched",
        "Blisters: the whole bottom is affected; wash, dry, find the cause first",
        "A large share of a panel",
        "Coded, classed or passenger vessel (tell the authority before repairs that touch safety, "
        "for example 46 CFR 176.665)"};
}

}  // namespace tearline::job_sheet

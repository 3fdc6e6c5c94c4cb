#include "core/boat/boat_sheet.h"

#include <algorithm>
#include <set>

#include "core/base/numbers.h"
#include "core/boat/boat_picture.h"
#include "core/formats/svg.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/quantities/cup_shares.h"
#include "core/quantities/hardener.h"

namespace tearline::boat {

namespace {

/// A name that has room is not broken between its letters: "G-overla" is no place.
std::string place_name(const std::string& name) {
    constexpr std::size_t longest = 16;  ///< [characters] that stay beside the figures of a row
    return name.size() <= longest ? job_sheet::keep(name) : name;
}

using formats::escaped;
using namespace job_sheet;

constexpr double minutes_an_hour = 60.0;
constexpr double roll_height = 110.0;  ///< [mm] of a picture: names are long and pieces many

std::string joined(const std::vector<std::string>& words) {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
    return out;
}

WarningRank highest(const std::vector<ToldOf>& all) {
    WarningRank rank = WarningRank::know;
    for (const ToldOf& told : all) rank = std::min(rank, told.rank);
    return rank;
}

std::string head_of(const Boat& boat) {
    std::string out = tag("h1", escaped(boat.job.title)) + "\n";
    out += tag("p",
               "The boat's sheet: " + std::to_string(boat.repairs.size()) +
                   " places. Each has a sheet of its own in the folder of its name: what is "
                   "surveyed, ground, laid and finished there stands on it. Cloth, shared cups and "
                   "shopping of all places stand here.",
               "class=\"quiet\"") +
           "\n";
    if (boat.warnings.empty()) return out;
    return out +
           tag("p",
               "Warned of for this boat: " + tag("b", std::to_string(boat.warnings.size())) +
                   ". They stand behind the cautions: read them before any work.",
               "class=\"warning rank-" + std::string(rank_key(highest(boat.warnings))) + "\"") +
           "\n";
}

std::string picture_of(const Boat& boat) {
    constexpr double width = 180.0, height = 108.0;
    return tag("p",
               formats::svg_begin({width, height}) +
                   views_of_boat(boat, {Vec2(0, 0), Vec2(width, height)}) + "</svg>",
               "class=\"picture\"") +
           "\n";
}

std::string places(const Boat& boat, const Plan& all) {
    std::string out = section("Places") + "<table width=\"100%\" class=\"places\">" +
                      head({"<Place", "<What", "Plies", "Make", "Glass", "Resin", "<Its sheet"}) +
                      "<tbody>\n";
    for (std::size_t i = 0; i < boat.repairs.size(); ++i) {
        const Repair& repair = boat.repairs[i];
        const std::string title = boat.job.repairs[i].job.title;
        const auto colon = title.find(" · " + repair.name + ": ");
        const std::string own =
            colon == std::string::npos
                ? ""
                : title.substr(colon + std::string(" · : ").size() + repair.name.size());
        if (!repair.plan) {
            out += tag("tr", left(tag("b", place_name(repair.name))) + left(escaped(own)) +
                                 tag("td",
                                     tag("b", "NOT PLANNED, nothing of it is cut: ") +
                                         escaped(repair.refused),
                                     "colspan=\"5\" class=\"warning rank-stop\"")) +
                   "\n";
            continue;
        }
        const Plan& plan = *repair.plan;
        out += tag("tr", left(tag("b", place_name(repair.name))) + left(escaped(own)) +
                             cell(std::to_string(plan.plies.size())) +
                             cell(std::to_string(std::max(plan.job.layup.copies, 1))) +
                             cell(mass(all, plan.quantities.totals.glass_g)) +
                             cell(mixture(all, plan.quantities.totals.resin_g)) +
                             left(tag("a", repair.name + "/job-sheet.html",
                                      "href=\"" + repair.name + "/job-sheet.html\""))) +
               "\n";
    }
    out += tag("tr", left(tag("b", "All")) + left("every copy") + cell("") + cell("") +
                         cell(tag("b", mass(all, boat.totals.glass_g))) +
                         cell(tag("b", mixture(all, boat.totals.resin_g))) + left("")) +
           "\n";
    return out + "</tbody></table>\n";
}

std::string plies_words(const std::vector<int>& plies) {
    if (plies.empty()) return "";
    if (plies.size() == 1) return "ply " + std::to_string(plies.front());
    return "plies " + std::to_string(plies.front()) + " to " + std::to_string(plies.back());
}

/// A stage that no ply is laid in.
std::string without_plies(quantities::Stage::Of of) {
    using Of = quantities::Stage::Of;
    switch (of) {
        case Of::release:
            return "release agent on the mould";
        case Of::gel_coat:
            return "gel coat on the mould";
        case Of::backing:
            return "backing laid and bonded";
        case Of::core:
            return "core sealed";
        case Of::ground:
        case Of::plies:
            break;
    }
    return "ground primed";
}

std::string stage_words(const Plan& plan, const Go& go) {
    std::string out;
    for (const std::size_t index : go.stages) {
        const quantities::Stage& stage = plan.quantities.stages[index];
        const std::string what =
            stage.plies.empty() ? without_plies(stage.of) : plies_words(stage.plies);
        out += (out.empty() ? "" : ", ") + what;
    }
    const quantities::Stage& first = plan.quantities.stages[go.stages.front()];
    const std::string& part = first.part;
    const bool closes = first.plies.empty() && first.of != quantities::Stage::Of::ground;
    return (part.empty() || closes ? "" : tag("b", escaped(part)) + ": ") + out;
}

std::string cup_words(const Plan& plan, const Go& go) {
    std::vector<std::string> words;
    std::size_t own = 0;
    int last = 0;
    for (const std::size_t index : go.stages) {
        const int cup = plan.quantities.stages[index].boat_cup;
        own += quantities::cups_mixed(plan.quantities, index);
        if (cup > 0 && cup != last) words.push_back(tag("b", "cup " + std::to_string(cup)));
        last = cup;
    }
    if (own > 0) words.push_back(std::to_string(own) + " on its own sheet");
    return joined(words);
}

/// What a go is followed by: as its own sheet says.
std::string wait_words(const Boat& boat, const Round& round) {
    std::set<std::string> words;
    for (const Go& go : round.goes) {
        const Plan& plan = *boat.repairs[go.repair].plan;
        const std::size_t last = go.stages.back();
        if (last + 1 < plan.quantities.stages.size() &&
            plan.quantities.stages[last + 1].part == plan.quantities.stages[last].part)
            words.insert(plan.quantities.stages[last].then);
    }
    std::string out;
    for (const std::string& each : words) out += (out.empty() ? "" : " ") + each;
    return out;
}

std::string order(const Boat& boat) {
    std::string out =
        section("Order of work") +
        tag("p",
            "What stands under one heading can be laid in one go, from the top down; then it "
            "waits. Places are ground, cleaned and dry-fitted first, each by its own sheet. "
            "Minutes: wetting out and 5 for each cup †, for one person.",
            "class=\"quiet\"") +
        "\n<table width=\"100%\" class=\"order\">" +
        head({"<Done", "<Place", "<What", "<Cups", "Minutes", "<Begun at", "<Gelled at"}) +
        "<tbody>\n";
    for (std::size_t i = 0; i < boat.rounds.size(); ++i) {
        const Round& round = boat.rounds[i];
        double minutes = 0.0;
        for (const Go& go : round.goes) minutes += go.minutes;
        const std::string before =
            round.after_cure
                ? " when the part before it has cured, 48 h at least, and what its own sheet asks "
                  "for in between is done"
                : "";
        out += tag("tr",
                   tag("td",
                       tag("b", "Go " + std::to_string(i + 1)) + before + ": " + fixed(minutes, 0) +
                           " min, " + fixed(minutes / minutes_an_hour, 1) + " h",
                       "colspan=\"7\" class=\"stage\"")) +
               "\n";
        for (const Go& go : round.goes) {
            const Repair& repair = boat.repairs[go.repair];
            out += tag("tr", left(tick_box()) + left(tag("b", place_name(repair.name))) +
                                 left(stage_words(*repair.plan, go)) +
                                 left(cup_words(*repair.plan, go)) + cell(fixed(go.minutes, 0)) +
                                 left(blank(7)) + left(blank(7))) +
                   "\n";
        }
        if (const std::string then = wait_words(boat, round); !then.empty())
            out += tag("tr", tag("td", "Then, where more follows: " + escaped(then),
                                 "colspan=\"7\" class=\"then\"")) +
                   "\n";
    }
    return out + "</tbody></table>\n" +
           tag("p",
               "The last stage of a place is followed by what its own sheet says: sealing, cure, "
               "no load before 48 h, finish.",
               "class=\"quiet\"") +
           "\n";
}

std::string takes_of(const Boat& boat, const SharedCup& cup, const Plan& all) {
    std::vector<std::string> words;
    for (const SharedCup::Take& take : cup.takes) {
        const Repair& repair = boat.repairs[take.repair];
        const quantities::Stage& stage = repair.plan->quantities.stages[take.stage];
        const std::string what = stage.plies.empty() ? "ground" : plies_words(stage.plies);
        words.push_back(tag("b", repair.name) + " " + what + " " + mixture(all, take.resin_g));
    }
    return joined(words);
}

std::string cups(const Boat& boat, const Plan& all) {
    if (boat.cups.empty()) return {};
    std::vector<NamedCup> rows;
    for (const SharedCup& cup : boat.cups)
        rows.push_back({tag("b", "Cup " + std::to_string(cup.number)) +
                            ", in this order: " + takes_of(boat, cup, all),
                        "cup " + std::to_string(cup.number), cup.cup});
    const double minutes = quantities::use_within(all.job).value().value();
    return section("Cups that several places take of") +
           tag("p",
               "Each serves small places that are laid one straight after the other, all of it "
               "within " +
                   fixed(minutes, 0) +
                   " min of mixing. Have them ready side by side before it is mixed. These doses "
                   "stand here alone. What is not laid by then stays in the cup: mix anew.") +
           "\n" + cup_table(all, rows);
}

std::string remnants(const Boat& boat, const Plan& all) {
    if (boat.nest.remnants.empty()) return {};
    std::string out = section("Cut from these remnants first");
    for (const layout::CutRemnant& remnant : boat.nest.remnants) {
        const std::string name = tag("b", escaped(remnant.name)) + ", " + escaped(remnant.fabric);
        if (remnant.placed.empty()) {
            out += tag("p", name + ": nothing is cut from it") + "\n";
            continue;
        }
        out += tag("p", name + ", its face up: " + fixed(100.0 * remnant.used_fraction, 0) +
                            " % used, " + length(all, all.job.shop.cutting_gap, 0) +
                            " between pieces<br/>" + remnant_picture(boat, remnant)) +
               "\n";
    }
    return out;
}

std::string warnings(const Boat& boat) {
    if (boat.warnings.empty()) return {};
    const Units units = boat.any().job.display_units;
    std::string out = section("What the plans warn of");
    for (const WarningRank rank : warning_ranks) {
        std::string items;
        const std::string look = "rank-" + std::string(rank_key(rank));
        for (const ToldOf& told : boat.warnings) {
            if (told.rank != rank) continue;
            std::string of = joined(told.repairs);
            if (told.piece)
                of += " piece " + *told.piece;
            else if (told.ply)
                of += " ply " + std::to_string(*told.ply);
            items += tag("li",
                         (rank == WarningRank::know ? "" : tick_box() + "&#160; ") +
                             (of.empty() ? "" : tag("b", escaped(of)) + ": ") +
                             escaped(told.words.plain(units)),
                         "class=\"warning " + look + "\"") +
                     "\n";
        }
        if (items.empty()) continue;
        out += tag("p", tag("b", std::string(rank_words(rank)) + "."),
                   "class=\"rank " + look + "-head\"") +
               "\n<ul class=\"warnings\">\n" + items + "</ul>\n";
    }
    return out;
}

}  // namespace

Plan as_one_plan(const Boat& boat) {
    Plan all;
    all.job = boat.any().job;
    all.job.title = boat.job.title;
    all.job.layup.copies = 1;
    all.model_sha256 = boat.any().model_sha256;
    all.rolls = boat.nest.rolls;
    all.shopping = boat.shopping;
    for (const Repair& repair : boat.repairs) {
        if (!repair.plan) continue;
        for (const templates::LaidPly& ply : repair.plan->plies) {
            templates::LaidPly named;
            named.number = ply.number;
            named.fabric = ply.fabric;
            named.kind = ply.kind;
            for (const templates::LaidPiece& piece : ply.pieces) {
                named.pieces.emplace_back();
                named.pieces.back().piece.id = piece_name(repair.name, piece.piece.id);
                named.pieces.back().outline = piece.outline;
            }
            all.plies.push_back(std::move(named));
        }
    }
    return all;
}

std::string boat_sheet(const Boat& boat) {
    const Plan all = as_one_plan(boat);
    std::string out = sheet_head(boat.job.title);
    out += head_of(boat) + picture_of(boat) + places(boat, all) + ask_first_box();
    out += care_page(all) + practice_note() + warnings(boat);
    out += order(boat);
    if (!boat.cups.empty()) out += mixing(all);
    out += cups(boat, all) + remnants(boat, all) + rolls(all, roll_height) + shopping_list(all);
    return out + disposal(all) + "</body></html>\n";
}

}  // namespace tearline::boat

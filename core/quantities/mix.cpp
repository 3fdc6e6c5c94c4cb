#include "core/quantities/mix.h"

#include <tuple>

#include "core/base/numbers.h"
#include "core/job/nearest_name.h"
#include "core/laminate/ply_thickness.h"
#include "core/quantities/cups.h"
#include "core/quantities/hardener.h"
#include "core/quantities/resin_warnings.h"

namespace tearline::quantities {

namespace {

Result<job::Fabric> fabric_named(const std::string& name, const job::Job& job) {
    if (const auto found = job.fabrics.find(name); found != job.fabrics.end()) return found->second;
    std::vector<std::string_view> names;
    for (const auto& [known, unused] : job.fabrics) names.push_back(known);
    return bad_input("fabric", "value \"" + name +
                                   "\": no such fabric; the nearest known one is \"" +
                                   job::nearest_name(name, names) + "\"");
}

Result<void> check_densities(const job::Resin& resin) {
    constexpr double lightest_resin = 0.8, lightest_hardener = 0.7, heaviest = 2.0;  // of the job
    for (const auto& [name, density, least] :
         {std::tuple{"density", resin.density, lightest_resin},
          std::tuple{"hardener_density", resin.hardener_density, lightest_hardener}})
        if (density && !(density->value() >= least && density->value() <= heaviest))
            return bad_input(name, "value " + shortest(density->value()) + " g/mL: must be from " +
                                       shortest(least) + " to " + shortest(heaviest) + " g/mL");
    return {};
}

/// A figure of the command line is held to the same rules as one of a job file.
Result<void> check_resin(const job::Resin& resin) {
    if (auto good = check_densities(resin); !good) return good;
    if (!(resin.cup.value() >= 5.0 && resin.cup.value() <= 20'000.0))
        return bad_input("cup",
                         "value " + shortest(resin.cup.value()) + " g: must be from 5 to 20000 g");
    if (resin.drops_per_mL && !(*resin.drops_per_mL > 0.0 && *resin.drops_per_mL <= 200.0))
        return bad_input("drops_per_mL", "value " + shortest(*resin.drops_per_mL) +
                                             ": must be above 0 and at most 200");
    if (resin.kind == job::ResinKind::epoxy) {
        if (!resin.hardener_parts)
            return bad_input(
                "parts", "missing: epoxy needs its fixed ratio from the data sheet, such as 5:1");
        return {};
    }
    if (resin.hardener_parts)
        return bad_input("parts", "is for epoxy; polyester and vinylester take a percentage");
    if (!resin.hardener_percent)
        return bad_input("hardener",
                         "missing: this resin has no usual figure; give the percentage of its data "
                         "sheet");
    constexpr double most_percent = 20.0;  // as of the job file
    if (!(*resin.hardener_percent > 0.0 && *resin.hardener_percent <= most_percent))
        return bad_input("hardener", "value " + shortest(*resin.hardener_percent) +
                                         ": must be above 0 and at most " + shortest(most_percent) +
                                         " %");
    if (!resin.hardener_range) return {};
    const auto [least, most] = *resin.hardener_range;
    if (!(*resin.hardener_percent >= least && *resin.hardener_percent <= most))
        return bad_input("hardener",
                         "value " + shortest(*resin.hardener_percent) +
                             ": outside hardener_range, " + shortest(least) + " to " +
                             shortest(most) +
                             " %; too little never cures and too much burns: stay within the data "
                             "sheet");
    return {};
}

Result<void> check_temperature(double celsius) {
    constexpr double coldest = -20.0, hottest = 50.0;  // [C] as of the job file
    if (celsius >= coldest && celsius <= hottest) return {};
    return bad_input("temperature", "value " + shortest(celsius) + " C: must be from " +
                                        shortest(coldest) + " to " + shortest(hottest) +
                                        " C; 20 C is 68 F");
}

Result<void> check_request(const MixRequest& request) {
    if (int(request.area.has_value()) + int(request.glass.has_value()) +
            int(request.resin.has_value()) !=
        1)
        return bad_input("give one of area, glass or resin");
    const double amount = request.area    ? request.area->value()
                          : request.glass ? request.glass->value()
                                          : request.resin->value();
    if (!(amount > 0.0 && amount <= 10'000'000.0))
        return bad_input(request.area    ? "area"
                         : request.glass ? "glass"
                                         : "resin",
                         "value " + shortest(amount) + ": must be above 0 and at most 10 000 000");
    if (!(request.plies >= 1 && request.plies <= 500))
        return bad_input("plies",
                         "value " + std::to_string(request.plies) + ": must be from 1 to 500");
    return {};
}

}  // namespace

Result<Mix> mix(const MixRequest& request, const job::Job& job) {
    // The resin first: its density may have turned a volume into the amount asked for.
    if (const auto good = check_resin(job.resin); !good) return tl::unexpected(good.error());
    if (const auto good = check_request(request); !good) return tl::unexpected(good.error());
    if (auto good = check_temperature(job.shop.temperature.value()); !good)
        return tl::unexpected(good.error());
    if (!(job.shop.temperature >= job.resin.least_temperature))
        return bad_input(
            "temperature",
            "value " + shortest(job.shop.temperature.value()) +
                ": colder than the resin's least temperature, " +
                shortest(job.resin.least_temperature.value()) +
                " C; warm the shop, the hull and the resin, and never add more hardener instead");
    const auto fabric = fabric_named(request.fabric, job);
    if (!fabric) return tl::unexpected(fabric.error());

    Mix out;
    SquareMetres wetted;
    if (request.resin) {
        out.resin = *request.resin;
        // What it wets out of the cloth named, so that a cup of it is used in time too.
        const Grams glass =
            out.resin *
            (1.0 / (laminate::resin_per_glass(fabric->glass_content) * (1.0 + job.resin.waste)));
        wetted = SquareMetres(glass / (SquareMetres(1.0) * fabric->weight));
    } else {
        const SquareMetres cloth =
            request.area ? *request.area * double(request.plies)
                         : SquareMetres(*request.glass / (SquareMetres(1.0) * fabric->weight));
        out.glass = cloth * fabric->weight;
        out.resin =
            *out.glass * laminate::resin_per_glass(fabric->glass_content) * (1.0 + job.resin.waste);
        wetted = cloth;
    }
    out.recipe = recipe_for(out.resin, job.resin);
    out.cups = cups_for({out.resin, wetted}, job);
    out.warnings = mixing_warnings(job, out.cups);
    if (!request.resin)
        for (const Warning& warning : binder_warnings(*fabric, job.resin))
            out.warnings.push_back(warning);
    return out;
}

}  // namespace tearline::quantities

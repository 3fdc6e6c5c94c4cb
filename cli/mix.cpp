#include "core/quantities/mix.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <cmath>
#include <cstdio>
#include <memory>
#include <ranges>
#include <string>

#include "cli/commands.h"
#include "core/base/numbers.h"
#include "core/job/amounts.h"
#include "core/job/fabric_catalogue.h"
#include "core/job/read_job.h"
#include "core/job/resin_of_kind.h"
#include "core/job_sheet/cautions.h"
#include "core/quantities/hardener.h"

namespace tearline::cli {

namespace {

struct MixWords {
    std::string job;
    std::string area, glass, resin;
    std::string fabric;
    int plies = 1;
    std::string kind, hardener, parts, basis, cup, temperature, drops, density, hardener_density;
};

/// A check of CLI11 from a reader of amounts: its refusal is the message.
template <class Reader>
CLI::Validator amount(Reader reader) {
    return CLI::Validator(
        [reader](std::string& text) {
            const auto read = reader(text);
            return read ? std::string() : "value \"" + text + "\": " + read.error();
        },
        "");
}

const CLI::Validator number(
    [](std::string& text) {
        const auto read = read_number(text);  // its range is told with what it is for
        return read && std::isfinite(*read) ? std::string()
                                            : "value \"" + text + "\": must be a number";
    },
    "");

/// "5:1" as two positive numbers.
std::optional<std::array<double, 2>> read_parts(const std::string& text) {
    const auto colon = text.find(':');
    if (colon == std::string::npos) return std::nullopt;
    const auto a = read_number(text.substr(0, colon)), b = read_number(text.substr(colon + 1));
    if (!a || !b || !(*a > 0.0 && *a <= 1000.0) || !(*b > 0.0 && *b <= 1000.0)) return std::nullopt;
    return std::array<double, 2>{*a, *b};
}

/// The job named, or one with every default, as the words change it.
Result<job::Job> job_of(const MixWords& words) {
    job::Job job;
    if (!words.job.empty()) {
        auto read = job::read_job(words.job);
        if (!read) return tl::unexpected(read.error());
        job = std::move(*read);
    } else {
        job.fabrics = job::built_in_fabrics();
        job.resin = job::resin_of_kind(job::ResinKind::polyester);
    }
    job::Resin& resin = job.resin;
    if (!words.kind.empty()) {
        const auto kind = words.kind == "epoxy"        ? job::ResinKind::epoxy
                          : words.kind == "vinylester" ? job::ResinKind::vinylester
                                                       : job::ResinKind::polyester;
        // Only polyester has figures that may be assumed; those of another kind say nothing of it.
        if (kind != resin.kind) resin = job::resin_of_kind(kind);
    }
    const bool epoxy = resin.kind == job::ResinKind::epoxy;
    if (epoxy && !words.hardener.empty())
        return bad_input(
            "--hardener",
            "value " + words.hardener +
                ": is for polyester and vinylester; epoxy takes the fixed ratio of its "
                "data sheet, such as --parts 5:1");
    if (epoxy && words.fabric.empty() && words.resin.empty())
        return bad_input("--fabric",
                         "missing: most mat is not made for epoxy, so none is assumed; name the "
                         "cloth, such as --fabric \"cloth 300\"");
    if (!words.hardener.empty()) {
        resin.hardener_percent = read_number(words.hardener).value();
        resin.hardener_given = true;
    }
    if (!words.parts.empty()) resin.hardener_parts = read_parts(words.parts);
    if (!words.basis.empty())
        resin.hardener_basis = words.basis == "volume" ? job::Basis::volume : job::Basis::mass;
    if (!words.density.empty())
        resin.density = GramsPerMillilitre(read_number(words.density).value());
    if (!words.hardener_density.empty()) {
        resin.hardener_density = GramsPerMillilitre(read_number(words.hardener_density).value());
        resin.hardener_density_given = true;
    }
    if (!words.cup.empty()) resin.cup = job::read_mass(words.cup).value();
    if (!words.temperature.empty())
        job.shop.temperature = Celsius(read_number(words.temperature).value());
    if (!words.drops.empty()) resin.drops_per_mL = read_number(words.drops).value();
    if (resin.kind == job::ResinKind::epoxy && words.job.empty() && words.basis.empty())
        return bad_input("--basis",
                         "missing: epoxy is mixed by its data sheet's fixed ratio; give "
                         "it as --parts 5:1 with --basis mass or --basis volume");
    return job;
}

/// A mass, or a volume by the density of what is mixed; "oz wt" is of mass, "fl oz" of volume.
job::Amount<Grams> read_resin(const std::string& text, GramsPerMillilitre density) {
    if (const auto volume = job::read_volume(text)) return *volume * density;
    auto mass = job::read_mass(text);
    if (!mass && !job::is_bare_ounces(text))
        return tl::unexpected<std::string>(
            "write a mass or a volume with its unit, such as \"250 g\", \"8 oz wt\" or \"8 fl "
            "oz\"");
    return mass;
}

/// By which density a volume of resin became grams, where it is not the user's own.
std::string density_line(const MixWords& words, const job::Resin& resin) {
    if (words.resin.empty() || !job::read_volume(words.resin)) return {};
    const bool epoxy = resin.kind == job::ResinKind::epoxy;
    if (epoxy ? quantities::densities_known(resin) : resin.density.has_value()) return {};
    return "--resin is a volume: 1 mL is taken as " + fixed(quantities::sizing_density.value(), 2) +
           " g (from memory); " +
           (epoxy ? "give --density and --hardener-density"
                  : "give your resin's own as --density") +
           "\n";
}

/// What can hurt whoever mixes this, in a line each.
std::string caution_lines(const job::Job& job) {
    // The gravest come first, those of mixing before those of grinding; all are on the job sheet.
    constexpr std::size_t of_mixing = 4;
    std::string lines;
    for (const job_sheet::Caution& caution : job_sheet::cautions(job) | std::views::take(of_mixing))
        lines += "caution: " + std::string(caution.heading) + "\n";
    return lines + "The maker's data sheet comes first.\n";
}

int run_mix(const MixWords& words) {
    const auto job = job_of(words);
    if (!job) return report(job.error());
    quantities::MixRequest request;
    if (!words.area.empty()) request.area = job::read_area(words.area).value();
    if (!words.glass.empty()) request.glass = job::read_mass(words.glass).value();
    if (!words.resin.empty())
        request.resin = read_resin(words.resin, quantities::mixture_density(job->resin)).value();
    if (!words.fabric.empty()) request.fabric = words.fabric;
    request.plies = words.plies;
    const auto mix = quantities::mix(request, *job);
    if (!mix) return report(mix.error());
    std::fputs((quantities::mix_text(*mix, *job) + density_line(words, job->resin)).c_str(),
               stderr);
    report(mix->warnings);
    std::fputs(caution_lines(*job).c_str(), stderr);
    return exit_done;
}

void add_amounts(CLI::App& command, MixWords& words) {
    auto* amounts = command.add_option_group("amount", "what to mix for; one of these");
    amounts->add_option("--area", words.area, "of one ply, such as \"0.6 m2\" or \"6.5 ft2\"")
        ->check(amount(job::read_area));
    amounts->add_option("--glass", words.glass, "mass of cloth, such as \"300 g\"")
        ->check(amount(job::read_mass));
    amounts
        ->add_option("--resin", words.resin, "resin, such as \"250 g\", \"8 oz wt\" or \"8 fl oz\"")
        ->check(amount(
            [](const std::string& text) { return read_resin(text, GramsPerMillilitre(1.0)); }));
    amounts->require_option(1);
}

void add_resin(CLI::App& command, MixWords& words) {
    command.add_option("--kind", words.kind, "polyester, vinylester or epoxy")
        ->check(CLI::IsMember({"polyester", "vinylester", "epoxy"}));
    command.add_option("--hardener", words.hardener, "percent of the resin")->check(number);
    command.add_option("--parts", words.parts, "epoxy: resin to hardener, such as 5:1")
        ->check(CLI::Validator(
            [](std::string& text) {
                return read_parts(text) ? std::string()
                                        : "value \"" + text + "\": write two parts, such as 5:1";
            },
            ""));
    command.add_option("--basis", words.basis, "percent or parts by mass, or by volume")
        ->check(CLI::IsMember({"mass", "volume"}));
    command
        .add_option("--density", words.density, "of the liquid resin, g/mL; epoxy: its resin part")
        ->check(number);
    command.add_option("--hardener-density", words.hardener_density, "of its hardener, g/mL")
        ->check(number);
    command.add_option("--cup", words.cup, "most that is mixed at once; default 250 g")
        ->check(amount(job::read_mass));
    command.add_option("--temperature", words.temperature, "of the shop, -20 to 50 Celsius")
        ->check(number);
    command.add_option("--drops-per-mL", words.drops, "counted from your own bottle")
        ->check(number);
}

}  // namespace

void add_mix(CLI::App& app, int& status) {
    auto words = std::make_shared<MixWords>();
    CLI::App* command =
        app.add_subcommand("mix", "resin, hardener and cups for an area or a mass, without a hull");
    command->add_option("--job", words->job, "job file whose resin, cloths and shop are used");
    add_amounts(*command, *words);
    command->add_option("--fabric", words->fabric,
                        "cloth of the area or glass; default mat 450, with epoxy none");
    command->add_option("--plies", words->plies, "how many plies of the area")
        ->capture_default_str()
        ->check(CLI::Range(1, 500));
    add_resin(*command, *words);
    command->callback([words, &status] { status = run_mix(*words); });
}

}  // namespace tearline::cli

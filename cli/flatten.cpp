#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <CLI/Validators.hpp>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <memory>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "cli/commands.h"
#include "cli/output_words.h"
#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/files/replace_folder.h"
#include "core/job/amounts.h"
#include "core/job/limits.h"
#include "core/job/node.h"
#include "core/job/read_text.h"
#include "core/page/page.h"
#include "core/plan/flatten_model.h"

namespace tearline::cli {

namespace {

struct FlattenWords {
    std::string model, unit;
    std::optional<std::string> outline;
    int face = 0;
    std::string join = "straight", cloth = "mat", side = "outside", outward = "auto";
    std::string units = "mm", title;
    double axis = 0.0, axis_free = 0.0, strain_limit = 0.0;
    std::string margin = "0";
    std::vector<double> bow{1, 0, 0}, up{0, 0, 1};
    bool exact = false;
    OutputWords output;
};

/// Three numbers of a point, between commas or spaces.
Result<Vec3> read_point(const std::string& text, const std::string& where) {
    std::string parted = text;
    std::replace(parted.begin(), parted.end(), ',', ' ');
    std::istringstream words(parted);
    Vec3 point;
    std::string word;
    for (int i = 0; i < 3; ++i) {
        const auto number = words >> word ? read_number(word) : std::nullopt;
        if (!number || !std::isfinite(*number))
            return bad_input(where, "\"" + job::quotable(text) + "\": must be x,y,z in mm");
        if (!(std::abs(*number) <= job::farthest_coordinate))
            return bad_input(where, "\"" + job::quotable(text) +
                                        "\": a coordinate lies within 10 km of the origin; is it "
                                        "in mm?");
        point[i] = *number;
    }
    if (words >> word)
        return bad_input(where, "\"" + job::quotable(text) + "\": must be three numbers, x,y,z");
    return point;
}

Result<std::string> outline_file(const std::string& given) {
    std::error_code ignored;
    if (!std::filesystem::is_regular_file(given, ignored))
        return bad_input("--outline",
                         "\"" + given +
                             "\": give points, \"x,y,z; x,y,z; x,y,z\", or a file "
                             "with a point a line; " +
                             (std::filesystem::exists(given, ignored) ? "that is no file to read"
                                                                      : "there is no such file"));
    constexpr std::size_t most = 1u << 20u;  // [bytes] as a job file: thousands of points
    auto text = job::read_text(given, most + 1, "a file with a point a line");
    if (text && text->size() > most)
        return bad_input("--outline", "\"" + given +
                                          "\": holds over 1 MB; an outline is some points in order "
                                          "round the piece");
    return text;
}

/// "x,y,z; x,y,z; ...", or a file with a point a line; "#" begins a remark.
Result<std::vector<Vec3>> read_outline(const std::string& given) {
    std::vector<Vec3> points;
    const bool in_words = given.find(';') != std::string::npos;
    const auto told = in_words ? Result<std::string>(given) : outline_file(given);
    if (!told) return tl::unexpected(told.error());
    std::istringstream in(*told);
    std::string text;
    for (int line = 1; std::getline(in, text, in_words ? ';' : '\n'); ++line) {
        if (!in_words) text = text.substr(0, text.find('#'));
        if (text.find_first_not_of(" \t\r") == std::string::npos) continue;
        const std::string place = in_words ? "--outline, point " + std::to_string(points.size() + 1)
                                           : given + ":" + std::to_string(line);
        const auto point = read_point(text, place);
        if (!point) return tl::unexpected(point.error());
        if (points.empty() || !((*point - points.back()).norm() <= tolerance::weld))
            points.push_back(*point);
    }
    if (points.size() > 1 && (points.front() - points.back()).norm() <= tolerance::weld)
        points.pop_back();
    if (points.size() < 3)
        return bad_input("--outline", "has " + std::to_string(points.size()) +
                                          " points; it needs at least 3 in order round the piece");
    return points;
}

Result<Vec3> unit_vector(const std::vector<double>& of, const char* option) {
    const Vec3 v(of[0], of[1], of[2]);
    const double length = v.stableNorm();
    if (!std::isfinite(length) || !(length > 0.0))
        return bad_input(option, "must be a direction of finite numbers, such as 1,0,0, not 0,0,0");
    return Vec3(v / length);
}

Result<FlatJob> job_of(const FlattenWords& words) {
    FlatJob job;
    job.model = words.model;
    if (!words.unit.empty()) job.unit = words.unit;
    job.exact = words.exact;
    if (words.face != 0) job.face = words.face;
    if (words.outline) {
        auto points = read_outline(*words.outline);
        if (!points) return tl::unexpected(points.error());
        job.outline = std::move(*points);
    }
    job.join = words.join == "smooth" ? job::Join::smooth : job::Join::straight;
    job.cloth = words.cloth;
    job.axis = words.axis;
    job.axis_free = words.axis_free;
    if (words.strain_limit > 0.0) job.strain_limit = words.strain_limit;
    std::optional<double> margin = read_number(words.margin);  // [mm]
    if (const auto told = job::read_length(words.margin); !margin && told) margin = *told;
    constexpr double most_margin = 1000.0;  // [mm]
    if (!margin || !(*margin >= 0.0 && *margin <= most_margin))
        return bad_input("--margin", "\"" + words.margin +
                                         "\": must be a length between 0 and 1000 mm, such as 20 "
                                         "or \"20 mm\"");
    job.margin = *margin;
    job.outward = words.outward;
    job.side = words.side == "inside" ? job::Side::inside : job::Side::outside;
    const auto bow = unit_vector(words.bow, "--bow"), up = unit_vector(words.up, "--up");
    if (!bow) return tl::unexpected(bow.error());
    if (!up) return tl::unexpected(up.error());
    if (!(bow->cross(*up).norm() >= tolerance::least_bow_up_sine))
        return bad_input(words.bow == FlattenWords().bow ? "--up" : "--bow",
                         "must not be parallel to the other of --bow (1,0,0 unless said) and --up "
                         "(0,0,1 unless said): give both");
    job.bow = *bow;
    job.up = *up;
    job.units = words.units == "in" ? job::Units::us : job::Units::metric;
    if (const auto fault = job::fault_of_text(words.title)) return bad_input("--title", *fault);
    job.title = words.title;
    return job;
}

/// Whether a file of each roll would be no file at all.
bool lacks_rolls(const FlattenWords& words, const Plan& plan) {
    return plan.rolls.empty() && words.output.cutter_files == std::vector<std::string>{"rolls"};
}

int run(const FlattenWords& words) {
    const auto job = job_of(words);
    if (!job) return report(job.error());
    const std::string& folder = words.output.folder;
    if (!folder.empty())
        if (const auto free = files::check_folder(folder); !free) return report(free.error());
    const auto model = model_to_flatten(*job);
    if (!model) return report(model.error());
    const auto plan = flatten_model(*job, *model);
    if (!plan) return report(plan.error());
    if (lacks_rolls(words, *plan))
        return report(bad_input("--cutter-files",
                                "rolls: what has no width lies on no roll; name its --cloth, such "
                                "as \"mat 450\", or give one or pieces")
                          .value());
    report(plan->warnings);
    files::OutputOptions options = output_options(words.output);
    if (options.wants(files::Format::page)) options.hull = page::shape_of(*model);
    if (const auto handed = hand_over(*plan, words.output, options); !handed)
        return report(handed.error());
    tell_templates(*plan, words.output);
    return exit_done;
}

void add_surface_options(CLI::App& command, FlattenWords& words) {
    command.add_option("MODEL", words.model, "the model: .step .iges .brep .stl .obj .ply")
        ->required();
    command.add_option("--unit", words.unit, "of a file that does not say its own: .stl .obj .ply")
        ->check(CLI::IsMember({"mm", "cm", "m", "in", "ft"}));
    CLI::Option* face = command
                            .add_option("--face", words.face,
                                        "this face of a CAD model, from 1; a face that closes on "
                                        "itself is parted along its seam")
                            ->check(CLI::Range(1, 1'000'000))
                            ->type_name("N");
    CLI::Option* outline =
        command
            .add_option(
                "--outline", words.outline,
                "a piece by points on the model in order round it, \"x,y,z; x,y,z; ...\" in "
                "mm, or a file with a point a line; without it and --face all of the model")
            ->type_name("POINTS")
            ->excludes(face);
    command
        .add_option("--join", words.join,
                    "the outline's points: straight (shortest ways on the surface) or smooth")
        ->check(CLI::IsMember({"straight", "smooth"}))
        ->needs(outline);
    command
        .add_option("--side", words.side,
                    "that the piece is seen from and laid on: outside or inside")
        ->check(CLI::IsMember({"outside", "inside"}));
    command
        .add_option("--outward", words.outward,
                    "a model that does not tell its outside, as a flat one: \"as modelled\" (the "
                    "way its faces look) or \"reversed\"")
        ->check(CLI::IsMember({"auto", "as modelled", "reversed"}));
    command.add_option("--bow", words.bow, "direction of the bow in the model: 1,0,0 unless said")
        ->delimiter(',')
        ->expected(3)
        ->type_name("X,Y,Z");
    command.add_option("--up", words.up, "upward direction in the model: 0,0,1 unless said")
        ->delimiter(',')
        ->expected(3)
        ->type_name("X,Y,Z");
    command.add_flag("--exact", words.exact, "a mesh that looks like a scan is exact all the same");
    add_read_limits(command);
}

void add_cloth_options(CLI::App& command, FlattenWords& words) {
    command
        .add_option("--cloth", words.cloth,
                    "what it is cut from: mat (any sheet that gives, of any width) or a name as in "
                    "a job file: \"biaxial 400\"")
        ->type_name("NAME");
    command
        .add_option("--axis", words.axis,
                    "cloth: degrees from the bow direction to the roll's, counter-clockwise")
        ->check(CLI::Range(-360.0, 360.0))
        ->type_name("DEG");
    command
        .add_option("--axis-free", words.axis_free,
                    "cloth: degrees that it may turn to lie down better")
        ->check(CLI::Range(0.0, 90.0))
        ->type_name("DEG");
    command
        .add_option("--strain-limit", words.strain_limit,
                    "mat: how much it may give, 0.05 (5 %) unless said; stiff sheets far less")
        ->check(CLI::Range(1e-5, 0.3))
        ->type_name("SHARE");
    command
        .add_option("--margin", words.margin,
                    "how far the cut goes beyond the edge: 0 unless said; \"20 mm\", \"3/4 in\"")
        ->type_name("LENGTH");
}

void add_template_options(CLI::App& command, FlattenWords& words) {
    command.add_option("--units", words.units, "what templates show: mm, or in for inches")
        ->check(CLI::IsMember({"mm", "in"}));
    command.add_option("--title", words.title, "that stands on every template")->type_name("TEXT");
    add_output_options(command, words.output);
}

}  // namespace

void add_flatten(CLI::App& app, int& status) {
    const auto words = std::make_shared<FlattenWords>();
    CLI::App* command = app.add_subcommand(
        "flatten", "a face or a piece of a model laid flat, no damage and no laminate");
    add_surface_options(*command, *words);
    add_cloth_options(*command, *words);
    add_template_options(*command, *words);
    command->callback([words, command, &status] {
        refuse_useless(*command, words->output);
        status = run(*words);
    });
}

}  // namespace tearline::cli

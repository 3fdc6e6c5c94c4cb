#include "core/serve/answer_requests.h"

#include <cmath>
#include <exception>
#include <new>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "core/base/printable.h"
#include "core/base/sha256.h"
#include "core/base/side_by_side.h"
#include "core/base/version.h"
#include "core/files/write_plan.h"
#include "core/formats/piece_mesh.h"
#include "core/formats/plan_json.h"
#include "core/hull/read_hull.h"
#include "core/job/in_file.h"
#include "core/job/read_job.h"
#include "core/job/schema/keys_json.h"
#include "core/page/page.h"
#include "core/paper/paper.h"
#include "core/plan/laid_place.h"
#include "core/plan/plan_repair.h"
#include "core/quantities/mix.h"
#include "core/serve/kept_hull.h"
#include "core/serve/live_outline.h"

namespace tearline::serve {

namespace {

using Json = nlohmann::ordered_json;

constexpr int protocol = 1;

const char* word(ErrorKind kind) {
    switch (kind) {
        case ErrorKind::bad_input:
            return "bad-input";
        case ErrorKind::no_safe_answer:
            return "no-safe-answer";
        case ErrorKind::output_failed:
            return "output-failed";
    }
    return "bug";
}

/// Bytes that are no text (of a path, of a file) are replaced: an answer is always valid.
std::string text_of(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Json as_json(const Vec3& p) {
    return Json::array({p.x(), p.y(), p.z()});
}

Json as_json(const Loop3& loop) {
    Json points = Json::array();
    for (const Vec3& p : loop) points.push_back(as_json(p));
    return points;
}

Json as_json(const DraftOutline& draft) {
    Json scarf = Json::array();
    for (const Region3& part : draft.scarf) scarf.push_back(as_json(part.outer));
    return {{"outline_3d", as_json(draft.outline)},
            {"scarf_3d", std::move(scarf)},
            {"middle", as_json(draft.frame.middle)},
            {"normal", as_json(draft.frame.normal)},
            {"axis_from", as_json(draft.frame.axis_from)}};
}

Json as_json(const hull::Hull& hull) {
    const hull::HullReport& report = hull.report;
    Json warnings = Json::array();
    for (const Warning& warning : hull.warnings) warnings.push_back(warning.words().told);
    return {{"format", report.format},
            {"unit", report.unit},
            {"faces", report.faces},
            {"triangles", report.triangles_read},
            {"extent_min", as_json(report.extent_min)},
            {"extent_max", as_json(report.extent_max)},
            {"area_mm2", report.area_mm2},
            {"closed", report.closed},
            {"openings_mm", report.opening_lengths},
            {"orientation", report.orientation},
            {"mended", report.mended},
            {"warnings", std::move(warnings)}};
}

template <class Amount>
Json number(const std::optional<Amount>& amount) {
    return amount ? Json(amount->value()) : Json();
}

Json as_json(const quantities::Mix& mix) {
    Json cups = Json::array();
    for (const quantities::Cup& cup : mix.cups)
        cups.push_back(
            {{"resin_g", cup.resin_g},
             {"hardener_g", cup.hardener_g ? Json(*cup.hardener_g) : Json()},
             {"hardener_mL", cup.hardener_mL ? Json(*cup.hardener_mL) : Json()},
             {"mix_resin_g", cup.mix_resin_g},
             {"mix_hardener_g", cup.mix_hardener_g ? Json(*cup.mix_hardener_g) : Json()},
             {"mix_hardener_mL", cup.mix_hardener_mL ? Json(*cup.mix_hardener_mL) : Json()},
             {"left_g", cup.left_g}});
    return {{"glass_g", number(mix.glass)},
            {"resin_g", mix.resin.value()},
            {"hardener_g", number(mix.recipe.hardener)},
            {"hardener_mL", number(mix.recipe.hardener_volume)},
            {"cups", std::move(cups)}};
}

/// What a "write" request asks for.
Result<files::OutputOptions> output_options(const Json& header) {
    files::OutputOptions options;
    options.mirror = header.value("mirror", false);
    options.less_paper = header.value("less_paper", false);
    options.print_scale = header.value("print_scale", 1.0);
    if (!(options.print_scale >= 0.9 && options.print_scale <= 1.1))
        return bad_input("print_scale", "must be between 0.9 and 1.1");
    if (const auto papers = header.find("papers"); papers != header.end())
        for (const std::string name : *papers) {
            const auto paper = paper::read_paper(name);
            if (!paper) return tl::unexpected(paper.error());
            options.papers.push_back(paper->name);
        }
    const auto formats = header.find("formats");
    if (formats == header.end()) return options;
    options.formats.clear();
    for (const std::string name : *formats) {
        const auto format = files::format_named(name);
        if (!format)
            return bad_input("formats",
                             "no format '" + name + "': svg, dxf, dxf2000, hpgl, pdf, page");
        options.formats.push_back(*format);
    }
    return options;
}

}  // namespace

class RequestAnswerer::State {
public:
    State(std::ostream& out, Cancelled& cancelled) : out_(out), cancelled_(cancelled) {}

    bool answer(const Message& message) {
        const Json header = Json::parse(message.header);
        id_ = header.value("id", Json());
        const bool go_on = answer(header, message.body);
        if (id_.is_number_integer()) cancelled_.forget(id_.get<std::int64_t>());
        return go_on;
    }

    void turn_away(const Message& message) {
        id_ = Json::parse(message.header).value("id", Json());
        complain("busy", "too much is waiting to be answered already: ask again later");
        if (id_.is_number_integer()) cancelled_.forget(id_.get<std::int64_t>());
    }

    bool complain(const std::string& kind, const std::string& text) {
        return send(complaint(kind, text));
    }
    void forget_id() { id_ = Json(); }

private:
    bool answer(const Json& header, const std::string& body) {
        try {
            const auto request = header.find("request");
            if (request == header.end() || !request->is_string())
                return complain("bad-request", "a header names its request: \"request\": \"plan\"");
            return answer(request->get<std::string>(), header, body);
        } catch (const Json::exception&) {
            return complain("bad-request", "a field of the header has the wrong type");
        } catch (const std::bad_alloc&) {
            return complain("no-safe-answer",
                            "not enough memory: make the damage smaller, or export only the part "
                            "of the model about it, or a coarser one");
        } catch (const std::exception& error) {
            return complain("bug", error.what());
        }
    }

    bool answer(const std::string& request, const Json& header, const std::string& body) {
        if (request == "bye") {
            done({});
            return false;
        }
        if (request == "hello") return hello(header);
        if (!greeted_) return complain("bad-request", "say hello first");
        if (request == "ping") return done({});
        if (request == "keys") return done_with(job::keys_json());
        if (request == "hull") return hull(header);
        if (request == "outline") return outline(header, body);
        if (request == "plan") return plan(header, body);
        if (request == "write") return write(header, body);
        if (request == "mix") return mix(header, body);
        return complain("bad-request",
                        "no request '" + printable(request) +
                            "': hello, ping, keys, hull, outline, plan, write, mix, cancel, bye");
    }

    bool hello(const Json& header) {
        if (header.value("protocol", Json()) != protocol)
            return complain("bad-version",
                            "this engine speaks protocol " + std::to_string(protocol));
        greeted_ = true;
        return done(
            {{"program", "tearline"}, {"version", std::string(version())}, {"protocol", protocol}});
    }

    /// What a model file holds.
    bool hull(const Json& header) {
        const auto model = header.value("model", std::string());
        if (model.empty()) return complain("bad-request", "\"model\" names the file");
        std::optional<std::string> unit;
        if (const auto given = header.find("unit"); given != header.end() && !given->is_null())
            unit = given->get<std::string>();
        const auto read = hull::inspect_hull(model, unit);
        if (!read) return refuse(read.error());
        return done_with(text_of(as_json(*read)));
    }

    /// The job of a request's body, with its hull.
    Result<JobOnHull> job_on_hull(const Json& header, const std::string& body) {
        auto job = job::parse_job(body, header.value("file", std::string("job.toml")));
        if (!job) return tl::unexpected(job.error());
        const std::string before = hull_.name();
        auto on_hull = hull_.of(*job);
        if (!on_hull || before != hull_.name()) {
            live_outline_.forget();
            kept_place_.forget();
        }
        return on_hull;
    }

    /// The damage outline as the engine sees it, while the user still drags its points.
    bool outline(const Json& header, const std::string& body) {
        const auto given = job_on_hull(header, body);
        if (!given) return refuse(given.error());
        const auto draft = live_outline_.draw(given->job, *given->hull);
        if (!draft) return refuse(job::in_file(given->job, draft.error()));
        Json answer = as_json(*draft);
        // Of a scan all is told in true mm; whoever draws on the scan itself divides by this.
        if (given->hull->scanned) answer["scale"] = given->hull->scanned->scale;
        return done_with(text_of(answer));
    }

    /// Whether the request that is being answered was cancelled.
    [[nodiscard]] bool stopped() const {
        return id_.is_number_integer() && cancelled_.contains(id_.get<std::int64_t>());
    }

    /// Tells how far the request is that is being answered, until it is cancelled.
    Progress progress() {
        return [this](std::string_view stage, double fraction) {
            if (stopped() || !out_) return false;
            return send({{"id", id_}, {"progress", std::string(stage)}, {"fraction", fraction}});
        };
    }

    /// Makes the plan of a body the kept one; nothing is done when it is that already.
    /// @return  false when it was refused, and told so
    bool make_plan(const Json& header, const std::string& body) {
        const auto given = job_on_hull(header, body);
        if (!given) return refuse(given.error()), false;
        const std::string name = hull_.name() + header.value("file", std::string()) + body;
        if (plan_ && name == plan_name_) return true;
        auto planned = plan_repair(given->job, *given->hull, kept_place_, progress());
        if (stopped()) return complain("cancelled", "stopped as asked"), false;
        if (const auto same = given->files.unchanged(); !same)
            return refuse(job::in_file(given->job, same.error())), false;
        if (!planned) return refuse(planned.error()), false;
        plan_ = std::move(*planned);
        plan_name_ = name;
        plan_hull_ = hull_.name();
        job_sha256_ = sha256_hex(body);
        return true;
    }

    bool plan(const Json& header, const std::string& body) {
        return make_plan(header, body) ? send_plan() : true;
    }

    /// Adds the mesh of every piece and the dish, one after the other.
    /// @return  their names
    std::vector<std::string> add_meshes(std::vector<std::string>& body) const {
        std::vector<std::string> names;
        const auto add = [&](std::string name, std::string bytes) {
            names.push_back(std::move(name));
            body.push_back(std::move(bytes));
        };
        const auto add_pieces = [&add](const std::vector<templates::LaidPly>& plies) {
            for (const templates::LaidPly& ply : plies)
                for (const templates::LaidPiece& piece : ply.pieces)
                    add("pieces/" + piece.piece.id + ".bin", formats::piece_mesh(piece.piece));
        };
        add_pieces(plan_->plies);
        if (plan_->backing) add_pieces(plan_->backing->pieces);
        if (plan_->core) add_pieces(plan_->core->pieces);
        add("dish.bin", formats::dish_mesh(plan_->place.dish_view));
        return names;
    }

    /// plan.json, the mesh of every piece, of backing and core too, and the dish, one after the
    /// other; the header lists them.
    bool send_plan() {
        std::string text;
        std::vector<std::string> body(1), names;
        side_by_side([&] { text = formats::plan_json(*plan_); }, [&] { names = add_meshes(body); });
        body.front() = std::move(text);
        names.insert(names.begin(), "plan.json");
        Json parts = Json::array();
        for (std::size_t i = 0; i < names.size(); ++i)
            parts.push_back({{"name", names[i]}, {"bytes", body[i].size()}});
        return done({{"parts", std::move(parts)}}, body);
    }

    /// Writes a plan's files into a folder, as the command line would: the plan of the body, or
    /// the last one where there is no body.
    bool write(const Json& header, const std::string& body) {
        const auto folder = header.value("folder", std::string());
        if (folder.empty()) return complain("bad-request", "\"folder\" names where to write");
        // The system would take it for the name up to there.
        if (folder.find('\0') != std::string::npos)
            return complain("bad-request", "\"folder\" holds a zero byte, which no name may");
        auto options = output_options(header);
        if (!options) return complain("bad-request", options.error().message());
        options->progress = progress();
        if (!body.empty() && !make_plan(header, body)) return true;
        if (!plan_) return complain("bad-request", "ask for a plan first, or send its job");
        if (options->wants(files::Format::page))
            if (const hull::Hull* hull = hull_.named(plan_hull_))
                options->hull = page::shape_of(*hull);
        const auto told = files::write_plan(*plan_, folder, *options, job_sha256_);
        if (!told && stopped()) return complain("cancelled", "stopped as asked");
        if (!told) return refuse(told.error());
        return done({{"folder", folder}, {"told", *told}});
    }

    /// Resin, hardener and cups without a hull: the job in the body gives resin and cloths.
    bool mix(const Json& header, const std::string& body) {
        const auto job = job::parse_job(body, header.value("file", std::string("job.toml")));
        if (!job) return refuse(job.error());
        quantities::MixRequest request;
        if (header.contains("area_m2")) request.area = SquareMetres(header["area_m2"]);
        if (header.contains("glass_g")) request.glass = Grams(header["glass_g"]);
        if (header.contains("resin_g")) request.resin = Grams(header["resin_g"]);
        request.fabric = header.value("fabric", request.fabric);
        const double plies = header.value("plies", static_cast<double>(request.plies));
        if (plies != std::floor(plies) || !(std::abs(plies) <= 1e6))
            return complain("bad-request", "\"plies\" is a whole number from 1 to 500");
        request.plies = static_cast<int>(plies);
        const auto mixed = quantities::mix(request, *job);
        if (!mixed) return refuse(mixed.error());
        Json answer = as_json(*mixed);
        answer["text"] = quantities::mix_text(*mixed, *job);
        return done_with(text_of(answer));
    }

    [[nodiscard]] Json complaint(const std::string& kind, const std::string& text) const {
        return {{"id", id_}, {"ok", false}, {"error", kind}, {"message", text}};
    }

    /// With all that is known of the fault beside the message.
    bool refuse(const Error& error) {
        Json header = complaint(word(error.kind), error.message());
        header["short"] = error.without_file();
        header["what"] = printable(error.what, true);
        if (!error.key.empty()) header["key"] = error.key;
        if (error.line > 0) header["line"] = error.line;
        if (error.place) header["place"] = as_json(*error.place);
        if (error.ply) header["ply"] = *error.ply;
        if (!error.piece.empty()) header["piece"] = error.piece;
        return send(header);
    }

    bool done(const Json& fields, std::span<const std::string> body = {}) {
        Json header = {{"id", id_}, {"ok", true}};
        header.update(fields.is_null() ? Json::object() : fields);
        return send(header, body);
    }

    bool done_with(const std::string& body) { return done({}, {&body, 1}); }

    bool send(const Json& header, std::span<const std::string> body = {}) {
        write_message(out_, text_of(header), body);
        return true;
    }

    std::ostream& out_;
    Cancelled& cancelled_;
    Json id_;
    bool greeted_ = false;
    KeptHull hull_;
    LiveOutline live_outline_;
    plan::KeptPlace kept_place_;
    std::optional<Plan> plan_;
    std::string job_sha256_;  ///< of the text that it was made from
    std::string plan_name_;
    std::string plan_hull_;  ///< name of the hull that it was made on
};

RequestAnswerer::RequestAnswerer(std::ostream& out, Cancelled& cancelled)
    : state_(std::make_unique<State>(out, cancelled)) {}

RequestAnswerer::~RequestAnswerer() = default;

bool RequestAnswerer::answer(const Message& message) {
    return state_->answer(message);
}

void RequestAnswerer::turn_away(const Message& message) {
    state_->turn_away(message);
}

void RequestAnswerer::complain(const std::string& what) {
    state_->forget_id();
    state_->complain("bad-request", what);
}

}  // namespace tearline::serve

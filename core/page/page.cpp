#include "core/page/page.h"

#include <algorithm>
#include <optional>
#include <string>

#include "core/base/sha256.h"
#include "core/formats/svg.h"
#include "core/job/title_of.h"
#include "core/job_sheet/cautions.h"
#include "core/job_sheet/template_thumbnail.h"
#include "core/page/data_writer.h"
#include "core/page/fine_shape.h"
#include "core/page/layers.h"
#include "core/page/plan_data.h"
#include "core/page/resources.h"
#include "core/plane/box.h"

namespace tearline::page {

namespace {

/// With three.js and the numbers as text a page stays below 8 MB.
constexpr std::size_t most_triangles = 200'000, most_points = 300'000;

constexpr std::string_view seal_begins = "<!-- tearline page ", seal_ends = " -->\n";

std::string seal(std::string_view text) {
    return std::string(seal_begins) + sha256_hex(text) + std::string(seal_ends);
}

/// JSON that no markup can begin in.
std::string in_markup(const std::string& json) {
    std::string out;
    out.reserve(json.size());
    for (const char c : json)
        if (c == '<')
            out += "\\u003c";
        else
            out += c;
    return out;
}

/// The body's text with what belongs to one page put in at a place that it names.
void put_in(std::string& body, const std::string& place, const std::string& text) {
    const std::string mark = "<!-- " + place + " -->";
    const std::size_t at = body.find(mark);
    if (at != std::string::npos) body.replace(at, mark.size(), text);
}

struct Parts {
    std::string title;
    std::string kind;       ///< "model", "refused", "plan": what the style shows
    std::string cautions;   ///< markup
    std::string templates;  ///< markup
    std::string data;       ///< JSON
};

std::string assembled(const Parts& parts) {
    std::string body(page_body());
    put_in(body, "cautions", parts.cautions);
    put_in(body, "templates", parts.templates);
    // Whatever somebody wrote into a job file or a model, the page asks nobody for anything.
    std::string out = std::string(first_line) +
                      "<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
                      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
                      "script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:\">\n"
                      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                      "<meta name=\"color-scheme\" content=\"light dark\">\n<title>" +
                      formats::escaped(parts.title) + "</title>\n<style>\n";
    out += page_style();
    out += "</style></head>\n<body class=\"" + parts.kind + "\">\n" + body;
    out += "<script id=\"data\" type=\"application/json\">" + in_markup(parts.data) + "</script>\n";
    out += "<!-- The script that follows is three.js:\n";
    out += three_licence();
    out += "-->\n<script>";
    out += three_script();
    out += "</script>\n<script>\n";
    out += page_script();
    out += "</script>\n</body></html>\n";
    return out + seal(out);
}

Vec3 middle_of(const Shape& shape) {
    if (shape.vertices.empty()) return Vec3::Zero();
    Vec3 low = shape.vertices.front(), high = low;
    for (const Vec3& p : shape.vertices) low = low.cwiseMin(p), high = high.cwiseMax(p);
    return 0.5 * (low + high);
}

/// Data that every page has, the hull thinned.
DataWriter begun(const std::string& kind, const std::string& title, const Shape& shape) {
    DataWriter data(middle_of(shape));
    data.json().field("kind", kind).field("title", title);
    data.json().field("read",
                      shape.triangles.empty() ? shape.vertices.size() : shape.triangles.size());
    data.json().field("tapes_scale", shape.scale);
    data.json().key("hull").begin_object();
    data.shape(thinned(shape, shape.triangles.empty() ? most_points : most_triangles));
    data.json().end_object();
    return data;
}

void add_job(DataWriter& data, const job::Job& job) {
    data.json().field("model", job.hull.model_as_given).field("bow", job.hull.bow);
    data.json().field("up", job.hull.up);
    data.json().field("scan", job.hull.scan.has_value());
    data.json().key("marks").begin_array();
    for (const job::Mark& mark : job.marks)
        if (mark.at)
            data.json().begin_object().field("name", mark.name).field("at", *mark.at).end_object();
    data.json().end_array();
}

/// The headings of the sheet's cautions: what can hurt, and where the rest is told.
std::string short_cautions(const job::Job& job) {
    std::string out =
        "<details class=\"cautions\" open><summary>Cautions</summary>\n<p>The maker's data sheet "
        "comes first. The job sheet has these in full, with what to do and who decides first: "
        "read it before you begin.</p><ul>\n";
    for (const job_sheet::Caution& caution : job_sheet::cautions(job))
        if (caution.heading.ends_with('.'))
            out += "<li>" + formats::escaped(caution.heading) + "</li>\n";
    return out + "</ul></details>\n";
}

/// One piece flat, as the overview shows it.
std::string template_figure(const templates::LaidPiece& piece, const Layer& layer,
                            const Plan& plan) {
    const plane::Box box = plane::box_round(piece.outline.parting_region().outer, 4.0);
    const Vec2 size = box.high - box.low;
    // Strokes and words are made for paper: so wide that they are seen as there.
    const double scale = 110.0 / std::max(size.x(), size.y());
    const Vec2 paper = scale * size, at = scale * Vec2(-box.low.x(), box.high.y());
    const std::string what =
        layer.closes ? layer.words : layer.ply->fabric + (layer.ply->cover ? ", cover" : "");
    const std::string name = "Piece " + piece.piece.id + ", " + what + ": " +
                             job_sheet::most_text(piece.piece) + " at most";
    return "<figure class=\"template\" data-layer=\"" + layer.id +
           "\"><svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"" +
           formats::escaped(name) + "\" viewBox=\"0 0 " + formats::svg_number(paper.x()) + " " +
           formats::svg_number(paper.y()) + "\">" +
           job_sheet::template_thumbnail(piece, plan, at, scale, "t" + piece.piece.id) +
           "</svg><figcaption>" + formats::escaped(name) + "</figcaption></figure>\n";
}

std::string template_figures(const Plan& plan) {
    std::string out;
    for (const Layer& layer : layers_of(plan))
        for (const templates::LaidPiece& piece : layer.ply->pieces)
            out += template_figure(piece, layer, plan);
    return out;
}

}  // namespace

Shape shape_of(const hull::Hull& hull) {
    if (hull.cad && !hull.scanned) return fine_shape(hull, most_triangles);
    return {hull.vertices, hull.triangles, hull.scanned ? hull.scanned->scale : 1.0};
}

std::string model_page(const ModelShown& shown) {
    DataWriter data = begun("model", shown.model, shown.shape);
    data.json()
        .field("model", shown.model)
        .field("unit", shown.unit)
        .field("kind_of_scan", shown.scan);
    data.json().field("scan", !shown.scan.empty());
    return assembled({shown.model, "model", "", "", data.take()});
}

std::string refused_page(const job::Job& job, const Shape& hull, const Error& refusal) {
    DataWriter data = begun("refused", job::title_of(job), hull);
    add_job(data, job);
    // Places by tape are not known where the plan stopped; those of a scan are before its scale.
    const bool known = job.taped.empty();
    std::optional<Vec3> at = refusal.place;
    if (!at && known && job.damage.centre) at = hull.scale * *job.damage.centre;
    std::vector<Vec3> outline;
    if (known)
        for (const Vec3& p : job.damage.outline) outline.push_back(hull.scale * p);
    data.json()
        .field("refusal", refusal.without_file())
        .field("refused_at", at)
        .field("asked", outline);
    return assembled({job::title_of(job), "refused", "", "", data.take()});
}

std::string plan_page(const Plan& plan, const Shape& hull) {
    DataWriter data = begun("plan", job::title_of(plan.job), hull);
    add_job(data, plan.job);
    write_plan_data(data, plan);
    // What is only laid flat has nothing of a repair.
    return assembled({job::title_of(plan.job), plan.flat ? "plan flat" : "plan",
                      plan.flat ? "" : short_cautions(plan.job), template_figures(plan),
                      data.take()});
}

Shape hull_of(const Plan& plan) {
    return {plan.place.view.far_vertices, plan.place.view.far_triangles,
            plan.scan ? plan.scan->scale : 1.0};
}

bool is_page(std::string_view bytes) {
    if (!bytes.starts_with(first_line)) return false;
    const std::size_t length = seal("").size();
    if (bytes.size() < length) return false;
    const std::string_view text = bytes.substr(0, bytes.size() - length);
    return bytes.substr(text.size()) == seal(text);
}

}  // namespace tearline::page

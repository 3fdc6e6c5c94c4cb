#include "core/batch/result_line.h"

#include <algorithm>

#include "core/base/numbers.h"
#include "core/batch/what_if_json.h"
#include "core/files/manifest.h"
#include "core/formats/json_writer.h"
#include "core/formats/quantities_json.h"

namespace tearline::batch {

namespace {

/// The greatest strain of any mat and shear of any cloth; nothing where there is none.
struct Worst {
    std::optional<double> strain, shear;
};

Worst worst_of(const Plan& plan) {
    Worst worst;
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces) {
            const auto& shear = piece.piece.shear_max;
            if (shear)
                worst.shear = std::max(worst.shear.value_or(0.0), *shear);
            else
                worst.strain = std::max(worst.strain.value_or(0.0), piece.piece.strain_max);
        }
    return worst;
}

void write_warnings(formats::JsonWriter& json, const Warnings& warnings) {
    json.key("warnings").begin_array();
    for (const Warning& warning : warnings) {
        json.begin_object().field("code", warning.code()).field("rank", rank_key(warning.rank()));
        json.field("message", warning.words().told).field("ply", warning.ply);
        json.field("piece", warning.piece).end_object();
    }
    json.end_array();
}

}  // namespace

std::string result_text(const Told& told) {
    formats::JsonWriter json;
    json.begin_object().field("job", told.job).key("status").raw(told.status.json());
    json.field("message", told.message).key("sha256");
    files::write_origin(json, told.origin);
    if (!told.folder.empty()) json.field("folder", told.folder);
    const Worst worst = told.plan ? worst_of(*told.plan) : Worst{};
    if (told.plan)
        formats::write_totals(json, told.plan->quantities);
    else
        json.key("totals").null();
    json.field("strain_max", worst.strain).field("shear_max", worst.shear);
    write_warnings(json, told.plan ? told.plan->warnings : Warnings{});
    if (told.what_if && told.plan) write_what_if(json, *told.plan);
    std::string text = json.end_object().take();
    // Ends of lines stand between values alone; within text they are escaped.
    std::erase(text, '\n');
    return text;
}

std::string with_cost(std::string text, double seconds, double peak) {
    text.pop_back();
    return text + ",\"seconds\":" + fixed(seconds, 3) + ",\"peak_MB\":" + fixed(peak, 1) + "}";
}

}  // namespace tearline::batch

#include "core/job/effective_json.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "core/base/numbers.h"
#include "core/job/fabric_catalogue.h"

namespace tearline::job {

namespace {

using Json = nlohmann::ordered_json;

Json of(const Vec3& v) {
    return Json::array({v.x(), v.y(), v.z()});
}
Json of(const std::array<double, 2>& pair) {
    return Json::array({pair[0], pair[1]});
}
Json of(GramsPerSquareMetre weight) {
    return shortest(weight.value()) + " g/m2";
}
Json of(Grams mass) {
    return shortest(mass.value()) + " g";
}
Json of(Side side) {
    return side == Side::outside ? "outside" : "inside";
}

Json of(const std::optional<GramsPerMillilitre>& density) {
    return density ? Json(density->value()) : Json();
}
Json of(const std::optional<std::array<double, 2>>& pair) {
    return pair ? of(*pair) : Json();
}

template <class T>
Json or_null(const std::optional<T>& value) {
    return value ? Json(*value) : Json();
}

Json of(const std::optional<Vec3>& v) {
    return v ? of(*v) : Json();
}

Json of(const std::vector<StackEntry>& stack) {
    Json list = Json::array();
    for (const StackEntry& entry : stack)
        list.push_back(
            {{"fabric", entry.fabric}, {"axis", entry.axis}, {"axis_free", entry.axis_free}});
    return list;
}

Json measurements(const HullOptions& hull) {
    if (const auto& m = hull.measured)
        return {{"measured",
                 {{"batten", m->batten},
                  {"gap_along", m->gap_along},
                  {"gap_across", m->gap_across},
                  {"gap_along_ends", m->gap_along_ends ? of(*m->gap_along_ends) : Json()},
                  {"gap_across_ends", m->gap_across_ends ? of(*m->gap_across_ends) : Json()}}}};
    if (const auto& g = hull.grid)
        return {{"grid",
                 {{"spacing_along", g->spacing_along},
                  {"spacing_across", g->spacing_across},
                  {"offsets", g->offsets}}}};
    const OffsetTable& t = hull.sections.value();
    return {{"sections",
             {{"stations", t.stations},
              {"waterlines", t.waterlines},
              {"half_breadths", t.half_breadths},
              {"side", t.port ? "port" : "starboard"}}}};
}

Json hull(const Job& job) {
    const HullOptions& hull = job.hull;
    Json json = {{"model", hull.by_hand() ? Json() : Json(hull.model_as_given)},
                 {"unit", or_null(hull.unit)},
                 {"bow", of(hull.bow)},
                 {"up", of(hull.up)},
                 {"surface", of(hull.surface)},
                 {"skin", or_null(hull.skin)},
                 {"outward", hull.outward},
                 {"mirror", or_null(hull.mirror)}};
    if (hull.by_hand()) json.update(measurements(hull));
    return json;
}

Json of(const std::vector<Sounding>& soundings) {
    Json list = Json::array();
    for (const Sounding& s : soundings) {
        const bool straight = s.from == Sounding::From::straightedge;
        list.push_back({{"at", of(s.at)},
                        {"depth", s.depth},
                        {"from", straight ? "straightedge" : "gauge"},
                        {"length", straight ? Json(s.length) : Json()},
                        {"direction", straight ? Json(s.degrees) : Json()},
                        {"after", s.after}});
    }
    return list;
}

Json marks(const Job& job) {
    if (job.marks.empty()) return {};
    Json all = Json::object();
    for (const Mark& mark : job.marks) all[mark.name] = {{"at", of(mark.at)}};
    return all;
}

Json damage(const Job& job) {
    const Damage& damage = job.damage;
    Json outline;
    if (!damage.centre) {
        outline = Json::array();
        for (const Vec3& point : damage.outline) outline.push_back(of(point));
    }
    Json json = {
        {"outline", outline},
        {"join", damage.join == Join::smooth ? "smooth" : "straight"},
        {"centre", of(damage.centre)},
        {"radius", or_null(damage.radius)},
        {"length", or_null(damage.length)},
        {"height", or_null(damage.height)},
        {"depth", damage.depth > 0.0 ? Json(damage.depth) : Json()},
        {"side", of(damage.side)},
        {"round",
         damage.round ? Json(*damage.round == Round::floor ? "floor" : "ground area") : Json()}};
    if (!damage.soundings.empty()) json["sounding"] = of(damage.soundings);
    return json;
}

std::string_view fill_to_word(FillTo aim) {
    switch (aim) {
        case FillTo::thickness:
            return "thickness";
        case FillTo::stiffness:
            return "stiffness";
        case FillTo::strength:
            return "strength";
    }
    return {};
}

std::string_view position_word(Position position) {
    switch (position) {
        case Position::flat:
            return "flat";
        case Position::vertical:
            return "vertical";
        case Position::overhead:
            return "overhead";
    }
    return {};
}

std::string_view resin_word(ResinKind kind) {
    switch (kind) {
        case ResinKind::polyester:
            return "polyester";
        case ResinKind::vinylester:
            return "vinylester";
        case ResinKind::epoxy:
            return "epoxy";
    }
    return {};
}

Json layup(const Job& job) {
    const Layup& layup = job.layup;
    return {{"order", layup.order == Order::smallest_first ? "smallest first" : "largest first"},
            {"stack", layup.stack.empty() ? Json() : of(layup.stack)},
            {"fill", layup.stack.empty() ? of(layup.fill) : Json()},
            {"fill_to", layup.stack.empty() ? Json(fill_to_word(layup.fill_to)) : Json()},
            {"cover", of(layup.cover)},
            {"cover_step", layup.cover_step},
            {"press_first", of(layup.press_first)},
            {"position", position_word(layup.position)},
            {"copies", layup.copies}};
}

Json of(const Fabric& fabric) {
    const bool mat = fabric.kind == FabricKind::mat;
    const DataSheet& sheet = fabric.data_sheet;
    return {{"name", fabric.name},
            {"kind", kind_word(fabric.kind)},
            {"weight", of(fabric.weight)},
            {"glass_content", fabric.glass_content},
            {"thickness", or_null(fabric.thickness)},
            {"binder", mat ? Json(fabric.binder) : Json()},
            {"roll_width", fabric.roll_width},
            {"tear_margin", mat ? Json(fabric.tear_margin) : Json()},
            {"lap", mat ? Json() : Json(fabric.lap)},
            {"strain_limit", mat ? Json(fabric.strain_limit) : Json()},
            {"shear_limit", mat ? Json() : Json(fabric.shear_limit)},
            {"least_radius", fabric.least_radius},
            {"modulus", or_null(sheet.modulus)},
            {"modulus_across", or_null(sheet.modulus_across)},
            {"shear_modulus", or_null(sheet.shear_modulus)},
            {"poisson", or_null(sheet.poisson)},
            {"tensile_strength", or_null(sheet.tensile_strength)},
            {"compressive_strength", or_null(sheet.compressive_strength)},
            {"flexural_strength", or_null(sheet.flexural_strength)},
            {"shear_strength", or_null(sheet.shear_strength)}};
}

/// The fabrics that this job lays or describes; the rest of the catalogue says nothing about it.
Json fabrics(const Job& job) {
    std::set<std::string> names(job.own_fabrics.begin(), job.own_fabrics.end());
    for (const auto* stack : {&job.layup.stack, &job.layup.fill, &job.layup.cover})
        for (const StackEntry& entry : *stack) names.insert(entry.fabric);
    if (job.old_laminate)
        for (const StackEntry& entry : job.old_laminate->stack) names.insert(entry.fabric);
    Json list = Json::array();
    for (const std::string& name : names) list.push_back(of(job.fabrics.at(name)));
    return list;
}

Json resin(const Job& job) {
    const Resin& resin = job.resin;
    Json gel_at;
    if (resin.gel_at) {
        gel_at = {{"temperature", resin.gel_at->temperature.value()},
                  {"percent", resin.gel_at->percent},
                  {"mass", of(resin.gel_at->mass)}};
        if (resin.kind == ResinKind::epoxy) gel_at["percent"] = nullptr;
    }
    return {{"kind", resin_word(resin.kind)},
            {"density", of(resin.density)},
            {"cured_density", resin.cured_density},
            {"hardener_percent", or_null(resin.hardener_percent)},
            {"hardener_parts", of(resin.hardener_parts)},
            {"hardener_basis",
             resin.hardener_basis.value_or(Basis::mass) == Basis::mass ? "mass" : "volume"},
            {"hardener_range", of(resin.hardener_range)},
            {"hardener_density", of(resin.hardener_density)},
            {"gel_minutes", resin.gel_minutes ? Json(resin.gel_minutes->value()) : Json()},
            {"gel_at", gel_at},
            {"least_temperature", resin.least_temperature.value()},
            {"recoat_hours", resin.recoat_hours.value()},
            {"waxed", resin.waxed},
            {"cup", of(resin.cup)},
            {"waste", resin.waste},
            {"prime", of(resin.prime)},
            {"drops_per_mL", or_null(resin.drops_per_mL)},
            {"can", resin.can.text}};
}

/// Over epoxy there is none unless the job file says which.
Json topcoat(const Job& job) {
    const Topcoat& topcoat = job.topcoat;
    if (job.resin.kind == ResinKind::epoxy && !job.topcoat_given)
        return {{"finish", nullptr},
                {"thickness", nullptr},
                {"density", nullptr},
                {"hardener_percent", nullptr},
                {"hardener_range", nullptr}};
    return {{"finish", topcoat.final_coat ? "final" : "sacrificial"},
            {"thickness", topcoat.thickness},
            {"density", topcoat.density.value()},
            {"hardener_percent", or_null(topcoat.hardener_percent)},
            {"hardener_range", of(topcoat.hardener_range)}};
}

Json old_laminate(const Job& job) {
    if (!job.old_laminate) return {};
    const OldLaminate& old = *job.old_laminate;
    return {{"stack", old.stack.empty() ? Json() : of(old.stack)},
            {"thickness", or_null(old.thickness)},
            {"kind", old.kind ? Json(kind_word(*old.kind)) : Json()},
            {"resin", old.resin ? Json(resin_word(*old.resin)) : Json()}};
}

Json prices(const Job& job) {
    if (!job.prices) return {};
    Json fabric = Json::object();
    for (const auto& [name, price] : job.prices->fabric_per_m2) fabric[name] = price;
    return {{"currency", job.prices->currency},
            {"fabric_per_m2", fabric},
            {"resin_per_kg", or_null(job.prices->resin_per_kg)},
            {"hardener_per_kg", or_null(job.prices->hardener_per_kg)},
            {"topcoat_per_kg", or_null(job.prices->topcoat_per_kg)},
            {"fairing_per_litre", or_null(job.prices->fairing_per_litre)}};
}

}  // namespace

std::string effective_json(const Job& job) {
    const Json all = {
        {"tearline", job.version},
        {"title", job.title},
        {"display_units", job.display_units == Units::metric ? "metric" : "us"},
        {"hull", hull(job)},
        {"marks", marks(job)},
        {"damage", damage(job)},
        {"scarf",
         {{"ratio", job.scarf.ratio},
          {"least_step", job.scarf.least_step},
          {"safety_factor", job.scarf.safety_factor},
          {"bond_shear", or_null(job.scarf.bond_shear)}}},
        {"layup", layup(job)},
        {"fabric", fabrics(job)},
        {"resin", resin(job)},
        {"topcoat", topcoat(job)},
        {"laminator",
         {{"wet_out_rate", job.laminator.wet_out_rate},
          {"use_fraction", job.laminator.use_fraction}}},
        {"shop",
         {{"temperature", job.shop.temperature.value()},
          {"stage_thickness", job.shop.stage_thickness},
          {"cutting_gap", job.shop.cutting_gap},
          {"hours_between_stages",
           job.shop.hours_between_stages ? Json(job.shop.hours_between_stages->value()) : Json()},
          {"fairing_skim", job.shop.fairing_skim}}},
        {"old_laminate", old_laminate(job)},
        {"prices", prices(job)}};
    return all.dump();
}

}  // namespace tearline::job

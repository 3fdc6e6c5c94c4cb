#include <algorithm>
#include <array>
#include <set>
#include <vector>

#include "core/base/numbers.h"
#include "core/base/us_constants.h"
#include "core/base/us_units.h"
#include "core/formats/svg.h"
#include "core/job/default_marks.h"
#include "core/job/fabric_catalogue.h"
#include "core/job/given.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/quantities/hardener.h"
#include "core/quantities/resin_warnings.h"
#include "core/quantities/work_time.h"

namespace tearline::job_sheet {

namespace {

std::string areal(const Plan& plan, GramsPerSquareMetre weight) {
    return both(plan, fixed(weight.value(), 0) + " g/m²",
                fixed(weight.value() / us::gsm_per_ounce_per_foot2, 2) + " oz/ft²");
}

std::string percent(double fraction) {
    return shortest(100.0 * fraction) + " %";
}

/// Rows of what the job file does not give: what, which figure, what it rests on, room for one's
/// own.
class StandIns {
public:
    explicit StandIns(const Plan& plan) : plan_(plan) {}

    /// A key of the job file; `of` which kind of resin, where its default depends on it.
    void add(const std::string& key, const std::string& value, std::string_view of = "") {
        if (job::is_given(plan_.job, key)) return;
        const job::StandIn told = job::stand_in(key, of);
        add_row(std::string(told.words), value, told.mark);
    }

    /// A key of every cloth of one kind that is laid; cloths with the same figure share a row.
    template <class Value>
    void add_fabrics(const std::string& key, job::FabricKind kind, const Value& value,
                     bool marked_by_kind = true) {
        std::vector<std::pair<std::string, std::string>> rows;  // figure, cloths
        for (const std::string& name : laid()) {
            const job::Fabric& fabric = plan_.job.fabrics.at(name);
            if (fabric.kind != kind || job::is_given(plan_.job, fabric, key)) continue;
            const std::string figure = value(fabric);
            const auto row = std::find_if(rows.begin(), rows.end(),
                                          [&](const auto& r) { return r.first == figure; });
            if (row == rows.end())
                rows.emplace_back(figure, formats::escaped(name));
            else
                row->second += ", " + formats::escaped(name);
        }
        const job::StandIn told =
            job::stand_in("fabric." + key, marked_by_kind ? job::kind_word(kind) : "");
        for (const auto& [figure, cloths] : rows)
            add_row(std::string(told.words) + ": " + cloths, figure, told.mark);
    }

    void add_row(const std::string& words, const std::string& value, std::string_view mark) {
        rows_ +=
            tag("tr", left(words) + cell(keep(value)) + left(std::string(mark)) + cell(blank(10))) +
            "\n";
    }

    [[nodiscard]] const std::string& rows() const { return rows_; }

private:
    [[nodiscard]] std::set<std::string> laid() const {
        std::set<std::string> names;
        for (const templates::LaidPly& ply : plan_.plies) names.insert(ply.fabric);
        return names;
    }

    const Plan& plan_;
    std::string rows_;
};

/// "mat 300, mat 300", as it stands in the job file.
std::string cloths(const std::vector<job::StackEntry>& stack) {
    std::string out;
    for (const job::StackEntry& entry : stack)
        out += (out.empty() ? "" : ", ") + formats::escaped(entry.fabric);
    return out;
}

void add_layup(const Plan& plan, StandIns& out) {
    const job::Job& job = plan.job;
    if (!job.layup.fill.empty()) out.add("layup.fill", cloths(job.layup.fill));
    if (!job.layup.cover.empty()) out.add("layup.cover", cloths(job.layup.cover));
    out.add("scarf.ratio", fixed(job.scarf.ratio, 0) + " : 1");
    if (!job.layup.cover.empty())
        out.add("layup.cover_step", length(plan, job.layup.cover_step, 0));
    if (plan.scarf_check) out.add("scarf.safety_factor", shortest(job.scarf.safety_factor));
}

void add_cloth(const Plan& plan, StandIns& out) {
    using job::Fabric;
    using job::FabricKind;
    const auto mm = [&plan](double Fabric::*part) {
        return [&plan, part](const Fabric& fabric) { return length(plan, fabric.*part, 0); };
    };
    for (const FabricKind kind : {FabricKind::mat, FabricKind::woven, FabricKind::biaxial}) {
        out.add_fabrics("glass_content", kind,
                        [](const Fabric& fabric) { return percent(fabric.glass_content); });
        if (kind == FabricKind::mat) {
            out.add_fabrics("tear_margin", kind, mm(&Fabric::tear_margin));
            out.add_fabrics("strain_limit", kind,
                            [](const Fabric& fabric) { return percent(fabric.strain_limit); });
        } else {
            out.add_fabrics("lap", kind, mm(&Fabric::lap));
            out.add_fabrics("shear_limit", kind, [](const Fabric& fabric) {
                return shortest(fabric.shear_limit) + "°";
            });
        }
        out.add_fabrics("least_radius", kind, mm(&Fabric::least_radius));
        out.add_fabrics("roll_width", kind, mm(&Fabric::roll_width), false);
    }
}

/// What the warning of more resin, or of an unlikely glass content, rests on.
void add_least_contents(const Plan& plan, StandIns& out) {
    const bool told =
        std::any_of(plan.warnings.begin(), plan.warnings.end(), [](const Warning& warning) {
            return is<warn::ResinRange>(warning) || is<warn::GlassContentUnlikely>(warning);
        });
    if (!told) return;
    std::set<bool> shown;
    for (const templates::LaidPly& ply : plan.plies) {
        const bool mat = ply.kind == job::FabricKind::mat;
        if (shown.insert(mat).second)
            out.add_row(mat ? "Least glass on complex shapes: mat"
                            : "Least glass on complex shapes: woven, biaxial",
                        percent(quantities::least_content(ply.kind)), "from memory");
    }
}

std::string stage_share(job::Position position) {
    return position == job::Position::vertical ? "three quarters" : "half";
}

std::string grams_a_mL(double density) {
    return fixed(density, 2) + " g/mL";
}

std::string percent_range(const std::array<double, 2>& range) {
    return shortest(range[0]) + " to " + shortest(range[1]) + " %";
}

/// What the doses rest on; vinylester has no default, and epoxy none but how it cures.
void add_resin(const job::Resin& resin, StandIns& out) {
    const bool polyester = resin.kind == job::ResinKind::polyester;
    if (resin.kind == job::ResinKind::vinylester) return;
    const std::string of = polyester ? "polyester" : "epoxy";
    out.add("resin.cured_density", grams_a_mL(resin.cured_density), of);
    if (!polyester) return;
    out.add("resin.density", grams_a_mL(resin.density->value()), of);
    out.add("resin.hardener_density", grams_a_mL(resin.hardener_density->value()), of);
    out.add("resin.hardener_percent", shortest(*resin.hardener_percent) + " %", of);
    out.add("resin.hardener_range", percent_range(*resin.hardener_range), of);
}

void add_topcoat(const Plan& plan, StandIns& out) {
    const job::Topcoat& topcoat = plan.job.topcoat;
    if (!plan.quantities.totals.topcoat_g) return;
    out.add("topcoat.thickness", both(plan, fixed(topcoat.thickness, 2) + " mm",
                                      fixed(us::mils(topcoat.thickness), 0) + " mil"));
    out.add("topcoat.density", grams_a_mL(topcoat.density.value()));
    if (!is_epoxy(plan)) out.add_row("Topcoat cures", "overnight", "common practice");
    if (!topcoat.hardener_percent) return;
    out.add("topcoat.hardener_percent", shortest(*topcoat.hardener_percent) + " %");
    if (topcoat.hardener_range)
        out.add("topcoat.hardener_range", percent_range(*topcoat.hardener_range));
}

void add_work(const Plan& plan, StandIns& out) {
    const job::Job& job = plan.job;
    out.add("resin.prime", areal(plan, job.resin.prime));
    out.add("resin.waste", percent(job.resin.waste));
    const bool us = job.display_units == Units::us;
    out.add("resin.can", formats::escaped(job.resin.can.text), us ? "US units" : "");
    out.add("resin.cup", mass(plan, job.resin.cup.value()));
    out.add("laminator.use_fraction", percent(job.laminator.use_fraction));
    if (!quantities::reason_against_gel_time(job))
        out.add("laminator.wet_out_rate", square(plan, job.laminator.wet_out_rate));
    out.add("shop.temperature", warmth(plan, job.shop.temperature));
    out.add("resin.least_temperature", warmth(plan, job.resin.least_temperature));
    out.add("resin.recoat_hours", shortest(job.resin.recoat_hours.value()) + " h");
    out.add("shop.stage_thickness", thickness(plan, job.shop.stage_thickness, 1));
    if (job.layup.position != job::Position::flat)
        out.add_row(job.layup.position == job::Position::vertical
                        ? "Of what is laid at once, on a wall"
                        : "Of what is laid at once, overhead",
                    stage_share(job.layup.position), "common practice");
    out.add_row("No load before",
                fixed(quantities::cure_hours, 0) + " h at " + warmth(plan, Celsius(18.0)),
                "published");
    out.add("shop.fairing_skim", length(plan, job.shop.fairing_skim));
}

/// Of holes right through and of cored skins.
void add_closing(const Plan& plan, StandIns& out) {
    const job::Job& job = plan.job;
    if (job.scarf.from == job::ScarfFrom::both) {
        out.add("scarf.share", percent(job.scarf.share));
        out.add("scarf.grind_back", length(plan, job.scarf.grind_back));
    }
    if (plan.backing) out.add("backing.lap", length(plan, plan.backing->lap_mm, 0));
    if (!plan.core) return;
    const job::Core& core = *job.core;
    out.add("core.gap", length(plan, core.gap));
    out.add("core.bed", length(plan, core.bed));
    out.add("core.guard", length(plan, core.guard, 0));
    out.add("core.wet_margin", length(plan, core.wet_margin, 0));
    out.add("core.edge_fill", length(plan, core.edge_fill, 0));
    out.add("core.chamfer", core.chamfer > 0.0 ? fixed(core.chamfer, 1) + " : 1" : "cut square");
}

}  // namespace

std::string stand_ins(const Plan& plan) {
    StandIns rows(plan);
    add_layup(plan, rows);
    add_closing(plan, rows);
    add_cloth(plan, rows);
    add_least_contents(plan, rows);
    add_resin(plan.job.resin, rows);
    add_topcoat(plan, rows);
    add_work(plan, rows);
    if (rows.rows().empty()) return {};
    return section("Figures that stand in for yours") +
           tag("p",
               "The job file does not give these, so figures of the program's own stand in. "
               "Published: data sheets of other makers. Common practice: no source. From memory: "
               "not checked against a document. Where your data sheet says otherwise, it goes "
               "first: write it here, and in the job file.",
               "class=\"quiet\"") +
           "\n<table width=\"100%\" class=\"stand-ins\">" +
           head({"<Figure", "Used here", "<Rests on", "Yours"}) + "<tbody>\n" + rows.rows() +
           "</tbody></table>\n";
}

}  // namespace tearline::job_sheet

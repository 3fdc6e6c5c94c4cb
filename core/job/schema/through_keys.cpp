#include "core/job/schema/tables.h"

/// [backing] and [core]: what closes a hole right through, and skins with a core.
namespace tearline::job {

namespace {

using namespace rests_on;

}  // namespace

const Table<Backing>& backing_keys() {
    static const Table<Backing> keys{
        "backing",
        {key("kind",
             choice(&Backing::kind, {{"auto", BackingKind::choose},
                                     {"sheet", BackingKind::sheet},
                                     {"petals", BackingKind::petals},
                                     {"stations", BackingKind::stations},
                                     {"none", BackingKind::none}}),
             form, "what closes the hole from behind",
             R"(# "auto", "sheet", "petals", "stations" or "none")"),
         key("lap", length(&Backing::lap, between(0.0, 500.0)), common_practice,
             "beyond the hole, all round", "", "Backing beyond the hole"),
         key("thickness", length(&Backing::thickness, above_zero_to(20.0)), {}, "of the sheet",
             R"("1.5 mm" # of the sheet; needed with "sheet" and "petals")"),
         key("stays", truth(&Backing::stays), {}, "whether it stays in the hull",
             "true # whether it stays in the hull; default true from one side, false with both; from inside, false is a mould outside; false needs access from both sides"),
         key("access",
             choice(&Backing::access,
                    {{"one side", Access::one_side}, {"both sides", Access::both_sides}}),
             form, "from where the hole is reached", R"(# or "both sides")")}};
    return keys;
}

const Table<Core>& core_keys() {
    static const Table<Core> keys{
        "core",
        {key("thickness", length(&Core::thickness, above_zero_to(200.0)), {}, "of the core",
             R"("15 mm")", "",
             {.required = "the thickness of the core, such as thickness = \"15 mm\""}),
         key("outer", length(&Core::outer, above_zero_to(100.0)), {}, "thickness of the outer skin",
             R"("3 mm")", "", {.required = "the thickness of the old outer skin"}),
         key("inner", length(&Core::inner, above_zero_to(100.0)), {}, "thickness of the inner skin",
             R"("2.5 mm")", "", {.required = "the thickness of the old inner skin"}),
         key("material", text(&Core::material), {}, "what the core is made of",
             R"("PVC foam 80 kg/m3" # the same material and density again)", "",
             {.required = "what the core is made of, such as material = \"PVC foam 80 kg/m3\""}),
         key("chamfer", number(&Core::chamfer, between(0.0, 20.0)), form,
             "mm out for each mm of its edge; 0: cut square",
             "# mm out for each mm of its edge; 0: cut square", "Chamfer of the core"),
         key("gap", length(&Core::gap, between(0.0, 20.0)), common_practice, "fit round the plug",
             "", "Gap round the core plug"),
         key("bed", length(&Core::bed, above_zero_to(10.0)), common_practice,
             "bedding paste under the plug", "", "Bed of paste under the core plug"),
         key("kerf_pitch", length(&Core::kerf_pitch, between(5.0, 500.0)), {}, "from kerf to kerf",
             R"("25 mm" # without it the plug has no kerfs)"),
         key("kerf_width", length(&Core::kerf_width, above_zero_to(20.0)), {}, "of a kerf",
             R"("2 mm")"),
         key("wet_edge", length(&Core::wet_edge, between(0.0, 2000.0)), {},
             "last wet place of the core, outside the damage outline",
             R"("30 mm" # by moisture meter; the core is taken away to wet_margin beyond it)"),
         key("wet_margin", length(&Core::wet_margin, between(0.0, 500.0)), common_practice,
             "core taken away beyond the last wet place", "",
             "Core taken away beyond the last wet place"),
         key("seal", areal_weight(&Core::seal, between(10.0, 2000.0)), {},
             "resin that the core drinks", R"("200 g/m2" # by the core's maker; no default)"),
         key("edge_fill", length(&Core::edge_fill, between(0.0, 500.0)), common_practice,
             "filled solid at an opening or an end of the hull", "",
             "Core filled solid at openings and ends"),
         key("guard", length(&Core::guard, between(0.0, 200.0)), common_practice,
             "inner skin kept free beyond its scarf", "",
             "Skin kept free beyond its scarf under the core")}};
    return keys;
}

}  // namespace tearline::job

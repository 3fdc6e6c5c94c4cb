#include "core/job/fabric_catalogue.h"
#include "core/job/read_tables.h"
#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

using namespace rests_on;

/// A cloth, or a list of cloths with how their axes lie.
template <class T>
Value<T> plies(std::vector<StackEntry> T::*part) {
    Value<T> value{.kind = "plies"};
    value.choices = built_in_names();
    value.read = [part](TableReader& in, std::string_view key, T& out, Job& job) {
        read_stack(in, key, job, out.*part);
    };
    value.write = [part](const T& of) {
        Node out{.kind = Node::Kind::array};
        for (const StackEntry& ply : of.*part) out.items.push_back(written(ply_keys(), ply));
        return out;
    };
    return value;
}

template <class T>
bool has_stack(const T& of) {
    return !of.stack.empty();
}
bool has_none(const Layup& layup) {
    return layup.stack.empty();
}
bool is_mat(const Fabric& fabric) {
    return fabric.kind == FabricKind::mat;
}
bool is_cloth(const Fabric& fabric) {
    return fabric.kind != FabricKind::mat;
}

/// A fraction, which a percentage is easily taken for.
Value<Fabric> glass_content() {
    Value<Fabric> value = number(&Fabric::glass_content, {0.0, 1.0, false, false});
    value.read = [read = value.read](TableReader& in, std::string_view key, Fabric& out, Job& job) {
        const Node* content = in.find(key);
        if (content != nullptr && content->kind == Node::Kind::number && content->number > 1.0 &&
            content->number < 100.0)
            in.refuse(key, "is a fraction by mass; for 30 % write 0.30");
        read(in, key, out, job);
    };
    return value;
}

/// A further [layup.NAME]; its own reader reads it, and the job writes it.
Value<Layup> further_layup() {
    Value<Layup> value{.kind = "table"};
    value.write = [](const Layup&) { return Node::nothing(); };
    return value;
}

/// The keys of [layup] that another side or skin may have of its own; without one, [layup]'s hold.
Table<Layup> further_keys(std::string_view path) {
    Table<Layup> keys{path, {}};
    for (Key<Layup> key : layup_keys().keys) {
        if (key.is_table() || key.name == "copies") continue;
        if (key.name == "press_first") key.value = place(&Layup::press_first);
        key.defaults = {};
        key.on_sheet = {};
        key.shown = {};
        key.more.above = {};
        keys.keys.push_back(std::move(key));
    }
    return keys;
}

Value<Fabric> sheet_stress(std::optional<double> DataSheet::*part, const Range& range) {
    return within(&Fabric::data_sheet, stress(part, range));
}

}  // namespace

const Words<FabricKind>& fabric_kind_words() {
    static const Words<FabricKind> words = {
        {"mat", FabricKind::mat}, {"woven", FabricKind::woven}, {"biaxial", FabricKind::biaxial}};
    return words;
}

const Table<StackEntry>& ply_keys() {
    static const Table<StackEntry> keys{
        "layup.stack",
        {key("fabric", text(&StackEntry::fabric), {}, "name of the cloth", "", "",
             {.required = "name the cloth, {fabric = \"roving 600\", axis = 0}"}),
         key("axis", number(&StackEntry::axis, between(-360.0, 360.0), "degrees"), unmarked,
             "degrees from the bow direction"),
         key("axis_free", number(&StackEntry::axis_free, between(0.0, 90.0), "degrees"), unmarked,
             "degrees it may turn to either side")}};
    return keys;
}

const Table<Layup>& layup_keys() {
    static const Table<Layup> keys{
        "layup",
        {key("order",
             choice(&Layup::order, {{"smallest first", Order::smallest_first},
                                    {"largest first", Order::largest_first}}),
             form, "which ply is laid first", R"(# or "largest first")"),
         key("stack", plies(&Layup::stack), {}, "plies in the order of laying",
             R"(["mat 450", {fabric = "roving 600", axis = 0, axis_free = 0}, "mat 450"] #)", "",
             {.above = "# The plies in the order of laying; axis: degrees from the bow direction, "
                       "axis_free: degrees it may turn\n",
              .counts = has_stack<Layup>}),
         key("fill", plies(&Layup::fill), common_practice,
             "cloths in turn, repeated until the depth is full", R"("mat 450" #)",
             "Cloth of the plies",
             {.above = "# or a cloth, or a list in turn, repeated until the depth is full:\n",
              .counts = has_none}),
         key("fill_to",
             choice(&Layup::fill_to, {{"thickness", FillTo::thickness},
                                      {"stiffness", FillTo::stiffness},
                                      {"strength", FillTo::strength}}),
             form, "what fill goes on until",
             R"(# or "stiffness", "strength": the fewest that match the old laminate)", "",
             {.counts = has_none}),
         key("cover", plies(&Layup::cover), common_practice,
             "plies above the base surface, there to be sanded back",
             R"(["mat 300", "mat 300"] # above the base surface, there to be sanded back; [] for none)",
             "Cover plies"),
         key("cover_step", length(&Layup::cover_step, between(0.0, 500.0)), common_practice,
             "how far each cover ply lies outside the widest edge before it",
             "# how far each cover lies outside the widest edge before it",
             "Each cover beyond the widest piece before it"),
         key("press_first", point(&Layup::press_first, TapedPoint::Use::press_first), {},
             "where cloth is pressed down first",
             "[3000, 780, 197] # where cloth is pressed down first; default the middle of the "
             "damage"),
         key("position",
             choice(&Layup::position, {{"flat", Position::flat},
                                       {"vertical", Position::vertical},
                                       {"overhead", Position::overhead}}),
             form, "how the place lies when it is worked on",
             R"(# "flat", "vertical" or "overhead": fewer plies a stage)"),
         key("copies", whole_number(&Layup::copies, 1, 1000), form,
             "sets of templates on the rolls"),
         key("inside", further_layup(), {}, "", "", "", {.or_left_out = true}),
         key("inner", further_layup(), {}, "", "", "", {.or_left_out = true}),
         key("outer", further_layup(), {}, "", "", "", {.or_left_out = true})},
        {{"", usual_layup()}}};
    return keys;
}

const Table<Layup>& inside_layup_keys() {
    static const Table<Layup> keys = further_keys("layup.inside");
    return keys;
}

const Table<Layup>& inner_layup_keys() {
    static const Table<Layup> keys = further_keys("layup.inner");
    return keys;
}

const Table<Layup>& outer_layup_keys() {
    static const Table<Layup> keys = further_keys("layup.outer");
    return keys;
}

const Table<Fabric>& fabric_keys() {
    static const Range modulus = between(500.0, 500'000.0), strength = above_zero_to(5000.0);
    static const Table<Fabric> keys{
        "fabric",
        {key("name", text(&Fabric::name), {}, "name of the cloth", R"("mat 450" #)"),
         key("kind", choice(&Fabric::kind, fabric_kind_words()), {}, "kind of cloth",
             R"("mat" # "mat", "woven" or "biaxial")"),
         key("weight", areal_weight(&Fabric::weight, between(10.0, 5000.0)), {}, "dry glass",
             R"("450 g/m2")"),
         key("glass_content", glass_content(),
             {{"mat", from_memory}, {"woven", from_memory}, {"biaxial", from_memory}},
             "glass by mass of the laid ply", "0.30 # by mass: mat 0.30, woven 0.48, biaxial 0.50",
             "Glass in the laid ply, by weight"),
         key("thickness", length(&Fabric::thickness, above_zero_to(20.0)), {}, "of the laid ply",
             R"("1.05 mm" # of the laid ply; default from weight and glass content)"),
         key("binder", word(&Fabric::binder, {"emulsion", "powder"}), {{"mat", common_practice}},
             "of mat", R"(# mat: "emulsion" or "powder" (epoxy needs powder))", "",
             {.counts = is_mat}),
         key("roll_width", length(&Fabric::roll_width, between(50.0, 10'000.0)), from_memory,
             "width of the roll", "#", "Width of the roll"),
         key("tear_margin", length(&Fabric::tear_margin, between(0.0, 200.0)),
             {{"mat", common_practice}}, "mat: band torn thin outside the edge", "",
             "Band torn thin", {.counts = is_mat}),
         key("lap", length(&Fabric::lap, between(0.0, 500.0)),
             {{"woven", common_practice}, {"biaxial", common_practice}}, "woven, biaxial: at seams",
             "", "Lap at seams", {.counts = is_cloth}),
         key("strain_limit", number(&Fabric::strain_limit, above_zero_to(0.5)),
             {{"mat", from_memory}}, "mat: stretch that it may take", "# mat",
             "Stretch that it may take", {.counts = is_mat}),
         key("shear_limit", number(&Fabric::shear_limit, above_zero_to(80.0), "degrees"),
             {{"woven", common_practice}, {"biaxial", common_practice}},
             "woven, biaxial: shear that it may take, in degrees", "# woven, biaxial: degrees",
             "Shear that it may take", {.counts = is_cloth}),
         key("least_radius", length(&Fabric::least_radius, between(0.0, 1000.0)),
             {{"mat", from_memory}, {"woven", from_memory}, {"biaxial", from_memory}},
             "tightest radius it lies on", "# mat 8, woven 20, biaxial 15",
             "Tightest radius it lies on"),
         key("modulus", sheet_stress(&DataSheet::modulus, modulus), {}, "along the warp",
             R"("6.4 GPa" # along the warp, and across unless modulus_across says otherwise)", "",
             {.above = "# From the data sheet of the cloth as laid, each in place of a formula; no "
                       "defaults:\n"}),
         key("modulus_across", sheet_stress(&DataSheet::modulus_across, modulus), {},
             "across the warp", R"("6.4 GPa" #)"),
         key("shear_modulus", sheet_stress(&DataSheet::shear_modulus, between(100.0, 200'000.0)),
             {}, "in the plane of the ply", R"("2.75 GPa" #)"),
         key("poisson", within(&Fabric::data_sheet, number(&DataSheet::poisson, between(0.0, 0.5))),
             {}, "of the laid ply", "0.3 #"),
         key("tensile_strength", sheet_stress(&DataSheet::tensile_strength, strength), {},
             "of the laid ply", R"("85 MPa" #)"),
         key("compressive_strength", sheet_stress(&DataSheet::compressive_strength, strength), {},
             "of the laid ply", R"("117 MPa" #)"),
         key("flexural_strength", sheet_stress(&DataSheet::flexural_strength, strength), {},
             "of the laid ply", R"("152 MPa" #)"),
         key("shear_strength", sheet_stress(&DataSheet::shear_strength, strength), {},
             "of the laid ply", R"("62 MPa" #)")},
        {{"", fabric_of_kind(FabricKind::mat)},
         {"woven", fabric_of_kind(FabricKind::woven)},
         {"biaxial", fabric_of_kind(FabricKind::biaxial)}}};
    return keys;
}

const Table<OldLaminate>& old_laminate_keys() {
    static const Table<OldLaminate> keys{
        "old_laminate",
        {key("stack", plies(&OldLaminate::stack), {},
             "plies from the far face to the face laid from", "", "",
             {.counts = has_stack<OldLaminate>}),
         key("thickness", length(&OldLaminate::thickness, above_zero_to(250.0)), {},
             "of the old laminate", R"("8 mm" #)"),
         key("kind", choice(&OldLaminate::kind, fabric_kind_words()), {}, "kind of its cloth",
             R"("mat" # "mat", "woven" or "biaxial")"),
         key("resin", choice(&OldLaminate::resin, resin_kind_words()), {},
             "of the hull as built, where known",
             R"("polyester" # or "vinylester", "epoxy": nothing but epoxy holds on epoxy)")}};
    return keys;
}

}  // namespace tearline::job

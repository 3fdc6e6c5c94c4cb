#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

using namespace rests_on;

Value<Damage> points(std::vector<Vec3> Damage::*part, TapedPoint::Use use) {
    Value<Damage> value{.kind = "points"};
    value.read = [=](TableReader& in, std::string_view key, Damage& out, Job& job) {
        if (const auto read = in.read(key, &TableReader::points, taping_of(job, use)))
            out.*part = *read;
    };
    value.write = [=](const Damage& of) { return node_of(of.*part); };
    return value;
}

/// Along or across the bow direction, or degrees from it.
Value<Sounding> straightedge_direction() {
    Value<Sounding> value = number(&Sounding::degrees, between(-360.0, 360.0), "degrees");
    value.choices = {"along", "across"};
    value.read = [number = value.read](TableReader& in, std::string_view key, Sounding& out,
                                       Job& job) {
        const Node* way = in.find(key);
        if (way == nullptr || way->kind != Node::Kind::text) return number(in, key, out, job);
        out.degrees = in.word(*way, in.path_of(key), {"along", "across"}) == "across" ? 90.0 : 0.0;
    };
    return value;
}

bool laps(const Damage& damage) {
    return damage.at_end == AtEnd::lap;
}

bool from_both(const Scarf& scarf) {
    return scarf.from == ScarfFrom::both;
}

/// A scarf from both sides, for what its own keys have as defaults.
Scarf two_sided() {
    Scarf scarf;
    scarf.from = ScarfFrom::both;
    return scarf;
}

bool under_straightedge(const Sounding& sounding) {
    return sounding.from == Sounding::From::straightedge;
}

}  // namespace

const Table<Opening>& opening_keys() {
    static const Table<Opening> keys{
        "damage.opening",
        {key("centre", place(&Opening::centre), {}, "in an opening of the model, or with radius",
             "[3010, 785, 185] #"),
         key("radius", length(&Opening::radius, above_zero_to(5'000.0)), {},
             "of a round one that the model does not have", R"("30 mm" #)"),
         key("outline", places(&Opening::outline), {},
             "points round one that the model does not have, in order",
             "[[3000, 780, 190], [3020, 780, 190], [3010, 790, 200]] #"),
         key("keep", truth(&Opening::keep), {}, "the fitting stays: the cloth goes round it",
             "true #"),
         key("scarf_to",
             choice(&Opening::scarf_to, {{"none", ScarfTo::none}, {"opening", ScarfTo::opening}}),
             unmarked, "what rises to its edge",
             R"(# "none": the depth goes up to its edge; "opening": the scarf rises to it)"),
         key("clear", length(&Opening::clear, between(0.0, 100.0)), unmarked,
             "between its edge and the cloth"),
         key("slit", truth(&Opening::slit), unmarked,
             "from the hole to the ply's edge, for a stem that cannot come out")}};
    return keys;
}

const Table<Sounding>& sounding_keys() {
    static const Table<Sounding> keys{
        "damage.sounding",
        {key("at", point(&Sounding::at, TapedPoint::Use::sounding), {}, "where it was taken",
             "[3010, 785, 185] #", "",
             {.required = "where it was taken, [x, y, z] or distances from marks"}),
         key("depth", length(&Sounding::depth, between(-20.0, 250.0)), {},
             "the depth that was read",
             R"("5.4 mm" # without damage.depth the deepest one gives it)", "",
             {.required = "the depth that was read, such as depth = \"4.5 mm\""}),
         key("from",
             choice(&Sounding::from, {{"gauge", Sounding::From::gauge},
                                      {"section", Sounding::From::gauge},
                                      {"straightedge", Sounding::From::straightedge}}),
             unmarked, "what it was read with",
             R"("straightedge" # or "gauge", "section" (square from the old surface))"),
         key("length", length(&Sounding::length, between(20.0, 5000.0)), {},
             "of the straightedge, its middle over the point", R"("600 mm")", "",
             {.counts = under_straightedge}),
         key("direction", straightedge_direction(), {},
             "of the straightedge, in degrees from the bow",
             R"("along" # or "across", or degrees from the bow)", "",
             {.counts = under_straightedge}),
         key("after", whole_number(&Sounding::after, 0, 500), unmarked,
             "taken on the cured work after this ply",
             "3 # taken on the cured work after ply 3, for tearline plan --after 3")}};
    return keys;
}

const Table<Damage>& damage_keys() {
    static const Table<Damage> keys{
        "damage",
        {key("outline", points(&Damage::outline, TapedPoint::Use::outline), {},
             "points round the damage, in order",
             "[[3000, 700, 200], [3100, 720, 220], [3050, 680, 280]] #", "",
             {.above = "# By points picked round it, three or more, in order (mm in the model, "
                       "within 20 mm of the hull):\n",
              .counts = [](const Damage& damage) { return !damage.centre; }}),
         key("join",
             choice(&Damage::join, {{"smooth", Join::smooth}, {"straight", Join::straight}}),
             unmarked, "how the points are joined",
             R"(# or "straight": shortest ways on the surface)"),
         key("centre", point(&Damage::centre, TapedPoint::Use::centre), {},
             "middle of a disc or an ellipse", "[3000, 780, 197] #", "",
             {.above = "# or round a centre, with radius, or with length (along the bow direction) "
                       "and height (across it), both full:\n",
              .stands = true}),
         key("radius", length(&Damage::radius, between(1.0, 10'000.0)), {}, "of a disc",
             R"("80 mm" #)", "", {.stands = true}),
         key("length", length(&Damage::length, between(2.0, 20'000.0)), {},
             "of an ellipse, along the bow direction", R"("200 mm" #)"),
         key("height", length(&Damage::height, between(2.0, 20'000.0)), {},
             "of an ellipse, across the bow direction", R"("120 mm" #)"),
         key("depth", length(&Damage::depth, between(0.1, 250.0)), {},
             "how deep the damage is ground out", R"("6 mm")", "",
             {.stands = true, .counts = [](const Damage& damage) { return damage.depth > 0.0; }}),
         key("side", choice(&Damage::side, face_words()), unmarked,
             "the face the glass is laid from",
             R"(# the face the glass is laid from: "outside" or "inside")"),
         key("at_end", choice(&Damage::at_end, {{"cut", AtEnd::cut}, {"lap", AtEnd::lap}}),
             unmarked, "what the cloth does at the hull's end",
             R"(# what the cloth does at the hull's end: "cut" there, or "lap" over it)"),
         key("lap_over", length(&Damage::lap_over, between(10.0, 1'000.0)), {},
             "how far the first ply laps over the hull's end", R"("50 mm" #)", "",
             {.counts = laps}),
         key("edge_turn", number(&Damage::edge_turn, between(1.0, 180.0), "degrees"), {},
             "how far the hull's end turns, in degrees", "90 #", "", {.counts = laps}),
         key("edge_radius", length(&Damage::edge_radius, between(0.0, 500.0)), {},
             "of the finished face at the hull's end", R"("12 mm" #)", "", {.counts = laps}),
         key("within", place(&Damage::within), {},
             "in the part that an outline from end to end bounds", "[3010, 785, 185] #"),
         key("end", points(&Damage::end, TapedPoint::Use::end), {},
             "points along the hull's own end, where a scan or figures by hand do not show it",
             "[[2700, 1020, 830], [3000, 1094, 840], [3300, 1150, 852]] #", "",
             {.or_left_out = true,
              .counts = [](const Damage& damage) { return !damage.end.empty(); }}),
         key("opening", tables(&Damage::openings, opening_keys()), {},
             "openings that the cloth goes round", "", "", {.or_left_out = true}),
         key("round",
             choice(&Damage::round, {{"floor", Round::floor}, {"ground area", Round::ground_area}}),
             {}, "what the outline goes round",
             R"("floor" # what the outline goes round: "floor" (the scarf beyond it) or "ground area")",
             "",
             {.above = "# The dish as it was really ground: 5 to 200 soundings; zero depth on the "
                       "edge of what was ground.\n"}),
         key("sounding", tables(&Damage::soundings, sounding_keys()), {},
             "depths as measured in the dish", "", "", {.or_left_out = true}),
         key("scan", table(&Damage::scan, dish_scan_keys()), {}, "a scan of the dish as ground", "",
             "", {.or_left_out = true}),
         key("scan_after", tables(&Damage::scans_after, scan_after_keys()), {},
             "scans of the cured work", "", "", {.or_left_out = true}),
         key("through", truth(&Damage::through), {}, "whether it is a hole right through the skin",
             "true # a hole right through: no depth; see [scarf] from and [backing]", "",
             {.or_left_out = true, .counts = [](const Damage& damage) { return damage.through; }}),
         key("reaches",
             choice(&Damage::reaches, {{"outer skin", Reaches::outer_skin},
                                       {"core", Reaches::core},
                                       {"inner skin", Reaches::inner_skin}}),
             {}, "with [core]: the farthest layer that is damaged",
             R"("inner skin" # with [core], no depth: the farthest layer that is damaged, or "outer skin", "core")",
             "", {.or_left_out = true})}};
    return keys;
}

const Table<Scarf>& scarf_keys() {
    static const Table<Scarf> keys{
        "scarf",
        {key("ratio", number(&Scarf::ratio, between(1.0, 100.0)), common_practice,
             "mm out for each mm up", "", "Scarf, out for each up"),
         key("least_step", length(&Scarf::least_step, between(0.0, 500.0)), form,
             "a ply's edge lies at least this far outside the one before"),
         key("safety_factor", number(&Scarf::safety_factor, between(1.0, 20.0)), common_practice,
             "for the scarf check", "", "Safety factor of the scarf check"),
         key("bond_shear", stress(&Scarf::bond_shear, above_zero_to(200.0)), {},
             "strength of the bond in MPa, from a data sheet",
             R"("8 MPa" # strength of the bond, from a data sheet; no default)"),
         key("from",
             choice(&Scarf::from, {{"outside", ScarfFrom::outside},
                                   {"inside", ScarfFrom::inside},
                                   {"both", ScarfFrom::both}}),
             {}, "of a hole right through: the face that its glass is laid from",
             R"("both" # of a hole right through: "outside", "inside" or "both"; default damage.side)",
             "", {.or_left_out = true}),
         key("share", number(&Scarf::share, {0.0, 1.0, false, false}), form,
             "with both: of the skin, laid from outside", "", "Of the skin, laid from outside",
             {.or_left_out = true, .counts = from_both}),
         key("first", choice(&Scarf::first, face_words()), form,
             "with both: the side that is laid first",
             R"(# with both: the side that is laid first)", "",
             {.or_left_out = true, .counts = from_both}),
         key("grind_back", length(&Scarf::grind_back, between(0.0, 5.0)), common_practice,
             "with both: ground off the back of the side laid first, to clean glass", "",
             "Ground off the back of the first side", {.or_left_out = true, .counts = from_both})},
        {{"", two_sided()}}};
    return keys;
}

}  // namespace tearline::job

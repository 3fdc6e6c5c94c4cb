#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

using namespace rests_on;

/// Places by the names of marks, {A = [x, y, z], ...}.
Value<DishScan> places_of_marks() {
    Value<DishScan> value{.kind = "places of marks"};
    value.read = [](TableReader& in, std::string_view key, DishScan& out, Job&) {
        const Node* table = in.find(key);
        if (table == nullptr) return;
        if (table->kind != Node::Kind::table)
            return in.refuse(key, "must be places by the names of marks, {A = [x, y, z], ...}");
        for (const Node& mark : table->items)
            if (const auto at = in.place(mark, in.path_of(key) + "." + mark.key))
                out.marks.emplace(mark.key, *at);
    };
    value.write = [](const DishScan& of) {
        if (of.marks.empty()) return Node::nothing();
        Node out;
        for (const auto& [name, at] : of.marks) {
            Node place = node_of(at);
            place.key = name;
            out.items.push_back(std::move(place));
        }
        return out;
    };
    return value;
}

/// What both kinds of scans of a dish say.
std::vector<Key<DishScan>> keys_of_dish_scans() {
    return {
        key("model", text(&DishScan::model_as_given), {}, "the scan's file",
            R"("after-grinding.ply" # .ply .stl .obj .xyz .pts .csv, beside this file)", "",
            {.required = "the scan's file, such as model = \"after-grinding.ply\""}),
        key("unit", word(&DishScan::unit, {"mm", "cm", "m", "in", "ft"}), {}, "of the scan",
            R"("mm" # or "cm", "m", "in", "ft")", "",
            {.required = "the unit of the scan, such as "
                         "unit = \"mm\""}),
        key("kind", choice(&DishScan::kind, scan_kind_words()), {}, "what it was made with",
            R"("light" # or "photo"; a phone's depth sensor is too rough for a dish)", "",
            {.required = "what the scan was made with: \"light\" or \"photo\""}),
        key("noise", length(&DishScan::noise, above_zero_to(20.0)), {},
            "how far its points scatter (standard deviation)", R"("0.1 mm" #)"),
        key("marks", places_of_marks(), {}, "the marks of the hull, as this scan has them",
            "{A = [120, 40, 300], B = [620, 35, 310], C = [380, 60, 90]} # three or more; without "
            "them it lies as the hull's model does")};
}

}  // namespace

const Words<ScanKind>& scan_kind_words() {
    static const Words<ScanKind> words = {
        {"light", ScanKind::light}, {"photo", ScanKind::photo}, {"depth", ScanKind::depth}};
    return words;
}

const Table<DishScan>& dish_scan_keys() {
    static const Table<DishScan> keys{"damage.scan", keys_of_dish_scans()};
    return keys;
}

const Table<DishScan>& scan_after_keys() {
    static const Table<DishScan> keys = [] {
        Table<DishScan> all{"damage.scan_after", keys_of_dish_scans()};
        all.keys.insert(
            all.keys.begin(),
            key("ply", whole_number(&DishScan::ply, 1, 500), {},
                "taken on the cured work after this ply", "3 # for tearline plan --after 3", "",
                {.required = "the last ply that was laid, such as ply = 3"}));
        return all;
    }();
    return keys;
}

const Table<ScanTape>& scan_tape_keys() {
    static const Table<ScanTape> keys{
        "hull.scan.tape",
        {key("from", place(&ScanTape::from), {}, "where the tape begins, in the scan",
             "[2400, 900, 400] #", "",
             {.required = "where the tape begins, [x, y, z] in the scan"}),
         key("to", place(&ScanTape::to), {}, "where it ends", "[3400, 900, 420] #", "",
             {.required = "where the tape ends, [x, y, z] in the scan"}),
         key("length", length(&ScanTape::length, between(20.0, 100'000.0)), {},
             "what the tape reads between them", R"("1000 mm")", "",
             {.required = "what the tape reads, such as length = \"1000 mm\""}),
         key("laid",
             choice(&ScanTape::laid, {{"on the hull", ScanTape::Laid::on_the_hull},
                                      {"straight", ScanTape::Laid::straight}}),
             unmarked, "how the tape lay", R"(# or "straight": through the air)")}};
    return keys;
}

const Table<ScanCrease>& scan_crease_keys() {
    static const Table<ScanCrease> keys{
        "hull.scan.crease",
        {key("points", places(&ScanCrease::points), {}, "places along a chine, in order",
             "[[2800, 900, 300], [3000, 905, 300], [3200, 910, 300]] #", "",
             {.required = "three places or more along the chine, [[x, y, z], ...]"}),
         key("radius", length(&ScanCrease::radius, above_zero_to(5000.0)), {},
             "where it is no sharp edge but a bend", R"("40 mm" #)")}};
    return keys;
}

const Table<HullScan>& scan_keys() {
    static const Table<HullScan> keys{
        "hull.scan",
        {key("kind", choice(&HullScan::kind, scan_kind_words()), {}, "what the scan was made with",
             R"("light" # laser or structured light; "photo": photographs; "depth": a phone's depth sensor)",
             "",
             {.required = "what the scan was made with: \"light\" (laser or structured light), "
                          "\"photo\" (photographs) or \"depth\" (a phone's depth sensor)"}),
         key("noise", length(&HullScan::noise, above_zero_to(20.0)), {},
             "how far its points scatter (standard deviation)", R"("0.3 mm" #)"),
         key("shows",
             choice(&HullScan::shows, {{"damage", ScanShows::damage},
                                       {"sound hull", ScanShows::sound_hull},
                                       {"dish", ScanShows::dish}}),
             unmarked, "what lies inside the outline",
             R"(# or "sound hull", or "dish" (the ground place): what lies inside the outline)"),
         key("fairness", length(&HullScan::fairness, between(5.0, 5000.0)), {},
             "waves shorter than this are taken for noise", R"("150 mm" #)"),
         key("seen_from", place(&HullScan::seen_from), {}, "a place outside the hull",
             "[3000, 2500, 600] # a place outside the hull, where points alone do not tell it"),
         key("bow_points", places(&HullScan::bow_points), {},
             "two places of the scan, the second nearer the bow",
             "[[2400, 900, 400], [3400, 900, 420]] #"),
         key("up_points", places(&HullScan::up_points), {},
             "two places of the scan, the second straight above the first",
             "[[3000, 900, 100], [3000, 930, 700]] #"),
         key("level_points", places(&HullScan::level_points), {},
             "three places or more at one height",
             "[[2400, 900, 400], [3400, 900, 420], [3000, -900, 410]] #"),
         key("tape", tables(&HullScan::tapes, scan_tape_keys()), {}, "distances taped on the hull",
             "", "", {.or_left_out = true}),
         key("crease", tables(&HullScan::creases, scan_crease_keys()), {}, "chines that stay sharp",
             "", "", {.or_left_out = true})}};
    return keys;
}

}  // namespace tearline::job

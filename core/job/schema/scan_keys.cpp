#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

using namespace rests_on;

const Words<ScanKind>& scan_kind_words() {
    static const Words<ScanKind> words = {
        {"light", ScanKind::light}, {"photo", ScanKind::photo}, {"depth", ScanKind::depth}};
    return words;
}

}  // namespace

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

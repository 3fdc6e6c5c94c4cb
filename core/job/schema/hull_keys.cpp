#include <cmath>

#include "core/base/numbers.h"
#include "core/job/schema/tables.h"

namespace tearline::job {

namespace {

using namespace rests_on;

/// A gap along or across, of at most a quarter of the batten: a radius of five eighths of it, where
/// no batten lies.
Value<BattenGaps> gap(double BattenGaps::*part) {
    Value<BattenGaps> value = length(part, between(-5000.0, 5000.0));
    value.range.reset();  // that of the batten
    value.read = [part](TableReader& in, std::string_view key, BattenGaps& out, Job&) {
        const double most = 0.25 * out.batten;
        const Range within = between(-out.batten, out.batten);
        out.*part = in.read(key, &TableReader::length, within, "mm").value_or(0.0);
        if (std::abs(out.*part) > most)
            in.refuse(key,
                      "over a quarter of the batten, " + shortest(most) +
                          " mm: the hull turns there on a radius of less than " +
                          shortest(0.625 * out.batten) +
                          " mm, too round to be told by so long a batten; use a shorter one, or "
                          "tell a bend or a corner by [hull.corner]");
    };
    return value;
}

/// The same at both ends of the other batten.
Value<BattenGaps> gaps_at_ends(std::optional<std::array<double, 2>> BattenGaps::*part) {
    Value<BattenGaps> value{.kind = "lengths"};
    value.unit = "mm";
    value.read = [part](TableReader& in, std::string_view key, BattenGaps& out, Job&) {
        const double most = 0.25 * out.batten;
        const auto both = in.read(key, &TableReader::lengths, between(-most, most), "mm");
        if (!both) return;
        if (both->size() != 2) return in.refuse(key, "must be two gaps, one for each end: [a, b]");
        out.*part = {(*both)[0], (*both)[1]};
    };
    value.write = [part](const BattenGaps& of) { return node_of(of.*part); };
    return value;
}

/// Two lengths: below, or aft, of a corner's bend, and above, or forward.
Value<Corner> on_both_flats(std::optional<std::array<double, 2>> Corner::*part, Range range) {
    Value<Corner> value{.kind = "lengths", .range = range, .unit = "mm"};
    value.read = [=](TableReader& in, std::string_view key, Corner& out, Job&) {
        const auto both = in.read(key, &TableReader::lengths, range, "mm");
        if (!both) return;
        if (both->size() != 2)
            return in.refuse(key,
                             "must be two, one for each flat: [a, b]; a below or aft of the "
                             "bend, b above or forward");
        out.*part = {(*both)[0], (*both)[1]};
    };
    value.write = [part](const Corner& of) { return node_of(of.*part); };
    return value;
}

/// Rows of lengths, and the line that each stands on.
template <class T>
Value<T> rows_of_lengths(std::vector<std::vector<double>> T::*rows, std::vector<int> T::*lines,
                         Range range) {
    Value<T> value = ranged("rows of lengths", rows, &TableReader::length_rows, range, "mm");
    value.read = [lines, read = value.read](TableReader& in, std::string_view key, T& out,
                                            Job& job) {
        read(in, key, out, job);
        if (const Node* node = in.find(key))
            for (const Node& row : node->items) (out.*lines).push_back(row.line);
    };
    return value;
}

}  // namespace

const Words<Side>& face_words() {
    static const Words<Side> words = {{"outside", Side::outside}, {"inside", Side::inside}};
    return words;
}

const Words<TapedSide>& side_words() {
    static const Words<TapedSide> words = {
        {"up", TapedSide::up},   {"down", TapedSide::down}, {"forward", TapedSide::forward},
        {"aft", TapedSide::aft}, {"port", TapedSide::port}, {"starboard", TapedSide::starboard}};
    return words;
}

const Table<BattenGaps>& batten_keys() {
    static const Table<BattenGaps> keys{
        "hull.measured",
        {key("batten", length(&BattenGaps::batten, between(50.0, 5000.0)), {},
             "straight; on its middle where the hull bulges, on its ends where it is hollow",
             R"("600 mm")", "",
             {.required = "the length of the batten, such as batten = \"600 mm\""}),
         key("gap_along", gap(&BattenGaps::gap_along), {},
             "along the bow direction: at both ends (their mean), or -gap at the middle of a "
             "hollow",
             R"("9 mm")", "", {.required = "the gap under the batten along the bow direction"}),
         key("gap_across", gap(&BattenGaps::gap_across), {}, "the same across it", R"("21 mm")", "",
             {.required = "the gap under the batten across the bow direction"}),
         key("gap_along_ends", gaps_at_ends(&BattenGaps::gap_along_ends), {},
             "along again, half a batten below and above; 0, 0 is the middle of both battens",
             "[8, 10]"),
         key("gap_across_ends", gaps_at_ends(&BattenGaps::gap_across_ends), {},
             "across again, half a batten aft and forward", "[20, 23]")}};
    return keys;
}

const Table<OffsetGrid>& grid_keys() {
    static const Table<OffsetGrid> keys{
        "hull.grid",
        {key("spacing_along", length(&OffsetGrid::spacing_along, between(1.0, 5000.0)), {},
             "between figures of a row", R"("100 mm")", "",
             {.required = "how far apart the figures of a row are, such as \"100 mm\""}),
         key("spacing_across", length(&OffsetGrid::spacing_across, between(1.0, 5000.0)), {},
             "between rows", R"("100 mm")", "",
             {.required = "how far apart the rows are, such as \"100 mm\""}),
         key("offsets",
             rows_of_lengths(&OffsetGrid::offsets, &OffsetGrid::lines, between(-5000.0, 5000.0)),
             {}, "plane to hull; lowest row first, from aft",
             "[[30, 22, 20, 23], [26, 18, 16, 19], [27, 19, 17, 20]]", "",
             {.required = "the distances to the hull, [[12, 9, 8], [10, 7, 6], ...]"})}};
    return keys;
}

const Table<Corner>& corner_keys() {
    static const Table<Corner> keys{
        "hull.corner",
        {key("radius", length(&Corner::radius, between(2.0, 2000.0)), {},
             "of the bend, on the face that you measure",
             R"("20 mm" # of the bend; or, by contour gauge, profile = [[-60, -38], [-30, -12], ...])"),
         key("angle", number(&Corner::angle, between(10.0, 150.0), "degrees"), {},
             "that the face turns through, from flat to flat; deck to coaming 90", "90"),
         key("convex", truth(&Corner::convex), {}, "whether it bulges towards you",
             "true # it bulges towards you; false: it is hollow"),
         key("flats", on_both_flats(&Corner::flats, between(0.0, 5000.0)), {},
             "how far they reach from where the bend ends: below or aft of it, above or forward",
             R"(["300 mm", "300 mm"])"),
         key("length", length(&Corner::length, between(10.0, 20'000.0)), {},
             "along its line, the middle of the damage in the middle", R"("900 mm")", "",
             {.required = "how far the corner is told along its line, such as \"900 mm\""}),
         key("runs", choice(&Corner::upright, {{"level", false}, {"upright", true}}), unmarked,
             "which way its line runs as you face it", R"(# or "upright")"),
         key("batten", length(&Corner::batten, between(50.0, 5000.0)), {},
             "laid along the line on a flat, where the bend ends",
             R"("600 mm" # of a corner that bends along its line:)"),
         key("gaps_along", on_both_flats(&Corner::gaps_along, between(-1250.0, 1250.0)), {},
             "under it on either flat: at both ends (their mean), or -gap at the middle of a "
             "hollow",
             "[0, 0]"),
         key("batten_across", length(&Corner::batten_across, between(20.0, 5000.0)), {},
             "laid square to the line on a flat", R"("200 mm" # of flats that are not flat:)"),
         key("gaps_across", on_both_flats(&Corner::gaps_across, between(-1250.0, 1250.0)), {},
             "under it on either flat", "[0, 0]"),
         key("profile", rows_of_lengths(&Corner::profile, &Corner::lines, between(-2000.0, 2000.0)),
             {}, "by contour gauge: across from the line of the marks, and out towards you")}};
    return keys;
}

const Table<OffsetTable>& section_keys() {
    static const Range places = between(-100'000.0, 100'000.0);
    static const Table<OffsetTable> keys{
        "hull.sections",
        {key("stations", lengths(&OffsetTable::stations, places), {},
             "x towards the bow; z up; half-breadths to one side", "[0, 500, 1000]", "",
             {.required = "where the stations are along the hull, [0, 500, 1000, ...]"}),
         key("waterlines", lengths(&OffsetTable::waterlines, places), {},
             "heights of the waterlines", "[0, 150, 300] #", "",
             {.required = "the heights of the waterlines, [0, 100, 200, ...]"}),
         key("half_breadths",
             rows_of_lengths(&OffsetTable::half_breadths, &OffsetTable::lines,
                             between(-10.0, 100'000.0)),
             {}, "a row for each station", "[[310, 420, 480], [330, 445, 505], [335, 450, 512]]",
             "", {.required = "a row for each station, a figure for each waterline"}),
         key("side", choice(&OffsetTable::port, {{"port", true}, {"starboard", false}}), unmarked,
             "which side the half-breadths are of", R"(# or "starboard")")}};
    return keys;
}

const Table<Mark>& mark_keys() {
    static const Table<Mark> keys{
        "marks",
        {key("at", point(&Mark::at, TapedPoint::Use::mark), {}, "its place on the model",
             "[2600, 900, 400] # or, without a model: A aft and B forward of the middle, no at for "
             "either,")}};
    return keys;
}

const Table<HullOptions>& hull_keys() {
    static const Table<HullOptions> keys{
        "hull",
        {key("model", file(&HullOptions::model_as_given), {}, "the hull's file",
             R"("hull.step" # .step .stp .iges .igs .brep .stl .obj .ply, beside this file)", "",
             {.stands = true, .counts = [](const HullOptions& hull) { return !hull.by_hand(); }}),
         key("unit", word(&HullOptions::unit, {"mm", "cm", "m", "in", "ft"}), {},
             "of a model that does not say its own",
             R"("mm" # needed for .stl .obj .ply: "mm", "cm", "m", "in" or "ft")"),
         key("bow", direction(&HullOptions::bow), {}, "direction of the bow",
             "[1, 0, 0] # direction of the bow in the model", "",
             {.required = "the direction of the bow in the model, such as bow = [1, 0, 0]",
              .stands = true}),
         key("up", direction(&HullOptions::up), {}, "upward direction",
             "[0, 0, 1] # upward direction, not parallel to bow", "",
             {.required = "the upward direction in the model, such as up = [0, 0, 1]",
              .stands = true}),
         key("surface", choice(&HullOptions::surface, face_words()), unmarked,
             "which face of the skin the model is",
             R"(# which face of the skin the model is: "outside" or "inside")"),
         key("skin", length(&HullOptions::skin, above_zero_to(250.0)), {}, "thickness of the skin",
             R"("8 mm" # thickness of the skin; measure it. Needed when the repair is on the other face)"),
         key("outward", word(&HullOptions::outward, {"auto", "as modelled", "reversed"}), unmarked,
             "which way the model faces",
             R"(# "auto", "as modelled" or "reversed": which way the model faces)"),
         key("mirror", truth(&HullOptions::mirror), {}, "whether the model is half a hull",
             "true # the model is half a hull: true adds the other half, false says its edge is "
             "real"),
         key("measured", table(&HullOptions::measured, batten_keys()), {}, "the hull by battens",
             "", "", {.or_left_out = true}),
         key("grid", table(&HullOptions::grid, grid_keys()), {}, "the hull by offsets from a plane",
             "", "", {.or_left_out = true}),
         key("sections", table(&HullOptions::sections, section_keys()), {},
             "the hull by a table of offsets", "", "", {.or_left_out = true}),
         key("corner", table(&HullOptions::corner, corner_keys()), {},
             "a corner or fillet by its radius, or by a contour gauge", "", "",
             {.or_left_out = true}),
         key("exact", truth(&HullOptions::exact), {},
             "whether a mesh that looks like a scan is exact all the same",
             "true # the mesh is no scan, however rough it looks", "",
             {.or_left_out = true, .counts = [](const HullOptions& hull) { return hull.exact; }}),
         key("scan", table(&HullOptions::scan, scan_keys()), {}, "the model is a scan", "", "",
             {.or_left_out = true})}};
    return keys;
}

}  // namespace tearline::job

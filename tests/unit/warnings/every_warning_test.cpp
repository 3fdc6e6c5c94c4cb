#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <regex>
#include <set>

#include "core/warnings/warning.h"

/// Every warning with figures that are round in inches (25.4 mm) and ounces (28.349523 g), so that
/// what each reader is shown is worked out by hand. Codes and ranks are what plan.json promises.
namespace tearline {
namespace {

using enum WarningRank;

struct Example {
    Warning warning;
    const char* code;
    WarningRank rank;
    const char *told, *metric, *us;  ///< parts of what each reader is told
};

constexpr double inch = 25.4;                    // [mm]
const Grams ten_ounces(283.49523125);            // "10.0 oz wt (283 g)"
const Grams two_pounds(907.18474);               // "2 lb 0.0 oz wt (907 g)"
const Vec3 place(1.0, -20.5, 300.0);             // [mm]
const warn::LeftOut one_square_inch{2, 645.16};  // "6.5 cm2", "1.00 in2"

Warning of_third(WarningCause cause) {
    return {.cause = std::move(cause), .ply = 3, .piece = "3B", .at = place};
}

std::vector<Example> of_cups() {
    return {
        {{warn::DoseSmall{ten_ounces, Grams(255.145708125)}},
         "dose-small",
         act,
         "a cup needs 28.3 g only",
         "set the 255.1 g left over aside",
         "a cup needs 1.0 oz wt (28.3 g) only"},
        {{warn::DoseWithoutTool{ten_ounces}},
         "dose-without-tool",
         stop,
         "a cup of 283 g inside what is allowed",
         "mix cups of another size, use",
         "a cup of 10.0 oz wt (283 g) inside"},
        {{warn::DoseOverCup{two_pounds, ten_ounces, Grams(2.8349523125), false, false}},
         "dose-over-cup",
         stop,
         "holds 907 g, more than resin.cup, 283 g, because",
         "which takes 2.83 g of hardener: measure that with a scale that reads 0.01 g, a finer",
         "holds 2 lb 0.0 oz wt (907 g), more than you want to mix at once, 10.0 oz wt (283 g)"},
        {{warn::DoseOverCup{two_pounds, ten_ounces, {}, true, false}},
         "dose-over-cup",
         stop,
         "which needs its hardener measured with a scale that reads 0.01 g",
         "which needs its hardener measured with a scale that reads 0.01 g",
         "which needs its hardener measured with a scale that reads 0.01 g"},
        {{warn::DoseMoved{}},
         "dose-moved",
         know,
         "hardener_percent stands at an end of",
         "percentage stands near an end of what",
         "half a division of the tool more or less"},
        {{warn::CupHeats{two_pounds, ten_ounces}},
         "cup-heats",
         stop,
         "holds 907 g, more than 283 g, and no gel time is known for it here",
         "choose a smaller cup, or",
         "holds 2 lb 0.0 oz wt (907 g), more than 10.0 oz wt (283 g)"},
        {{warn::CupOverGelMass{two_pounds, ten_ounces}},
         "cup-over-gel-mass",
         act,
         "holds 907 g and resin.gel_minutes was measured in 283 g",
         "holds 907 g and the gel time was measured in 283 g",
         "the gel time was measured in 10.0 oz wt (283 g)"},
    };
}

std::vector<Example> of_dish() {
    return {
        {{warn::SkinUnknown{inch}},
         "skin-unknown",
         act,
         "hull.skin is not given, so nobody knows how much is left under damage.depth 25.4 mm",
         "is left under a depth of 25.4 mm: measure",
         "is left under a depth of 1 in: measure"},
        {{warn::NoFloor{2.0 * inch, inch}},
         "no-floor",
         act,
         "damage.depth 50.8 mm goes right through hull.skin 25.4 mm",
         "a depth of 50.8 mm goes right through the skin of 25.4 mm",
         "a depth of 2 in goes right through the skin of 1 in"},
        {{warn::FloorThin{.depth = inch, .skin = 26.67}},
         "floor-thin",
         act,
         "leaves 1.27 mm of hull.skin 26.67 mm as a floor",
         "leaves 1.27 mm of the skin of 26.67 mm",
         "leaves 0.050 in of the skin of 1 1/16 in"},
        {{warn::CoreGapWide{6.35}},
         "core-gap-wide",
         act,
         "core.gap 6.35 mm is wide",
         "a gap round the core plug of 6.35 mm is wide",
         "a gap round the core plug of 1/4 in is wide"},
        {{warn::CoreStandsOff{2.54, 1.27, false}},
         "core-stands-off",
         stop,
         "stands 2.54 mm off its bed of 1.27 mm: give it kerfs (core.kerf_pitch, core.kerf_width)",
         "stands 2.54 mm off its bed of 1.27 mm: give it kerfs, or",
         "stands 0.100 in off its bed of 0.050 in"},
        {{warn::CoreStandsOff{2.54, 1.27, true}},
         "core-stands-off",
         stop,
         "a smaller core.kerf_pitch",
         "kerfs closer together",
         "kerfs closer together"},
        {{warn::CoreWithoutMat{"inner skin"}},
         "core-without-mat",
         act,
         "the ply of the inner skin that lies against the core is no mat",
         "chopped strand mat lies next to a core",
         "put one there"},
        {{warn::CoreNotSealed{}},
         "core-not-sealed",
         act,
         "core.seal is not given",
         "how much resin the core drinks is not known",
         "take the figure from its maker"},
        {{warn::KerfCloses{2.54, 1.27}},
         "kerf-closes",
         stop,
         "close by 2.54 mm and are 1.27 mm wide: a wider core.kerf_width",
         "close by 2.54 mm and are 1.27 mm wide: cut them wider",
         "close by 0.100 in and are 0.050 in wide"},
        {{warn::BackingDoesNotPass{4.0 * inch, 6.0 * inch, 2.0 * inch}},
         "backing-does-not-pass",
         act,
         "101.6 mm long and would have to be 152.4 mm",
         "roll a sheet in (radius 50.8 mm)",
         "the hole is 4 in long and would have to be 6 in"},
        {{warn::SandwichWeaker{0.9, 0.8}},
         "sandwich-weaker",
         stop,
         "has 90 % of the old one's bending stiffness and bears 80 % of its moment",
         "has 90 % of the old one's bending stiffness and bears 80 % of its moment",
         "has 90 % of the old one's bending stiffness and bears 80 % of its moment"},
        {{warn::DepthOverOldLaminate{2.0 * inch, inch}},
         "depth-over-old-laminate",
         stop,
         "damage.depth 50.8 mm is more than old_laminate.thickness 25.4 mm",
         "a depth of 50.8 mm is more than the old laminate, 25.4 mm",
         "a depth of 2 in is more than the old laminate, 1 in"},
        {{warn::ScarfSteep{8.5}},
         "scarf-steep",
         stop,
         "scarf.ratio 8.5 is steeper than the 12",
         "a scarf of 1 in 8.5 is steeper",
         "a scarf of 1 in 8.5 is steeper"},
        {{warn::StackOffDepth{2.54, 5.08, {}, false}},
         "stack-off-depth",
         stop,
         "the stack is 2.54 mm thick and the dish is 5.08 mm deep: the laminate ends 2.54 mm low",
         "ends 2.54 mm low; add plies",
         "ends 0.100 in low; add plies"},
        // 5.08 - 1.27 = 3.81; 6.35 - 3.81 = 2.54.
        {{warn::StackOffDepth{6.35, 5.08, 1.27, false}},
         "stack-off-depth",
         stop,
         "deep less a final topcoat of 1.27 mm: the laminate ends 2.54 mm proud",
         "ends 2.54 mm proud; take plies out",
         "of 0.050 in: the laminate ends 0.100 in proud"},
        {{warn::StackOffDepth{2.54, 5.08, {}, true}},
         "stack-off-depth",
         stop,
         "the dish as sounded is 5.08 mm deep: add plies",
         "deep: add plies",
         "as sounded is 0.200 in deep: add plies"},
        // With the coat the stack is over the target of 3.81, without it below the dish.
        {{warn::StackOffDepth{4.0, 5.08, 1.27, true}},
         "stack-off-depth",
         stop,
         ": plies without a place are left out",
         "topcoat of 1.27 mm: plies without a place",
         "topcoat of 0.050 in: plies without a place"},
        {of_third(warn::PlyAsCover{2.54, 5.08, true}), "ply-as-cover", know,
         "layup.fill_to: ply 3 starts at 2.54 mm, at or above damage.depth 5.08 mm: it is needed",
         "ply 3 starts at 2.54 mm, at or above the hull's surface over a dish 5.08 mm deep: it",
         "ply 3 starts at 0.100 in, at or above the hull's surface over a dish 0.200 in deep"},
        {{warn::ScarfProud{1.27, 2.54}},
         "scarf-proud",
         act,
         "the scarf 1.27 mm proud on average, 2.54 mm at most, before cover plies",
         "1.27 mm proud on average, 2.54 mm at most",
         "0.050 in proud on average, 0.100 in at most"},
        {{warn::ScarfProud{-1.27, 2.54}},
         "scarf-proud",
         act,
         "the scarf 1.27 mm low on average, 2.54 mm proud at most",
         "1.27 mm low on average",
         "0.050 in low on average, 0.100 in proud at most"},
        {{warn::ScarfProud{0.004, 2.54}},
         "scarf-proud",
         act,
         "the scarf level on average, 2.54 mm",
         "level on average, 2.54 mm proud at most",
         "level on average, 0.100 in proud at most"},
    };
}

std::vector<Example> of_hull() {
    return {
        {{warn::UnitDiffers{"hull.unit", "in", "STEP", "mm"}},
         "unit-differs",
         stop,
         "hull.unit says in but the STEP file is in mm: the file's own unit is used; remove "
         "hull.unit",
         "the job says in but the STEP file",
         "take the job's unit out"},
        {{warn::UnitUnlikely{inch, true, "hull.unit", "STL", "m"}},
         "unit-unlikely",
         stop,
         "the model is 25.400 mm long: is hull.unit m right?",
         "is the job's unit, m right?",
         "the model is 1 in long: is the job's unit, m right?"},
        {{warn::UnitUnlikely{254000.0, false, "", "STEP", "m"}},
         "unit-unlikely",
         stop,
         "the model is 254000 mm long: is the STEP file's own unit, m right?",
         "the STEP file's own unit, m",
         "the model is 10000 in long"},
        {{warn::OutsideUnknown{}},
         "outside-unknown",
         stop,
         "the model is too flat to tell which side is outside: its templates are seen as its faces "
         "are modelled, and are mirrored where that is wrong; give --outward \"as modelled\" or "
         "\"reversed\"",
         "hold one up to the place before you cut",
         ""},
        {{warn::SkinDiffers{inch, 12.7, 50.8}},
         "skin-differs",
         stop,
         "hull.skin says 25.4 mm, but the two faces of the model lie 12.7 to 50.8 mm apart",
         "the skin is 25.4 mm thick, but",
         "is 1 in thick, but the two faces of the model lie 1/2 to 2 in"},
        // What reads the same is told once.
        {{warn::SkinDiffers{inch, 50.78, 50.8}},
         "skin-differs",
         stop,
         "lie 50.8 mm apart",
         "lie 50.8 mm apart",
         "lie 2 in apart"},
    };
}

std::vector<Example> of_laminate() {
    return {
        {{warn::PatchWeaker{"weaker by half"}},
         "patch-weaker",
         stop,
         "weaker by half",
         "weaker by half",
         "weaker by half"},
        {{warn::PatchStiffer{"twice as stiff"}},
         "patch-stiffer",
         stop,
         "twice as stiff",
         "twice as stiff",
         "twice as stiff"},
        {{warn::ScarfShort{"shorter"}}, "scarf-short", stop, "shorter", "shorter", "shorter"},
        {{warn::RovingOnGround{"roving 600"}},
         "roving-on-ground",
         stop,
         "roving 600 lies straight on ground glass",
         "lay a mat first",
         "lay a mat first"},
        {{warn::RovingsWithoutMat{"roving 600", "biaxial 450", {5, 7}}},
         "rovings-without-mat",
         stop,
         "roving 600 follows biaxial 450 with no mat between",
         "likewise ply 5, 7",
         "likewise ply 5, 7"},
        {{warn::FewFreshLayers{1, true}},
         "few-fresh-layers",
         stop,
         "1 fresh layer stays over the floor when",
         "1 fresh layer stays",
         "1 fresh layer stays"},
        {{warn::FewFreshLayers{0, false}},
         "few-fresh-layers",
         stop,
         "0 fresh layers reach over all the ground glass",
         "0 fresh layers reach",
         "0 fresh layers reach"},
        {{warn::GlassContentUnlikely{"mine", job::FabricKind::mat, 0.55, 0.3, 0.25}},
         "glass-content-unlikely",
         stop,
         "fabric.glass_content 0.55 of \"mine\" is not what",
         "a glass content of 0.55 of \"mine\" is not",
         "about 0.30 for mat, 0.25 on complex"},
        {{warn::ResinRange{true, ten_ounces}},
         "resin-range",
         know,
         "nominal ones, not your cloth's data sheet: hand lay-up on complex shapes can hold up to "
         "283 g more resin than totals.resin_g",
         "283 g more resin than is worked out",
         "10.0 oz wt (283 g) more resin"},
        {{warn::ResinRange{false, ten_ounces}},
         "resin-range",
         know,
         "a glass content is higher than common practice",
         "a glass content is higher",
         "a glass content is higher"},
        {{warn::PlyOverStage{5.08}},
         "ply-over-stage",
         stop,
         "thicker than a stage may be, 5.08 mm",
         "may be, 5.08 mm: it may overheat",
         "may be, 0.200 in: it may overheat"},
        {{warn::StageHeats{12.7, 10.0}},
         "stage-heats",
         stop,
         "12.7 mm are laid wet on wet in one go, more than 10 mm",
         "a smaller thickness of a stage",
         "0.500 in are laid wet on wet in one go, more than 0.394 in"},
        {{warn::EmulsionMatInEpoxy{"mat 450", {1, 4}}},
         "emulsion-mat-in-epoxy",
         stop,
         "fabric \"mat 450\" has an emulsion binder",
         "use powder-bound mat, or cloth",
         "so it is with plies 1, 4"},
        {{warn::EmulsionMatInEpoxy{"mat 450", {4}}},
         "emulsion-mat-in-epoxy",
         stop,
         "powder-bound mat (binder = \"powder\")",
         "mat 450 has an emulsion",
         "is with ply 4"},
    };
}

std::vector<Example> of_laying() {
    const warn::CreaseMet convex{true, 30.0, place}, concave{false, 45.25, place};
    const warn::TightRadius tight{"roving 600", inch, 2.0 * inch};
    const warn::Complaint strain{warn::Complaint::Of::strain, 5.04, 5.0, place, {}};
    const warn::Complaint width{warn::Complaint::Of::width, 50.8 * inch, 50.0 * inch, {}, {}};
    const warn::Complaint cloth{warn::Complaint::Of::cloth, 0.0, 0.0, {}, "it folds"};
    return {
        {of_third(warn::CreaseTrimmed{convex, 2.54}), "crease-trimmed", know,
         "a convex crease (radius 0 mm, turn 30.0 degrees) near (1.0, -20.5, 300.0) mm: at",
         "a convex crease (sharp, turning by 30.0 degrees): at the ply's depth its girth is "
         "shorter by 2.54 mm",
         "its girth is shorter by 0.100 in"},
        {of_third(warn::CreaseOpened{concave, inch, 2.54}), "crease-opened", know,
         "a concave crease (radius 0 mm, turn 45.2 degrees)",
         "in an arc of radius 25.40 mm, longer by 2.54 mm", "of radius 1 in, longer by 0.100 in"},
        {{warn::MiddleOnCrease{}},
         "middle-on-crease",
         know,
         "the datum cross stands on the ridge",
         "the datum cross stands on the ridge",
         "the datum cross stands on the ridge"},
        // A fluid ounce is 29.5735295625 cm3.
        {of_third(warn::RadiusConcave{tight, {{29573.5295625, 10.0 * inch}}}), "radius-concave",
         act, "ply 3 (roving 600) lies in a hollow of radius 25.4 mm near (1.0, -20.5, 300.0) mm",
         "hollow of radius 25.4 mm, its fabric needs 50.8 mm: fill the corner to a fillet of "
         "radius 50.8 mm, 29.6 cm3 of filler along 254 mm",
         "of radius 2 in, 1.00 fl oz of filler along 10 in"},
        {of_third(warn::RadiusConcave{tight, {}}), "radius-concave", act,
         "to a fillet of radius 50.8 mm", "fillet of radius 50.8 mm", "fillet of radius 2 in"},
        {of_third(warn::RadiusConvex{tight, 12.7, inch}), "radius-convex", act,
         "lies over an edge of radius 25.4 mm near",
         "takes off 12.7 mm at the edge and starts 25.4 mm to either side",
         "ease the edge to a radius of 2 in, which takes off 1/2 in at the edge and starts 1 in"},
        {of_third(warn::RadiusConvex{tight, 3.0 * inch, inch}), "radius-convex", act,
         "it is too sharp to be eased to that, which would take 76 mm", "76 mm off the edge",
         "would take 3 in off the edge: end the ply short of it"},
        {of_third(warn::ReliefCuts{"mat 450", 1, 2, strain, 0.0123}), "relief-cuts", know,
         "ply 3 (mat 450) has 1 slit and 2 darts: uncut it must give 5.04 % near (1.0, -20.5, "
         "300.0), over the strain_limit of 5 %, so cut it gives 1.2 % at most",
         "must give 5.04 %, more than mat bears, 5 %", "1 slit and 2 darts"},
        {of_third(warn::ReliefCuts{
             "roving 600", 0, 1, {warn::Complaint::Of::shear, 31.2, 30.0, place, {}}, 0.0}),
         "relief-cuts", know, "has 1 dart: uncut it must shear by 31.2 degrees near (1.0",
         "must shear by 31.2 degrees, more than the cloth bears, 30 degrees", "has 1 dart"},
        {of_third(warn::LaidInPieces{"mat 450", true, 2, 2.0 * inch, width}), "laid-in-pieces",
         know,
         "is torn in 2 pieces that lap by 51 mm of torn edges: in one it is 1290 mm wide, "
         "over the roll_width of 1270 mm",
         "wider than its roll, 1270 mm",
         "lap by 2 in of torn edges: in one it is 50 13/16 in wide, wider than its roll, 50 in"},
        {of_third(warn::LaidInPieces{"roving 600", false, 1, inch, cloth}), "laid-in-pieces", know,
         "is cut in 1 piece that lap by 25 mm: in one it does not lie down (it folds)", "is cut in",
         "lap by 1 in: in one it"},
        {of_third(warn::SeamThroughMiddle{"mat 450"}), "seam-through-middle", act,
         "ply 3 (mat 450) is parted across the middle", "ply 3 (mat 450)", "ply 3 (mat 450)"},
        {of_third(warn::ShearNearLimit{"roving 600", 27.31, 30.0}), "shear-near-limit", act,
         "piece 3B of roving 600 shears by up to 27.3 degrees, near its shear_limit of 30.0: dry",
         "near the most it bears, 30.0", "piece 3B of roving 600"},
        {of_third(warn::CutAtHullEnd{false}), "cut-at-hull-end", stop,
         "ply 3 ends where the hull ends", "ply 3 ends", "ply 3 ends"},
        {of_third(warn::CoverCutAtHullEnd{true}), "cover-cut-at-hull-end", know,
         "cover ply 3 ends where the measuring ends; the scarf under it is whole",
         "cover ply 3 ends", "cover ply 3 ends"},
        {of_third(warn::CutAtHullEnd{false, place}), "cut-at-hull-end", stop,
         "ply 3 ends at a hole in the model near (1.0, -20.5, 300.0) mm: name what is there by "
         "[[damage.opening]] with centre = [1.0, -20.5, 300.0] and keep = true, or close",
         "ply 3 ends at a hole in the model: say what is there, an opening or a fitting",
         "ply 3 ends at a hole in the model"},
        {of_third(warn::CoverCutAtHullEnd{false, place}), "cover-cut-at-hull-end", know,
         "the scarf under it is whole: name what is there by [[damage.opening]]",
         "cover ply 3 ends at a hole in the model; the scarf under it is whole: say what is there",
         "cover ply 3 ends at a hole"},
        {{warn::LapWithoutEnd{}},
         "lap-without-end",
         act,
         "so none laps over it as damage.at_end = \"lap\" asks: check that the damage lies where",
         "no ply reaches an end of the hull, so none laps over it, as was asked for",
         "no ply reaches an end of the hull"},
        {{warn::RoundTube{{3}, 2.0 * inch}},
         "round-tube",
         act,
         "ply 3 goes right round and meets itself on the far side, where its ends lap each other; "
         "the damage is round on the other side",
         "ply 3 goes right round and meets itself",
         "ply 3 goes right round and meets itself"},
        {{warn::LapsOverHullEnd{inch, 0.5 * inch, 90.0, 5.0 * inch}},
         "laps-over-hull-end",
         act,
         "by a radius of 25.4 mm and a turn of 90 degrees, on to the face behind it "
         "(damage.at_end)",
         "on to the face behind it: round the ground edge to a radius of 12.7 mm first",
         "to a radius of 1/2 in first, and grind the face behind it clean over 5 in"},
        {{warn::RoundTube{{2, 3}, 2.0 * inch}},
         "round-tube",
         act,
         "plies 2, 3 go right round and meet themselves on the far side",
         "joints of successive ones lie 51 mm apart",
         "joints of successive ones lie 2 in apart"},
        {of_third(warn::WiderThanRoll{"mat 450", 50.0 * inch}), "wider-than-roll", stop,
         "mat 450: the piece does not fit the roll, 1270 mm wide", "the roll, 1270 mm wide",
         "the roll, 50 in wide"},
    };
}

std::vector<Example> of_measuring() {
    const std::string gap = "hull.measured.gap_along", cell = "hull.grid.offsets[2][4]";
    constexpr double none = std::numeric_limits<double>::infinity();
    const std::vector<warn::MeasuredHull::Rate> few{{gap, 0.254}, {cell, 21.0}};
    // Seven are not told one by one, but the one that moves an edge most.
    std::vector<warn::MeasuredHull::Rate> many(7, {gap, 0.1});
    many[4] = {cell, 2.5};
    return {
        {{warn::SuspiciousFigure{cell, "row 2, figure 4", 2.0 * inch, inch}},
         "suspicious-figure",
         stop,
         "hull.grid.offsets[2][4]: value 50.8 mm (row 2, figure 4): the figures round it say about "
         "25.4 mm; measure there again",
         "row 2 from below, figure 4 from aft, measured as 50.8 mm: the figures",
         "measured as 2 in: the figures round it say about 1 in"},
        {{warn::BeyondTheBatten{10.0 * inch}},
         "beyond-the-batten",
         stop,
         "the repair reaches 254 mm beyond",
         "reaches 254 mm",
         "reaches 10 in beyond the ends"},
        {{warn::MeasuredHullOff{gap, inch, 1.5 * inch}},
         "measured-hull-off",
         stop,
         "hull.measured.gap_along was measured as 25.4 mm and it has 38.1 mm there, 12.7 mm off",
         "the gap along, at the middle was measured as 25.4 mm",
         "measured as 1 in and it has 1 1/2 in there, 1/2 in off"},
        {{warn::MeasuredHull{9, gap, 2.54, false, few, {}}},
         "measured-hull",
         know,
         "drawn from 9 measured figures and passes within 2.5 mm of every one "
         "(hull.measured.gap_along the farthest); 1 mm of error moves an edge of the widest "
         "template by: hull.measured.gap_along 0.25 mm, hull.grid.offsets[2][4] more than 20 mm",
         "within 2.5 mm of every one (the gap along, at the middle the farthest)",
         "within 0.100 in of every one"},
        // Nobody reads a gap to less than 0.1 mm.
        {{warn::MeasuredHull{9, gap, 0.01, false, many, inch}},
         "measured-hull",
         know,
         "by 2.50 mm at most, in hull.grid.offsets[2][4]; the others are in plan.json; by the way",
         "within 0.1 mm of every one",
         "wrong by less than 1 in would not stand out"},
        {{warn::MeasuredHull{9, gap, 2.54, true, {}, none}},
         "measured-hull",
         know,
         "from 9 measured figures; there are too few figures to tell a wrong one",
         "9 measured figures; there are too few",
         "9 measured figures; there are too few"},
        {{warn::TapesMeetFlat{"damage.outline[2]", "A", "B", 10.0 * inch}},
         "tapes-meet-flat",
         stop,
         "damage.outline[2]: the tapes meet so flat that 1 mm of error moves the point 254 mm",
         "a point taped from A and B: the tapes meet so flat",
         "0.039 in of error moves the point 10 in"},
        {{warn::TapesMeetFlat{"damage.outline[2]", "A", "B", {}}},
         "tapes-meet-flat",
         stop,
         "damage.outline[2]: the tapes from A and B run in one line",
         "from A and B run in one",
         "from A and B run in one line"},
        {{warn::MarkInRepair{"A"}},
         "mark-in-repair",
         act,
         "marks.A: lies inside what",
         "mark A lies inside",
         "mark A lies inside"},
        {{warn::OutlineBulges{inch, 12.4}},
         "outline-bulges",
         know,
         "lies up to 25.4 mm outside the straight lines between its points and holds 12 % more",
         "have the points joined straight or give",
         "lies up to 1 in outside"},
    };
}

std::vector<Example> of_resin() {
    using Why = warn::NoGelTime::Why;
    return {
        {{warn::HardenerAssumed{1.5}},
         "hardener-assumed",
         act,
         "resin.hardener_percent is not given: 1.5 % is the middle",
         "the hardener's percentage is not yours: 1.5 %",
         "1.5 % is the middle"},
        {{warn::CuredDensityAssumed{1.15}},
         "cured-density-assumed",
         know,
         "resin.cured_density is not given: 1.15 g/cm3",
         "density is not yours: 1.15 g/cm3",
         "1.15 g/cm3 is taken for cured epoxy"},
        {{warn::DensityMissing{true, false}},
         "density-missing",
         know,
         "resin.density is given and resin.hardener_density is not: one alone is not used, and the "
         "cups stand only by mass",
         "the resin's density is given and the hardener's is not",
         "only by mass; write both"},
        {{warn::DensityMissing{false, true}},
         "density-missing",
         know,
         "resin.hardener_density is given and resin.density is not",
         "the hardener's density is given and the resin's is not",
         "only by volume; write both"},
        {{warn::TopcoatHardenerAssumed{2.0}},
         "topcoat-hardener-assumed",
         act,
         "topcoat.hardener_percent is not given: 2 %",
         "topcoat's percentage is not yours: 2 %",
         "2 % is the nominal figure"},
        {{warn::HardenerHigh{false, 12.5, 3.0}},
         "hardener-high",
         stop,
         "resin.hardener_percent of 12.5 % is more than the 3 % that published data sheets of "
         "resins allow",
         "the hardener's percentage of 12.5 %",
         "more than the 3 %"},
        {{warn::HardenerHigh{true, 12.5, 3.0}},
         "hardener-high",
         stop,
         "topcoat.hardener_percent of 12.5 %",
         "the topcoat's percentage of 12.5 %",
         "data sheets of gel coats and topcoats"},
        {{warn::HardenerRangeNarrow{}},
         "hardener-range-narrow",
         act,
         "hardener_range is a single figure",
         "of hardener is a single figure",
         "ask the maker how far it may be missed"},
        {{warn::RecoatPassed{Hours(30.0), Hours(24.0)}},
         "recoat-passed",
         stop,
         "shop.hours_between_stages: 30 h is past resin.recoat_hours, 24 h",
         "between two stages 30 h are planned, more than the resin's recoat time of 24 h",
         "of 24 h: the next stage would not bond"},
        {{warn::PolyesterOnEpoxy{true}},
         "polyester-on-epoxy",
         act,
         "[topcoat] goes over epoxy; polyester topcoat",
         "the topcoat of this job goes over epoxy;",
         "the topcoat of this job goes over epoxy;"},
        {{warn::PolyesterOnEpoxy{false}},
         "polyester-on-epoxy",
         act,
         "polyester topcoat or gel coat does not bond",
         "polyester topcoat or gel coat does not",
         "use an epoxy-compatible finish"},
        {{warn::WaxedBetweenStages{}},
         "waxed-between-stages",
         act,
         "resin.waxed: wax rises to",
         "the resin is waxed: wax rises",
         "sand between stages"},
        // 30 C = 86 F, 25 C = 77 F.
        {{warn::ShopHot{Celsius(30.0), Celsius(25.0)}},
         "shop-hot",
         act,
         "shop.temperature of 30 C is above 25 C",
         "the shop at 30 °C is above 25 °C",
         "the shop at 86 °F is above 77 °F"},
        {{warn::TestCup{{Why::not_given}}},
         "test-cup",
         act,
         "resin.gel_minutes is not given, and no gel time is assumed: mix a test cup of 100 g",
         "the job gives no gel time, and none is assumed: mix",
         "a test cup of 3.5 oz wt (100 g)"},
        {{warn::TestCup{{Why::other_temperature, Celsius(20.0), Celsius(30.0)}}},
         "test-cup",
         act,
         "resin.gel_minutes was measured at 20 C and the shop is at 30 C",
         "the gel time was measured at 20 °C",
         "at 68 °F and the shop is at 86 °F"},
        {{warn::TestCup{{Why::no_percent}}},
         "test-cup",
         act,
         "resin.hardener_percent is not given: mix",
         "the hardener's percentage of this job is not given",
         "of this job is not given"},
        {{warn::TestCup{{Why::other_percent, Celsius(0.0), Celsius(0.0), 1.0, 2.5}}},
         "test-cup",
         act,
         "measured with 1 % of hardener and resin.hardener_percent is 2.5",
         "percentage of this job is 2.5",
         "measured with 1 % of hardener"},
    };
}

std::vector<Example> of_scan() {
    using Most = warn::ScanEdgeUnsure::Most;
    return {
        {{warn::ScanFitted{900, 1000, 0.254, 101.6, 0.508, true}},
         "scan-fitted",
         know,
         "through 900 of 1000 points of a scan that scatter by 0.25 mm; waves shorter than 102 mm",
         "the damage is bridged from the sound skin round it; at the middle it may be 0.51 mm off",
         "waves shorter than 4 in"},
        {{warn::ScanStrays{17, place, 25.4}},
         "scan-strays",
         know,
         "17 points of the scan lie off the fair surface, one of them 25 mm near [1, -20, 300] mm "
         "in "
         "the scan, and",
         "one of them 25 mm, and count for nothing",
         "one of them 1 in, and count"},
        {{warn::ScanHoles{2, 50.8, place}},
         "scan-holes",
         know,
         "has 2 holes, the largest about 51 mm wide near [1, -20, 300] mm in the scan: missing "
         "data",
         "the largest about 51 mm wide: missing data",
         "about 2 in wide: missing data"},
        {{warn::ScanOneSided{180.0, 2.54}},
         "scan-one-sided",
         stop,
         "on 180 degrees of the way round the damage only",
         "here to 2.5 mm",
         "here to 0.100 in"},
        {{warn::ScanEdgeUnsure{5.08, 12.7, Most::scale}},
         "scan-edge-unsure",
         stop,
         "may be 5.1 mm off, against steps of 12.7 mm from ply to ply: tape a longer distance",
         "tape a longer distance",
         "may be 3/16 in off, against steps of 1/2 in"},
        {{warn::ScanEdgeUnsure{5.08, 12.7, Most::surface}},
         "scan-edge-unsure",
         stop,
         "use a better scanner, or scan more sound skin",
         "use a better scanner",
         "use a better scanner"},
        {{warn::ScanEdgeUnsure{5.08, 12.7, Most::picking}},
         "scan-edge-unsure",
         stop,
         "scan with finer points",
         "scan with finer points",
         "scan with finer points"},
        {{warn::ScanEdgeUnsure{5.08, 12.7, Most::dish}},
         "scan-edge-unsure",
         stop,
         "sound it with a gauge",
         "the depths of the dish are not known better by its scan",
         "sound it with a gauge"},
        {{warn::ScanOneTape{609.6}},
         "scan-one-tape",
         act,
         "one tape of 610 mm: whether it was misread",
         "one tape of 610 mm",
         "one tape of 24 in"},
        {{warn::ScanTapes{101.0, 2.54, 2}},
         "scan-tapes",
         know,
         "by 2 tapes the hull is 101.00 % of its scan, and the tapes agree with that to 2.5 mm",
         "agree with that to 2.5 mm",
         "agree with that to 0.100 in"},
        {{warn::DishScanLaid{0.508, 0.127}},
         "dish-scan-laid",
         know,
         "which it meets to 0.51 mm: more than its noise, 0.13 mm",
         "meets to 0.51 mm: more than its noise, 0.13 mm",
         "meets to 0.020 in: more than its noise, 0.005 in"},
        {{warn::ScanBend{38.1, place}},
         "scan-bend",
         stop,
         "a radius of about 38 mm near [1, -20, 300] mm in the scan at the edge of what is "
         "bridged",
         "check the templates on the hull before anything is cut",
         "a radius of about 1 1/2 in at the edge"},
        {{warn::ScanBend{38.1, place, {{1, 2, 3}, {4.04, 5, 6}}}},
         "scan-bend",
         stop,
         "([[hull.scan.crease]] points = [[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]] radius = 38)",
         "in the job file, with its radius, or check",
         "in the job file, with its radius, or check"},
        {{warn::ScanUnfollowed{2.54, place}},
         "scan-unfollowed",
         stop,
         "lies about 2.5 mm off the points of the scan near [1, -20, 300] mm in the scan: mark the "
         "bend or chine there ([[hull.scan.crease]], with its radius where it has one)",
         "lies about 2.5 mm off the points of the scan: mark the bend or chine there in the job "
         "file, with its radius where it has one",
         "lies about 0.100 in off the points of the scan"},
        {{warn::ScanChine{42.4, place, {{1, 2, 3}}}},
         "scan-chine",
         act,
         "turns by 42 degrees along a line near [1, -20, 300] mm in the scan: a chine that was "
         "found in the scan",
         "and mark it in the job file",
         "and mark it in the job file"},
        {{warn::ScanChineUnsure{21.2, place, {{1, 2, 3}}}},
         "scan-chine-unsure",
         stop,
         "mark three places along it ([[hull.scan.crease]] points = [[1.0, 2.0, 3.0]])",
         "mark three places along it in the job file; if it is none",
         "mark three places along it in the job file; if it is none"},
        {{warn::GroundFound{254.0, 2.54, 101.6, 152.4}},
         "ground-found",
         act,
         "102 mm to 152 mm from the centre and as large as a disc of 254 mm across",
         "it scatters by 2.5 mm",
         "4 in to 6 in from the centre"},
    };
}

std::vector<Example> of_soundings() {
    const std::string third = "damage.sounding[3]";
    const warn::TooNarrow narrow{2.54, 2.0 * inch, one_square_inch};
    return {
        {{warn::SoundingDisagrees{third, 2.0 * inch, inch}},
         "sounding-disagrees",
         stop,
         "damage.sounding[3] (50.8 mm): the soundings round it say about 25.4 mm",
         "sounding 3 (50.8 mm): the",
         "sounding 3 (2 in): the soundings round it say about 1 in"},
        {{warn::StraightedgeRocks{third, inch, 2}},
         "straightedge-rocks",
         stop,
         "damage.sounding[3]: the ground itself stands up to 25.4 mm over",
         "sounding 3: the ground itself",
         "up to 1 in over a straightedge that rests on the old "
         "surface to both sides (so for 2 soundings)"},
        {{warn::GroundSteep{12.0, 4, inch}},
         "ground-steep",
         act,
         "steeper than 1 in 12 in 4 place(s): grind up to 25.4 mm further",
         "up to 25.4 mm further",
         "grind up to 1 in further"},
        {{warn::DepthTaken{inch, true}},
         "depth-taken",
         know,
         "the deepest place of its scan, 25.4 mm below the old surface, is taken for it",
         "the deepest place of its scan, 25.4 mm below",
         "the deepest place of its scan, 1 in below"},
        {{warn::DepthTaken{inch, true, 0.1 * inch}},
         "depth-taken",
         know,
         "25.4 mm below the old surface (it may be 2.5 mm off), is taken for it",
         "25.4 mm below the old surface (it may be 2.5 mm off)",
         "1 in below the old surface (it may be 0.100 in off)"},
        {{warn::DepthTaken{inch}},
         "depth-taken",
         know,
         "damage.depth is not given: the deepest sounding, 25.4 mm below",
         "sounding, 25.4 mm below",
         "the deepest sounding, 1 in below"},
        {{warn::RoundTaken{10.0 * inch}},
         "round-taken",
         know,
         "damage.round is not given and a sounding lies outside the outline",
         "the ground area to end 254 mm outside",
         "the ground area to end 10 in outside it"},
        {{warn::RoundTaken{}},
         "round-taken",
         know,
         "and no sounding lies outside the outline",
         "the edge of the ground area",
         "the edge of the ground area"},
        {{warn::DepthDiffers{inch, 2.0 * inch}},
         "depth-differs",
         stop,
         "damage.depth is 25.4 mm and the soundings reach 50.8 mm",
         "correct that depth, or",
         "the depth to grind is 1 in and the soundings reach 2 in"},
        {{warn::PocketNarrow{narrow}},
         "pocket-narrow",
         act,
         "nowhere is the dish 2.54 mm deep over a width of 51 mm; 2 narrower place(s), 6.5 cm2 in "
         "all",
         "6.5 cm2 in all",
         "0.100 in deep over a width of 2 in; 2 narrower place(s), 1.00 in2 in all"},
        {of_third(warn::PlyWithoutPlace{"mat 450", {2.54, inch, {}}}), "ply-without-place", act,
         "ply 3 (mat 450) is left out: nowhere is the dish 2.54 mm deep over a width of 25 mm",
         "ply 3 (mat 450) is left out", "0.100 in deep over a width of 1 in"},
        {of_third(warn::Slivers{"mat 450", 2.0 * inch, inch, 1, 2, one_square_inch, 3, 4}),
         "slivers", act,
         "ply 3 (mat 450): 1 narrower than 51 mm joined to the part beside; 2 opening(s) narrower "
         "than 51 mm closed",
         "; 3 tail(s) or neck(s) narrower than 25 mm cut off; 4 inlet(s) narrower than 25 mm "
         "filled",
         "; 2 narrower than 2 in left out, 1.00 in2 in all: fill with fairing compound; 3 tail(s)"},
        // What there is none of is not told.
        {of_third(warn::Slivers{"mat 450", 2.0 * inch, inch, 0, 0, {}, 0, 4}), "slivers", act,
         "ply 3 (mat 450): 4 inlet(s) narrower than 25 mm filled", "(mat 450): 4 inlet(s)",
         "(mat 450): 4 inlet(s) narrower than 1 in filled"},
        {{warn::BuiltSoFar{2, 2.54, 2.79, {{1, 1.27, 0.304}, {2, 1.52, 0.25}}}},
         "built-so-far",
         know,
         "the first 2 plies were planned 2.54 mm thick and are 2.79 mm (ply 1 1.27 mm, glass 30 % "
         "by mass, ply 2 1.52 mm, glass 25 % by mass): as planned",
         "thick and are 2.79 mm",
         "planned 0.100 in thick and are 0.110 in"},
        {{warn::BuiltSoFar{1, 2.54, 2.80, {{1, 2.80, 0.25}}}},
         "built-so-far",
         know,
         "the first ply was planned 2.54 mm thick and is 2.80 mm",
         ": resin-rich; squeeze",
         ": resin-rich; squeeze"},
        {{warn::BuiltSoFar{1, 2.54, 2.28, {{1, 2.28, 0.40}}}},
         "built-so-far",
         know,
         ": starved of resin, or pressed thin",
         ": starved of resin",
         ": starved of resin"},
    };
}

std::vector<Example> examples() {
    std::vector<Example> all;
    for (auto& some : {of_cups(), of_dish(), of_hull(), of_laminate(), of_laying(), of_measuring(),
                       of_resin(), of_scan(), of_soundings()})
        all.insert(all.end(), some.begin(), some.end());
    return all;
}

/// The lengths in a text [mm], by a reader of its own: "25.40 mm", "1 1/2 in", "0.100 in".
std::vector<double> lengths(const std::string& text, bool inches) {
    // "1 in 12" is a ratio.
    static const std::regex metric(R"((\d+(?:\.\d+)?) mm\b)");
    static const std::regex us(
        R"(\b(?:(\d+(?:\.\d+)?) )?(?:(\d+)/(\d+)|(\d+(?:\.\d+)?)) in\b(?! \d))");
    std::vector<double> found;
    const std::regex& length = inches ? us : metric;
    for (std::sregex_iterator at(text.begin(), text.end(), length), end; at != end; ++at) {
        const auto figure = [&](std::size_t group) {
            return (*at)[group].matched ? std::stod((*at)[group]) : 0.0;
        };
        if (!inches)
            found.push_back(figure(1));
        else if ((*at)[3].matched)
            found.push_back(inch * (figure(1) + figure(2) / figure(3)));
        else
            found.push_back(inch * figure(4));
    }
    return found;
}

TEST(EveryWarning, HasAnExample) {
    std::set<std::size_t> seen;
    for (const Example& example : examples()) seen.insert(example.warning.cause.index());
    EXPECT_EQ(seen.size(), std::variant_size_v<WarningCause>);
}

TEST(EveryWarning, KeepsTheCodeAndRankThatPlanJsonPromises) {
    for (const Example& example : examples()) {
        EXPECT_EQ(example.warning.code(), example.code);
        EXPECT_EQ(example.warning.rank(), example.rank) << example.code;
    }
}

TEST(EveryWarning, TellsEachReaderItsFigures) {
    for (const Example& example : examples()) {
        const Sentence words = example.warning.words();
        for (const auto& [said, part] : {std::pair(words.told, example.told),
                                         {words.plain(Units::metric), example.metric},
                                         {words.plain(Units::us), example.us}})
            EXPECT_NE(said.find(part), std::string::npos)
                << example.code << ": " << said << "\nlacks: " << part;
    }
}

TEST(EveryWarning, OnASheetNamesNoKeyAndNoPlaceInTheModel) {
    const std::regex key(
        R"([a-z]_[a-z]|\b(hull|damage|scarf|layup|resin|shop|topcoat|marks)\.[a-z])"
        R"(|plan\.json|\(-?\d+\.\d, | = )");
    for (const Example& example : examples())
        for (const Units units : {Units::metric, Units::us}) {
            const std::string said = example.warning.words().plain(units);
            EXPECT_FALSE(std::regex_search(said, key)) << example.code << ": " << said;
        }
}

TEST(EveryWarning, SaysTheSameLengthsInBothUnits) {
    // Within what is rounded away: half of 1/16 in, of 1 mm where the metric words have no
    // decimals.
    constexpr double rounding = 0.5 * inch / 16.0 + 0.5;
    for (const Example& example : examples()) {
        const Sentence words = example.warning.words();
        if (words.us.find("file is in mm") != std::string::npos) continue;  // the file's own unit
        const std::vector<double> metric = lengths(words.metric, false);
        const std::vector<double> us = lengths(words.us, true);
        EXPECT_TRUE(lengths(words.us, false).empty()) << example.code << ": " << words.us;
        ASSERT_EQ(metric.size(), us.size()) << example.code << ": " << words.us;
        for (std::size_t i = 0; i < us.size(); ++i)
            EXPECT_NEAR(metric[i], us[i], rounding) << example.code << ": " << words.us;
    }
}

TEST(EveryWarning, TellsOfAFigureOverItsLimitSoFinelyThatItReadsAsOver) {
    // 5.0004 reads as 5.0 to three decimals; what the fourth does not show either stays there.
    using warn::Complaint;
    const auto told = [](double figure) {
        return Complaint{Complaint::Of::strain, figure, 5.0, {}, {}}.words().told;
    };
    EXPECT_TRUE(told(5.3).starts_with("must give 5.3 %")) << told(5.3);
    EXPECT_TRUE(told(5.04).starts_with("must give 5.04 %")) << told(5.04);
    EXPECT_TRUE(told(5.0004).starts_with("must give 5.0004 %")) << told(5.0004);
    EXPECT_TRUE(told(5.00001).starts_with("must give 5.0000 %")) << told(5.00001);
}

TEST(ProudWords, SayNothingOfWhatReadsAsNothing) {
    EXPECT_EQ(warn::proud_words(0.004, 0.0049).told, "");
    EXPECT_EQ(warn::proud_words(-0.005, 0.005).told,
              "0.01 mm low on average, 0.01 mm proud at most");
    EXPECT_EQ(warn::proud_words(0.0, 0.25).us, "level on average, 0.010 in proud at most");
    EXPECT_EQ(warn::proud_words(std::nan(""), std::nan("")).told, "");
}

}  // namespace
}  // namespace tearline

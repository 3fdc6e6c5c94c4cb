#include "core/job/measuring_sheet.h"

#include <stdexcept>

namespace tearline::job {

namespace {

constexpr const char* head = R"html(<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Measuring sheet</title>
<style>
@page { size: PAPER; margin: 10mm }
body { font: 9pt/1.25 Helvetica, Arial, "DejaVu Sans", sans-serif; margin: 0 auto; max-width: 189mm; color: #111 }
h1 { font-size: 14pt; margin: 0 0 1mm } h2 { font-size: 10.5pt; margin: 2.4mm 0 .5mm; border-top: .3mm solid #111; padding-top: .8mm }
p { margin: .6mm 0 } .two { display: flex; gap: 4mm } .two > div { flex: 1; min-width: 0 }
table { border-collapse: collapse; width: 100% } td { padding: .3mm 1mm; vertical-align: middle; white-space: nowrap }
td.box { border: .3mm solid #111; height: 6mm; width: 15mm }
.fill td:first-child, .fill th:first-child { width: 25mm } .fill td.box { width: auto } .fill { table-layout: fixed }
.net + p { margin-top: .8mm }
code { font: 8.5pt "DejaVu Sans Mono", monospace } th { font-size: 8pt; font-weight: normal; text-align: left; padding: 0 1mm }
svg { width: 92mm } .line { border-bottom: .3mm solid #111; display: inline-block }
</style></head><body>
<h1>Measuring sheet: a hull without a model</h1>
<p>UNITS, in the order of the numbers: 1 to 5 before you grind, 6 and 7 later. Each
box carries the name that its figure has in the job file; <code>tearline new</code> writes one with all of them to fill in.</p>
<p><code>title</code>: boat, place <span class="line" style="width: 92mm"></span> date <span class="line" style="width: 30mm"></span></p>
)html";

constexpr const char* batten_picture = R"html(<h2>As you face the hull</h2>
<svg style="height: 56mm" viewBox="0 0 200 122" font-family="Helvetica, Arial, 'DejaVu Sans', sans-serif" font-size="6" fill="none" stroke="#111" stroke-width=".7">
<path d="M14 55H128M71 6V104" stroke-width="2"/><path d="M22 20H128M22 90H128M32 6V104M110 6V104" stroke-dasharray="4 3"/>
<ellipse cx="71" cy="55" rx="24" ry="17" stroke-dasharray="1.5 1.5" fill="#fff" fill-opacity=".6"/>
<circle cx="14" cy="55" r="3" fill="#fff"/><circle cx="122" cy="55" r="3" fill="#fff"/><circle cx="71" cy="100" r="3" fill="#fff"/>
<path d="M150 8H182M175 5l7 3-7 3"/>
<g fill="#111" stroke="none"><text x="131" y="10">bow</text><text x="5" y="49">A aft</text><text x="114" y="49">B fwd</text><text x="76" y="102">C</text>
<text x="50" y="51">damage</text><text x="131" y="22">gap_along_ends [2]</text><text x="131" y="57">gap_along</text>
<text x="131" y="92">gap_along_ends [1]</text><g text-anchor="middle"><text x="32" y="111">gap_across_ends [1]</text>
<text x="71" y="119">gap_across</text><text x="110" y="111">gap_across_ends [2]</text></g></g>
</svg>
<p>Thick: batten through the middle. Dashed: again, half its length from there. Drawn for starboard from outside, port from inside; for
the others the bow is to the left: A, B and [1], [2] of <code>gap_across_ends</code> change places.</p>
)html";

constexpr const char* grid_picture = R"html(<h2>As you face the hull, and from the side</h2>
<svg style="height: 48mm" viewBox="0 0 200 104" font-family="Helvetica, Arial, 'DejaVu Sans', sans-serif" font-size="6" fill="none" stroke="#111" stroke-width=".6">
<path d="M18 12H122M18 30H122M18 48H122M18 66H122M18 84H122M26 5V91M48 5V91M70 5V91M92 5V91M114 5V91"/>
<ellipse cx="70" cy="48" rx="21" ry="14" stroke-dasharray="1.5 1.5" fill="#fff" fill-opacity=".6"/>
<path d="M58 44H82V52H58z" fill="#fff" stroke="none"/><circle cx="36" cy="48" r="3" fill="#fff"/><circle cx="104" cy="48" r="3" fill="#fff"/>
<path d="M48 95H70M46 95l4 -1.5v3zM72 95l-4 -1.5v3z" fill="#111"/><path d="M125 66V48M125 68l-1.5 -4h3zM125 46l-1.5 4h3z" fill="#111"/>
<path d="M152 5V91" stroke-width="1.2"/><path d="M188 5C172 30 172 66 190 91" stroke-width="1.6"/>
<path d="M152 12H182M152 30H175M152 48H174M152 66H177M152 84H184" stroke-dasharray="2 1.5"/>
<path d="M112 98H136M130 96l6 2-6 2"/><circle cx="26" cy="84" r="2.2" fill="#111"/><path d="M26 84H40M37 82.5l3 1.5-3 1.5M26 84V70M24.5 73l1.5-3 1.5 3" stroke-width="1.4"/>
<g fill="#111" stroke="none"><text x="18" y="94">0</text><text x="97" y="101">bow</text><text x="29" y="43">A aft</text><text x="95" y="43">B fwd</text><text x="59" y="50">damage</text>
<text x="0" y="87">row 1</text><text x="0" y="69">row 2</text><text x="0" y="51">row 3</text>
<g font-size="5"><text x="28" y="81">1</text><text x="50" y="81">2</text><text x="72" y="81">3</text><text x="94" y="81">4</text></g><text x="46" y="102">spacing_along</text>
<text transform="translate(133 79) rotate(-90)">spacing_across</text><text x="141" y="99">net</text><text x="180" y="99">hull</text><text x="158" y="10">offsets</text></g>
</svg>
<p>Strings in one plane, rows along the bow direction. Each figure: from where two cross, square to the plane, to the hull. The dot is 0
of [x, y], x to your right, y up; figures go from aft, rows from below. Drawn for starboard from outside, port from inside; for the others the bow is to the left: A and B change places.</p>
)html";

constexpr const char* corner_picture = R"html(<h2>As you face the bend, and from its end</h2>
<svg style="height: 48mm" viewBox="0 0 200 107" font-family="Helvetica, Arial, 'DejaVu Sans', sans-serif" font-size="6" fill="none" stroke="#111" stroke-width=".6">
<path d="M10 12H126V92H10z" stroke-width="1.2"/><path d="M10 44H126M10 62H126" stroke-dasharray="4 3"/><path d="M10 53H126" stroke-dasharray="6 2 1 2"/>
<path d="M14 41H60M14 65H60M120 15V41M120 65V89" stroke-width="2"/>
<ellipse cx="76" cy="53" rx="15" ry="20" stroke-dasharray="1.5 1.5" fill="#fff" fill-opacity=".6"/>
<path d="M64 49H89V57H64z" fill="#fff" stroke="none"/><circle cx="40" cy="53" r="3" fill="#fff"/><circle cx="108" cy="53" r="3" fill="#fff"/>
<path d="M10 98H126M12 96.5l-2 1.5 2 1.5M124 96.5l2 1.5-2 1.5"/>
<path d="M138 22H156A12 12 0 0 1 168 34V52M138 94H156A12 12 0 0 0 168 82V64" stroke-width="1.6"/>
<path d="M156 22H178M168 34V14M156 94H178M168 82V102" stroke-dasharray="2 1.5"/>
<path d="M156 34L164.5 25.5M161 26.3l3.5-.8-.8 3.5M156 82L164.5 90.5M161 89.7l3.5 .8-.8-3.5"/>
<path d="M175 22A7 7 0 0 1 168 29M168 87A7 7 0 0 1 175 94"/>
<g fill="#111" stroke="none"><text x="31" y="50">A</text><text x="111" y="51">B</text><text x="65" y="55">damage</text>
<text x="13" y="36">gaps_along [2]</text><text x="13" y="74">gaps_along [1]</text><text x="74" y="22">gaps_across</text><text x="74" y="29">[2]</text><text x="74" y="79">gaps_across</text><text x="74" y="86">[1]</text>
<text x="60" y="103.5">length</text><text x="138" y="18">flats [2]</text><text x="171" y="51">flats [1]</text><text x="139" y="40">radius</text>
<text x="174" y="30">angle</text><text x="179" y="17">you</text><text x="139" y="51">bulges</text>
<text x="138" y="101">flats [1]</text><text x="171" y="71">flats [2]</text><text x="139" y="82">radius</text>
<text x="174" y="89">angle</text><text x="148" y="73">you</text><text x="183" y="101">hollow</text></g>
</svg>
<p>Dashed: where the bend ends; between, its middle, with A and B. <code>radius</code>: of a round thing that fits, or the tape round the bend by
its turn (90&deg;: by 1.57). <code>angle</code>: 180 less what a bevel shows between the flats. Tape lies on the hull, pressed into a hollow.</p>
)html";

constexpr const char* sections_picture = R"html(<h2>From the side, and from ahead</h2>
<svg style="height: 48mm" viewBox="0 0 200 104" font-family="Helvetica, Arial, 'DejaVu Sans', sans-serif" font-size="6" fill="none" stroke="#111" stroke-width=".6">
<path d="M10 14H124L112 78Q110 86 100 86H10" stroke-width="1.6"/><path d="M16 30H120M16 46H117M16 62H114M30 10V90M56 10V90M82 10V90M100 10V90"/>
<ellipse cx="70" cy="47" rx="16" ry="11" stroke-dasharray="1.5 1.5" fill="#fff" fill-opacity=".6"/>
<circle cx="43" cy="47" r="3" fill="#fff"/><circle cx="93" cy="47" r="3" fill="#fff"/>
<path d="M146 8V92" stroke-dasharray="6 2 1 2"/><path d="M190 8C189 50 176 84 146 86" stroke-width="1.6"/>
<path d="M146 30H188M146 46H185M146 62H177" stroke-dasharray="2 1.5"/>
<g fill="#111" stroke="none"><text x="36" y="41">A</text><text x="95" y="41">B</text><text x="59" y="49">damage</text>
<text x="8" y="98">stations: x from aft to the bow</text><text transform="translate(141 78) rotate(-90)">waterlines: z</text>
<text x="118" y="100">centreline</text><text x="152" y="100">half_breadths: y</text></g>
</svg>
<p>The usual table of offsets, near the damage: at each station and waterline the half-breadth, from the centreline out to the face
that you measure.</p>
)html";

constexpr const char* who_faces = R"html(<h2>1 How you face it</h2>
<table><tr><td>The bow is to my</td><td>&#9633; right: <code>bow = [1, 0, 0]</code></td></tr>
<tr><td></td><td>&#9633; left: <code>bow = [-1, 0, 0]</code></td></tr>
<tr><td>Always</td><td><code>up = [0, 1, 0]</code></td></tr>
<tr><td>I stand</td><td>&#9633; outside<br>&#9633; inside: <code>surface = "inside"</code></td></tr>
)html";

constexpr const char* who_bends = R"html(<h2>1 How you face it</h2>
<table><tr><td>The bow is</td><td>&#9633; to my right: <code>bow = [1, 0, 0]</code><br>&#9633; to my left: <code>bow = [-1, 0, 0]</code></td></tr>
<tr><td></td><td>&#9633; ahead: <code>bow = [0, 0, -1]</code><br>&#9633; behind: <code>bow = [0, 0, 1]</code></td></tr>
<tr><td>Always</td><td><code>up = [0, 1, 0]</code></td></tr>
<tr><td>The bend runs</td><td>&#9633; level<br>&#9633; up: <code>runs = "upright"</code></td></tr>
<tr><td>I stand</td><td>&#9633; outside<br>&#9633; inside: <code>surface = "inside"</code></td></tr>
)html";

constexpr const char* who_lofts = R"html(<h2>1 How it lies</h2>
<table><tr><td>Always</td><td><code>bow = [1, 0, 0]</code></td></tr><tr><td></td><td><code>up = [0, 0, 1]</code></td></tr>
<tr><td>The damage is to</td><td>&#9633; port<br>&#9633; starboard: <code>side = "starboard"</code></td></tr>
<tr><td>Measured to</td><td>&#9633; outside<br>&#9633; inside: <code>surface = "inside"</code></td></tr>
)html";

constexpr const char* laid_from =
    R"html(<tr><td>Glass is laid from</td><td>&#9633; outside<br>&#9633; inside: <code>side = "inside"</code></td></tr>
<tr><td>Thickness, <code>skin</code></td><td class="box"></td></tr></table>
)html";

constexpr const char* batten_marks = R"html(<h2>2 Marks, outside all that will be ground</h2>
<p>A aft and B forward of the middle of the damage, equally far from it, on the line of the batten along the bow; C, if you like, below
it. Tape lies on the hull.</p>
<table><tr><td>B from A, <code>[marks.B]</code> <code>A =</code></td><td class="box"></td><td></td></tr>
<tr><td>C from A, <code>[marks.C]</code> <code>A =</code></td><td class="box"></td><td>from B, <code>B =</code></td><td class="box"></td></tr>
<tr><td>C lies, <code>side =</code></td><td colspan="3">&#9633; <code>"down"</code> &ensp; &#9633; <code>"up"</code></td></tr></table>
)html";

constexpr const char* grid_marks = R"html(<h2>2 Marks, outside all that will be ground</h2>
<p>A aft and B forward of the middle of the net, equally far from it, behind its middle row and within its edge. Tape lies on the
hull.</p>
<table><tr><td><code>[marks.A]</code> (no figure) &ensp; B from A, <code>[marks.B]</code> <code>A =</code></td><td class="box"></td></tr></table>
)html";

constexpr const char* corner_marks = R"html(<h2>2 Marks, outside all that will be ground</h2>
<p>On the middle of the bend, equally far from that of the damage: A aft and B forward; where it runs up below and above, and <code>side</code> is "forward" or "aft".</p>
<table><tr><td><code>[marks.A]</code> (no figure) &ensp; B from A, <code>[marks.B]</code> <code>A =</code></td><td class="box"></td></tr></table>
)html";

constexpr const char* sections_marks = R"html(<h2>2 Marks, outside all that will be ground</h2>
<p>By station, half-breadth (starboard with a minus) and height. Tape lies on the hull.</p>
<table><tr><td><code>[marks.A]</code> <code>at</code></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td><code>[marks.B]</code> <code>at</code></td><td class="box"></td><td class="box"></td><td class="box"></td></tr></table>
)html";

constexpr const char* batten_figures =
    R"html(<h2>3 Straight batten, its middle over the middle of the damage (a packing bridges the hole) <code>[hull.measured]</code></h2>
<p>Where the hull bulges it rocks: hold it so that both ends gap alike and write that gap. Where the hull is hollow it rests on its
ends: write the gap under its middle with a minus. [1] is below and aft, [2] above and forward.</p>
<table><tr><td>length, <code>batten</code></td><td class="box"></td><td>along, <code>gap_along</code></td><td class="box"></td><td>below, <code>gap_along_ends</code> [1]</td><td class="box"></td><td>above, [2]</td><td class="box"></td></tr>
<tr><td></td><td></td><td>across, <code>gap_across</code></td><td class="box"></td><td>aft, <code>gap_across_ends</code> [1]</td><td class="box"></td><td>forward, [2]</td><td class="box"></td></tr></table>
)html";

std::string with(std::string text, const std::string& word, const std::string& instead) {
    return text.replace(text.find(word), word.size(), instead);
}

/// The head with its paper and what figures are written in.
std::string head_in(Units units) {
    const bool us = units == Units::us;
    const std::string paper = with(head, "PAPER", us ? "letter" : "A4");
    return with(paper, "UNITS",
                us ? "Everything in inches, to 1/32 where you can, typed with its unit "
                     "(<code>\"9 5/16 in\"</code>, with <code>display_units = \"us\"</code>)"
                   : "Everything in mm, to half a millimetre where you can");
}

std::string boxes(int count) {
    std::string out;
    for (int i = 0; i < count; ++i) out += "<td class=\"box\"></td>";
    return out;
}

std::string fill_row(const std::string& name, int count) {
    return "<tr><td>" + name + "</td>" + boxes(count) + "</tr>\n";
}

std::string numbers(const std::string& name, int count) {
    std::string out = "<tr><th>" + name + "</th>";
    for (int i = 1; i <= count; ++i) out += "<th>" + std::to_string(i) + "</th>";
    return out + "</tr>\n";
}

constexpr int net_lines = 9;  ///< rows and figures a row that there is room for

std::string grid_figures() {
    std::string out =
        "<h2>3 String net <code>[hull.grid]</code></h2>\n<table><tr><td>between figures, "
        "<code>spacing_along</code></td><td class=\"box\"></td><td>between rows, "
        "<code>spacing_across</code></td><td class=\"box\"></td>"
        "<td>lowest row first, each from aft</td></tr></table>\n<table class=\"fill net\">\n" +
        numbers("<code>offsets</code>", net_lines);
    for (int i = 1; i <= net_lines; ++i)
        out += fill_row("row " + std::to_string(i) + (i == 1 ? ", lowest" : ""), net_lines);
    return out +
           "</table>\n<p>Three by three or more, one row and one figure beyond all that will be "
           "ground; "
           "larger nets go on overleaf.</p>\n";
}

std::string corner_figures() {
    constexpr int points = 10;
    return R"html(<h2>3 Corner or fillet <code>[hull.corner]</code></h2>
<p>[1] is the flat below the bend, [2] the one above; of an upright bend aft and forward. Gaps as under a straight batten elsewhere: both
ends alike where it rocks, with a minus under its middle where it rests on its ends; 0 where the flat is flat.</p>
<table><tr><td><code>radius</code></td><td class="box"></td><td><code>angle</code> &deg;</td><td class="box"></td><td>bulges: &#9633; <code>convex = true</code> &ensp; hollow: &#9633; <code>convex = false</code></td><td><code>length</code></td><td class="box"></td></tr></table>
<table><tr><td><code>flats</code> [1]</td><td class="box"></td><td>[2]</td><td class="box"></td><td></td><td></td></tr>
<tr><td>along, <code>batten</code></td><td class="box"></td><td><code>gaps_along</code> [1]</td><td class="box"></td><td>[2]</td><td class="box"></td></tr>
<tr><td>square to it, <code>batten_across</code></td><td class="box"></td><td><code>gaps_across</code> [1]</td><td class="box"></td><td>[2]</td><td class="box"></td></tr></table>
<p>Or, for radius, angle and convex, its section by a contour gauge, <code>profile = [[u, v], ...]</code>, from below or aft: u across, 0 on the line of A and B;
v out towards you.</p>
<table class="fill net">
)html" + numbers("point", points) +
           fill_row("across, u", points) + fill_row("out, v", points) + "</table>\n";
}

std::string sections_figures() {
    constexpr int lines = net_lines - 1;
    std::string out =
        "<h2>3 Table of offsets <code>[hull.sections]</code></h2>\n"
        "<p><code>stations</code> from aft, <code>waterlines</code> from below, "
        "<code>half_breadths</code> in the other boxes, a row for each station.</p>\n<table "
        "class=\"fill net\">\n<tr><td></td><td><code>stations</code></td>";
    for (int i = 1; i <= lines; ++i) out += "<th>" + std::to_string(i) + "</th>";
    out += "</tr>\n<tr><td><code>waterlines</code></td><td></td>" + boxes(lines) + "</tr>\n";
    for (int i = 1; i <= lines; ++i)
        out += fill_row("row " + std::to_string(i) + (i == 1 ? ", aft" : ""), lines + 1);
    return out +
           "</table>\n<p>Three by three or more, one of each beyond all that will be ground; "
           "larger "
           "tables go on overleaf.</p>\n";
}

std::string outline_rows() {
    constexpr int points = 10;
    return "<h2>4 Edge of the damage, in order round it, by tape <code>outline = [{A = , B = , "
           "side = \"\"}, ...]</code></h2>\n<p><code>side</code>: <code>\"up\"</code> above the "
           "line from A to B, <code>\"down\"</code> below it.</p>\n<table class=\"fill\">\n" +
           numbers("point", points) + fill_row("from A, <code>A</code>", points) +
           fill_row("from B, <code>B</code>", points) +
           fill_row("up/down, <code>side</code>", points) + "</table>\n";
}

constexpr const char* job_figures = R"html(<h2>5 Job</h2>
<table><tr><td><code>depth</code> to grind</td><td class="box"></td><td><code>ratio</code> of the scarf</td><td class="box"></td><td><code>temperature</code> &deg;C</td><td class="box"></td><td><code>hardener_percent</code></td><td class="box"></td></tr>
<tr><td>cloth <code>fill</code></td><td class="box" colspan="3"></td><td><code>cover</code></td><td class="box" colspan="3"></td></tr></table>
<h2>6 After grinding <code>[[damage.sounding]]</code> &emsp; 7 Half way: the same again on the cured work</h2>
<p>Five or more, the deepest place among them. Gauge square under the middle of a straightedge that rests on the old surface on both sides, in a hollow on its two ends:
<code>from = "straightedge"</code>, <code>length</code> <span class="line" style="width: 16mm"></span> <code>direction</code>
&#9633; <code>"along"</code> &#9633; <code>"across"</code>. The outline goes <code>round</code> the &#9633; <code>"floor"</code> &#9633; <code>"ground area"</code>. Last ply laid at 7: <code>after</code> <span class="line" style="width: 12mm"></span></p>
)html";

std::string sounding_rows() {
    constexpr int soundings = 10;
    return "<table class=\"fill\">\n" + numbers("sounding", soundings) +
           fill_row("from A, <code>A</code>", soundings) +
           fill_row("from B, <code>B</code>", soundings) +
           fill_row("up/down, <code>side</code>", soundings) +
           fill_row("6 <code>depth</code>", soundings) +
           fill_row("7 <code>depth</code>", soundings) + "</table>\n</body></html>\n";
}

/// Lower boxes, for the sheets whose table of figures takes much of the page.
constexpr const char* low_boxes =
    "<style>@page { margin: 8mm 10mm } body { line-height: 1.18 } td { padding: 0 1mm } td.box { "
    "height: 5.4mm } h2 { margin-top: 1.8mm; padding-top: .6mm } .net td.box { height: 5.2mm } "
    ".net th:first-child, .net td:first-child { width: 24mm }</style>\n";

/// Letter is 18 mm shorter than A4.
constexpr const char* letter_boxes =
    "<style>@page { margin: 7mm 10mm } body { line-height: 1.14 } td { padding: 0 1mm } td.box { "
    "height: 5mm } h2 { margin-top: 1.3mm; padding-top: .4mm } .net td.box { height: 4.8mm } "
    "svg { max-height: 46mm }</style>\n";

/// What differs from one way of measuring to the other.
struct SheetParts {
    const char *picture, *faces, *marks;
    std::string figures;
};

SheetParts parts_of(MeasuredBy by) {
    switch (by) {
        case MeasuredBy::batten:
            return {batten_picture, who_faces, batten_marks, batten_figures};
        case MeasuredBy::grid:
            return {grid_picture, who_faces, grid_marks, grid_figures()};
        case MeasuredBy::corner:
            return {corner_picture, who_bends, corner_marks, corner_figures()};
        case MeasuredBy::sections:
            return {sections_picture, who_lofts, sections_marks, sections_figures()};
    }
    throw std::logic_error("measuring_sheet: no such way");
}

}  // namespace

std::string measuring_sheet(MeasuredBy by, Units units) {
    const SheetParts parts = parts_of(by);
    return head_in(units) + std::string(by == MeasuredBy::batten ? "" : low_boxes) +
           std::string(units == Units::us ? letter_boxes : "") + "<div class=\"two\"><div>\n" +
           parts.picture + "</div><div>\n" + parts.faces + laid_from + parts.marks +
           "</div></div>\n" + parts.figures + outline_rows() + job_figures + sounding_rows();
}

}  // namespace tearline::job

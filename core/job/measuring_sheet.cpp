#include "core/job/measuring_sheet.h"

namespace tearline::job {

std::string_view measuring_sheet() {
    return R"html(<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Measuring sheet</title>
<style>
@page { size: A4; margin: 10mm }
body { font: 9pt/1.25 Helvetica, Arial, "DejaVu Sans", sans-serif; margin: 0 auto; max-width: 189mm; color: #111 }
h1 { font-size: 14pt; margin: 0 0 1mm } h2 { font-size: 10.5pt; margin: 2.4mm 0 .5mm; border-top: .3mm solid #111; padding-top: .8mm }
p { margin: .6mm 0 } .two { display: flex; gap: 4mm } .two > div { flex: 1; min-width: 0 }
table { border-collapse: collapse; width: 100% } td { padding: .3mm 1mm; vertical-align: middle; white-space: nowrap }
td.box { border: .3mm solid #111; height: 6mm; width: 15mm }
.fill td:first-child { width: 18mm } .fill td.box { width: auto } .fill { table-layout: fixed }
code { font: 8.5pt "DejaVu Sans Mono", monospace } th { font-size: 8pt; font-weight: normal; text-align: left; padding: 0 1mm }
svg { width: 92mm; height: 56mm } .line { border-bottom: .3mm solid #111; display: inline-block }
</style></head><body>
<h1>Measuring sheet: a hull without a model</h1>
<p>Everything in mm, to half a millimetre where you can, in the order of the numbers: 1 to 5 before you grind, 6 and 7 later. Each
box carries the name that its figure has in the job file; <code>tearline new</code> writes one with all of them to fill in.</p>
<p><code>title</code>: boat, place <span class="line" style="width: 92mm"></span> date <span class="line" style="width: 30mm"></span></p>
<div class="two"><div>
<h2>As you face the hull</h2>
<svg viewBox="0 0 200 122" font-family="Helvetica, Arial, 'DejaVu Sans', sans-serif" font-size="6" fill="none" stroke="#111" stroke-width=".7">
<path d="M14 55H128M71 6V104" stroke-width="2"/><path d="M22 20H128M22 90H128M32 6V104M110 6V104" stroke-dasharray="4 3"/>
<ellipse cx="71" cy="55" rx="24" ry="17" stroke-dasharray="1.5 1.5" fill="#fff" fill-opacity=".6"/>
<circle cx="14" cy="55" r="3" fill="#fff"/><circle cx="122" cy="55" r="3" fill="#fff"/><circle cx="71" cy="100" r="3" fill="#fff"/>
<g fill="#111" stroke="none"><text x="5" y="49">A aft</text><text x="114" y="49">B fwd</text><text x="76" y="102">C</text>
<text x="50" y="51">damage</text><text x="131" y="22">gap_along_ends [2]</text><text x="131" y="57">gap_along</text>
<text x="131" y="92">gap_along_ends [1]</text><g text-anchor="middle"><text x="32" y="111">gap_across_ends [1]</text>
<text x="71" y="119">gap_across</text><text x="110" y="111">gap_across_ends [2]</text></g></g>
</svg>
<p>Thick: batten through the middle. Dashed: the batten again, half its length from the middle. Bow to the left: A, B and the [1], [2]
of <code>gap_across_ends</code> change places.</p>
</div><div>
<h2>1 How you face it</h2>
<table><tr><td>The bow is to my</td><td>&#9633; right: <code>bow = [1, 0, 0]</code></td></tr>
<tr><td></td><td>&#9633; left: <code>bow = [-1, 0, 0]</code></td></tr>
<tr><td>Always</td><td><code>up = [0, 1, 0]</code></td></tr>
<tr><td>I stand</td><td>&#9633; outside<br>&#9633; inside: <code>surface = "inside"</code></td></tr>
<tr><td>Glass is laid from</td><td>&#9633; outside<br>&#9633; inside: <code>side = "inside"</code></td></tr>
<tr><td>Thickness, <code>skin</code></td><td class="box"></td></tr></table>
<h2>2 Marks, outside all that will be ground</h2>
<p>A aft and B forward of the middle of the damage, equally far from it, on the line of the batten along the bow; C, if you like, below
it. Tape lies on the hull.</p>
<table><tr><td><code>[marks.B]</code> &ensp; <code>A =</code></td><td class="box"></td><td></td></tr>
<tr><td><code>[marks.C]</code> &ensp; <code>A =</code></td><td class="box"></td><td><code>B =</code></td><td class="box"></td></tr>
<tr><td>&emsp; &emsp; &emsp; <code>side =</code></td><td colspan="3">&#9633; <code>"down"</code> &ensp; &#9633; <code>"up"</code></td></tr></table>
</div></div>
<h2>3 Straight batten, its middle over the middle of the damage (a packing bridges the hole) <code>[hull.measured]</code></h2>
<p>Where the hull bulges it rocks: hold it so that both ends gap alike and write that gap. Where the hull is hollow it rests on its
ends: write the gap under its middle with a minus. [1] is below and aft, [2] above and forward.</p>
<table><tr><td><code>batten</code></td><td class="box"></td><td><code>gap_along</code></td><td class="box"></td><td><code>gap_along_ends</code> [1]</td><td class="box"></td><td>[2]</td><td class="box"></td></tr>
<tr><td></td><td></td><td><code>gap_across</code></td><td class="box"></td><td><code>gap_across_ends</code> [1]</td><td class="box"></td><td>[2]</td><td class="box"></td></tr></table>
<h2>4 Edge of the damage, in order round it, by tape <code>outline = [{A = , B = , side = ""}, ...]</code></h2>
<p><code>side</code>: <code>"up"</code> above the line from A to B, <code>"down"</code> below it.</p>
<table class="fill">
<tr><th>point</th><th>1</th><th>2</th><th>3</th><th>4</th><th>5</th><th>6</th><th>7</th><th>8</th><th>9</th><th>10</th></tr>
<tr><td><code>A</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td><code>B</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td><code>side</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
</table>
<h2>5 Job</h2>
<table><tr><td><code>depth</code> to grind</td><td class="box"></td><td><code>ratio</code> of the scarf</td><td class="box"></td><td><code>temperature</code> &deg;C</td><td class="box"></td><td><code>hardener_percent</code></td><td class="box"></td></tr>
<tr><td>cloth <code>fill</code></td><td class="box" colspan="3"></td><td><code>cover</code></td><td class="box" colspan="3"></td></tr></table>
<h2>6 After grinding <code>[[damage.sounding]]</code> &emsp; 7 Half way: the same again on the cured work</h2>
<p>Five or more, the deepest place among them. Gauge square under a straightedge that rests on the old surface on both sides:
<code>from = "straightedge"</code>, <code>length</code> <span class="line" style="width: 16mm"></span> <code>direction</code>
&#9633; <code>"along"</code> &#9633; <code>"across"</code>. The outline goes <code>round</code> the &#9633; <code>"floor"</code> &#9633; <code>"ground area"</code>. Last ply laid at 7: <code>after</code> <span class="line" style="width: 12mm"></span></p>
<table class="fill">
<tr><th>sounding</th><th>1</th><th>2</th><th>3</th><th>4</th><th>5</th><th>6</th><th>7</th><th>8</th><th>9</th><th>10</th></tr>
<tr><td><code>A</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td><code>B</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td><code>side</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td>6 <code>depth</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td>7 <code>depth</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
</table>
</body></html>
)html";
}

}  // namespace tearline::job

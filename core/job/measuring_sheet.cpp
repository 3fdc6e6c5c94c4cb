#include "core/job/measuring_sheet.h"

namespace tearline::job {

std::string_view measuring_sheet() {
    return R"html(<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Measuring sheet</title>
<style>
@page { size: A4; margin: 10mm }
body { font: 9.5pt/1.25 sans-serif; margin: 0 auto; max-width: 190mm; color: #111 }
h1 { font-size: 14pt; margin: 0 0 1mm } h2 { font-size: 10.5pt; margin: 2.2mm 0 .6mm }
p { margin: .6mm 0 } .two { display: flex; gap: 5mm } .two > div { flex: 1 }
table { border-collapse: collapse; width: 100% } td { padding: .4mm 1mm; vertical-align: middle }
td.box, th.box { border: .3mm solid #111; height: 5.4mm; min-width: 15mm }
code { font: 8.5pt monospace } th { font-size: 8.5pt; font-weight: normal; text-align: left }
svg { width: 86mm; height: 55mm }
</style></head><body>
<h1>Measuring sheet: a hull without a model</h1>
<p>Everything in mm, to half a millimetre where you can. Take it in this order, before you grind; boxes 6 and 7 come
later. Each box carries the name that it has in the job file (<code>tearline new</code> writes one).
Boat <u>&emsp;&emsp;&emsp;&emsp;&emsp;&emsp;&emsp;&emsp;</u> Place <u>&emsp;&emsp;&emsp;&emsp;&emsp;&emsp;&emsp;</u>
Date <u>&emsp;&emsp;&emsp;&emsp;</u></p>
<div class="two"><div>
<svg viewBox="0 0 172 110" font-family="sans-serif" font-size="6" fill="none" stroke="#111" stroke-width=".7">
<path d="M10 55H162M86 5V105" stroke-width="2"/><path d="M10 20H162M10 90H162M26 5V105M146 5V105" stroke-dasharray="4 3"/>
<ellipse cx="86" cy="55" rx="26" ry="17" stroke-dasharray="1.5 1.5"/>
<circle cx="16" cy="55" r="3" fill="#fff"/><circle cx="156" cy="55" r="3" fill="#fff"/><circle cx="86" cy="98" r="3" fill="#fff"/>
<g fill="#111" stroke="none"><text x="5" y="50">A</text><text x="160" y="50">B</text><text x="91" y="103">C</text>
<text x="66" y="52">damage</text><text x="29" y="53">gap_along</text><text x="89" y="16">gap_across</text>
<text x="29" y="18">gap_along_ends [2]</text><text x="29" y="88">gap_along_ends [1]</text>
<text transform="translate(23 108) rotate(-90)">gap_across_ends [1]</text><text transform="translate(152 66) rotate(-90)">gap_across_ends [2]</text></g>
</svg>
</div><div>
<h2>1 How you face it</h2>
<table><tr><td>The bow is to my</td><td>&#9633; right: <code>bow = [1, 0, 0]</code></td></tr>
<tr><td></td><td>&#9633; left: <code>bow = [-1, 0, 0]</code></td></tr>
<tr><td>Up is up</td><td><code>up = [0, 1, 0]</code></td></tr>
<tr><td>Skin, at an opening or bored: <code>skin</code></td><td class="box"></td></tr>
<tr><td>I stand</td><td>&#9633; outside &emsp; &#9633; inside: <code>surface = "inside"</code></td></tr></table>
<h2>2 Marks, outside everything that will be ground</h2>
<p>Middle of the damage = middle of both battens. A aft and B forward on the line of the batten along the bow, equally far from the middle. Tape lies on the hull.</p>
<table><tr><td><code>[marks.B] A =</code></td><td class="box"></td><td><code>[marks.C] A =</code></td><td class="box"></td></tr>
<tr><td><code>C: side =</code> up / down</td><td></td><td><code>B =</code></td><td class="box"></td></tr></table>
</div></div>
<h2>3 Batten: straight, with its middle over the middle of the damage (bridge the hole with packing to the old surface)</h2>
<p>Where the hull bulges it rocks: hold it so that both ends gap alike and write that gap. Where the hull is hollow it rests on its
ends: write the gap under its middle with a minus. [1] is below and aft, [2] above and forward, half a batten from the middle.</p>
<table><tr><td><code>batten</code></td><td class="box"></td><td><code>gap_along</code></td><td class="box"></td><td><code>gap_across</code></td><td class="box"></td></tr>
<tr><td><code>gap_along_ends</code> [1]</td><td class="box"></td><td>[2]</td><td class="box"></td><td></td><td></td></tr>
<tr><td><code>gap_across_ends</code> [1]</td><td class="box"></td><td>[2]</td><td class="box"></td><td></td><td></td></tr></table>
<h2>4 Outline of the damage, in order round it, by tape from A and B: <code>outline = [{A = , B = , side = ""}, ...]</code></h2>
<table><tr><th>point</th><th>1</th><th>2</th><th>3</th><th>4</th><th>5</th><th>6</th><th>7</th><th>8</th></tr>
<tr><td><code>A</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td><code>B</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td><code>side</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr></table>
<h2>5 Job</h2>
<table><tr><td><code>depth</code> to grind</td><td class="box"></td><td>shop <code>temperature</code></td><td class="box"></td><td><code>hardener_percent</code></td><td class="box"></td></tr></table>
<h2>6 After grinding: <code>[[damage.sounding]]</code>, five or more, the deepest place among them &emsp; 7 Half way: the same again on the cured work, <code>after</code> = last ply laid</h2>
<p>Gauge square under a straightedge that reaches over the ground area: <code>from = "straightedge"</code>, <code>length</code>
<u>&emsp;&emsp;&emsp;</u> <code>direction</code> along / across</p>
<table><tr><th>sounding</th><th>1</th><th>2</th><th>3</th><th>4</th><th>5</th><th>6</th><th>7</th><th>8</th><th>9</th><th>10</th></tr>
<tr><td><code>at A</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td><code>at B</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td><code>at side</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td><code>depth</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr>
<tr><td>7 <code>depth</code></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td><td class="box"></td></tr></table>
</body></html>
)html";
}

}  // namespace tearline::job

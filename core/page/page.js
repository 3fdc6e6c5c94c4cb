"use strict";
// A page of tearline look: the hull in 3D, points picked on it, the layers of a plan.
(function () {
const $ = id => document.getElementById(id);
const data = JSON.parse($("data").textContent);

// Numbers out of text.

function bytesOf(text) {
    const raw = atob(text), bytes = new Uint8Array(raw.length);
    for (let i = 0; i < raw.length; ++i) bytes[i] = raw.charCodeAt(i);
    return bytes;
}
const floatsOf = text => new Float32Array(bytesOf(text).buffer);
const wholesOf = text => new Int32Array(bytesOf(text).buffer);

const vec = a => new THREE.Vector3(a[0], a[1], a[2]);
const middle = vec(data.middle);           // all that is drawn is counted from it [mm]
const local = a => vec(a).sub(middle);
const six = x => String(Number(x.toPrecision(6)) || 0);    // as a job file wants it; no -0
/// A place or a direction; what is nothing beside the rest of it is 0.
const listed = p => {
    const all = [p.x, p.y, p.z], nothing = 1e-9 * Math.max(...all.map(Math.abs));
    return "[" + all.map(x => Math.abs(x) > nothing ? six(x) : "0").join(", ") + "]";
};
const told = p => [p.x, p.y, p.z].map(x => (Math.round(10 * x) / 10 || 0).toFixed(1)).join(", ");

function element(name, words, attributes) {
    const made = document.createElement(name);
    if (words) made.textContent = words;
    for (const key in attributes || {}) made.setAttribute(key, attributes[key]);
    return made;
}

// Surfaces.

/// Corners with normals of their own, smooth but where two triangles turn by over 30 degrees.
function creased(places, corners) {
    const count = corners.length / 3, least = Math.cos(Math.PI / 6);
    const face = new Float32Array(3 * count), size = new Float32Array(count);
    for (let t = 0; t < count; ++t) {
        const a = 3 * corners[3 * t], b = 3 * corners[3 * t + 1], c = 3 * corners[3 * t + 2];
        const ux = places[b] - places[a], uy = places[b + 1] - places[a + 1], uz = places[b + 2] - places[a + 2];
        const vx = places[c] - places[a], vy = places[c + 1] - places[a + 1], vz = places[c + 2] - places[a + 2];
        const x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx;
        const length = Math.hypot(x, y, z) || 1;
        face[3 * t] = x / length; face[3 * t + 1] = y / length; face[3 * t + 2] = z / length;
        size[t] = length;
    }
    const start = new Int32Array(places.length / 3 + 1);
    for (let i = 0; i < corners.length; ++i) ++start[corners[i] + 1];
    for (let v = 1; v < start.length; ++v) start[v] += start[v - 1];
    const fill = start.slice(), about = new Int32Array(corners.length);
    for (let i = 0; i < corners.length; ++i) about[fill[corners[i]]++] = (i / 3) | 0;
    const out = new Float32Array(3 * corners.length), normal = new Float32Array(3 * corners.length);
    for (let i = 0; i < corners.length; ++i) {
        const t = (i / 3) | 0, v = corners[i];
        const fx = face[3 * t], fy = face[3 * t + 1], fz = face[3 * t + 2];
        let x = 0, y = 0, z = 0;
        for (let k = start[v]; k < start[v + 1]; ++k) {
            const o = 3 * about[k];
            if (fx * face[o] + fy * face[o + 1] + fz * face[o + 2] < least) continue;
            const w = size[about[k]];
            x += w * face[o]; y += w * face[o + 1]; z += w * face[o + 2];
        }
        const length = Math.hypot(x, y, z) || 1;
        normal[3 * i] = x / length; normal[3 * i + 1] = y / length; normal[3 * i + 2] = z / length;
        for (let k = 0; k < 3; ++k) out[3 * i + k] = places[3 * v + k];
    }
    const made = new THREE.BufferGeometry();
    made.setAttribute("position", new THREE.BufferAttribute(out, 3));
    made.setAttribute("normal", new THREE.BufferAttribute(normal, 3));
    return made;
}

/// A colour for each triangle, by its level on a scale.
function setLevels(geometry, levels, colours) {
    const steps = colours.map(c => new THREE.Color(c));
    const out = new Float32Array(9 * levels.length);
    for (let t = 0; t < levels.length; ++t)
        for (let k = 0; k < 3; ++k) steps[levels[t]].toArray(out, 9 * t + 3 * k);
    geometry.setAttribute("color", new THREE.BufferAttribute(out, 3));
}

const shift = { value: new THREE.Vector2() };   // of a pixel, in the picture's own measure

/// What lies in or on the skin is seen through the hull's facets, which know nothing of the dish:
/// it is taken `mm` nearer to the eye, as far as hiding goes: a number, or { value } to change it by.
function nearer(material, mm, dx, dy) {
    material.onBeforeCompile = shader => {
        shader.uniforms.nearer = typeof mm === "number" ? { value: mm } : mm;
        shader.uniforms.shift = shift;
        shader.uniforms.off = { value: new THREE.Vector2(dx || 0, dy || 0) };
        shader.vertexShader = "uniform float nearer; uniform vec2 shift, off;\n" + shader.vertexShader.replace(
            "#include <project_vertex>",
            "#include <project_vertex>\ngl_Position.z += nearer * projectionMatrix[2][2];\ngl_Position.xy += off * shift;");
    };
    return material;
}

/// A closed line, some pixels wide: WebGL's own are one.
function line(places, colour, mm) {
    const geometry = new THREE.BufferGeometry();
    geometry.setAttribute("position", new THREE.BufferAttribute(places, 3));
    const group = new THREE.Group();
    for (const [dx, dy] of [[0, 0], [1, 0], [-1, 0], [0, 1], [0, -1]])
        group.add(new THREE.LineLoop(geometry, nearer(new THREE.LineBasicMaterial({ color: colour }), mm, dx, dy)));
    return group;
}

const ray = new THREE.Raycaster();

/// Where a line of sight first meets the triangles (Moeller and Trumbore).
function firstHit(places, corners, from, way) {
    let nearest = Infinity, which = -1;
    for (let i = 0; i < corners.length; i += 3) {
        const a = 3 * corners[i], b = 3 * corners[i + 1], c = 3 * corners[i + 2];
        const ax = places[a], ay = places[a + 1], az = places[a + 2];
        const ux = places[b] - ax, uy = places[b + 1] - ay, uz = places[b + 2] - az;
        const vx = places[c] - ax, vy = places[c + 1] - ay, vz = places[c + 2] - az;
        const px = way.y * vz - way.z * vy, py = way.z * vx - way.x * vz, pz = way.x * vy - way.y * vx;
        const det = ux * px + uy * py + uz * pz;
        if (det === 0) continue;
        const sx = from.x - ax, sy = from.y - ay, sz = from.z - az;
        const p = (sx * px + sy * py + sz * pz) / det;
        if (p < 0 || p > 1) continue;
        const qx = sy * uz - sz * uy, qy = sz * ux - sx * uz, qz = sx * uy - sy * ux;
        const q = (way.x * qx + way.y * qy + way.z * qz) / det;
        if (q < 0 || p + q > 1) continue;
        const far = (vx * qx + vy * qy + vz * qz) / det;
        if (far > 0 && far < nearest) { nearest = far; which = i; }
    }
    if (which < 0) return null;
    const [a, b, c] = [0, 1, 2].map(k => new THREE.Vector3().fromArray(places, 3 * corners[which + k]));
    const normal = b.sub(a).cross(c.sub(a)).normalize();
    if (normal.dot(way) > 0) normal.negate();
    return { at: way.clone().multiplyScalar(nearest).add(from), normal };
}

// The picture.

const canvas = $("canvas"), overlay = $("overlay");
let renderer;
try {
    renderer = new THREE.WebGLRenderer({ canvas, antialias: true, alpha: true });
} catch (error) {
    $("refusal").hidden = false;
    $("refusal").textContent = "This browser shows no 3D pictures (WebGL): allow it, or open the page in another.";
    document.body.dataset.ready = "no-webgl";
    return;
}
renderer.setClearColor(0x000000, 0);
renderer.debug.checkShaderErrors = false;   // asking for them waits for the graphics
const scene = new THREE.Scene(), camera = new THREE.OrthographicCamera(-1, 1, 1, -1, 0, 1);
const sun = new THREE.DirectionalLight(0xffffff, 0.42);
scene.add(new THREE.AmbientLight(0xffffff, 0.58), sun, sun.target);

const places = floatsOf(data.hull.places), corners = wholesOf(data.hull.corners);
let low = new THREE.Vector3(Infinity, Infinity, Infinity), high = low.clone().negate();
for (let i = 0; i < places.length; i += 3) {
    const p = new THREE.Vector3().fromArray(places, i);
    low.min(p); high.max(p);
}
const size = Math.max(high.distanceTo(low), 1), centre = low.clone().add(high).multiplyScalar(0.5);
let hull;
if (corners.length) {
    hull = new THREE.Mesh(creased(places, corners),
                          new THREE.MeshLambertMaterial({ color: 0xebeef0, side: THREE.DoubleSide }));
} else {
    const cloud = new THREE.BufferGeometry();
    cloud.setAttribute("position", new THREE.BufferAttribute(places, 3));
    hull = new THREE.Points(cloud, new THREE.PointsMaterial({ color: 0x2f7a9c, size: 2, sizeAttenuation: false }));
    scene.fog = new THREE.Fog(0xb9c6ce, 1, 2);   // farther is paler
}
scene.add(hull);

let bow = vec(data.bow || [1, 0, 0]).normalize(), up = vec(data.up || [0, 0, 1]).normalize();
/// Bow, starboard and up, square to one another.
function directions() {
    let starboard = bow.clone().cross(up);
    if (starboard.length() < 1e-6) starboard = new THREE.Vector3(bow.y, bow.z, bow.x).cross(bow);
    starboard.normalize();
    return { ahead: up.clone().cross(starboard).normalize(), starboard, up: up.clone() };
}

// The eye: turned about up, looking at `target`; `span` is what the shorter side of the view shows.
const eye = { turn: -0.9, lift: 0.4, target: centre.clone(), span: size };
let width = 1, height = 1, wanted = false;

function towardsEye() {
    const d = directions();
    return d.ahead.multiplyScalar(Math.cos(eye.lift) * Math.cos(eye.turn))
        .add(d.starboard.multiplyScalar(Math.cos(eye.lift) * Math.sin(eye.turn)))
        .add(d.up.multiplyScalar(Math.sin(eye.lift)));
}
const perPixel = () => eye.span / Math.min(width, height);   // mm

function setCamera() {
    const towards = towardsEye(), away = 2 * size;
    const w = 0.5 * perPixel() * width, h = 0.5 * perPixel() * height;
    camera.left = -w; camera.right = w; camera.top = h; camera.bottom = -h;
    camera.near = 0; camera.far = 2 * away + size;
    camera.position.copy(eye.target).addScaledVector(towards, away);
    camera.up.copy(up);
    camera.lookAt(eye.target);
    camera.updateMatrixWorld();
    camera.updateProjectionMatrix();
    const right = new THREE.Vector3().setFromMatrixColumn(camera.matrixWorld, 0);
    const top = new THREE.Vector3().setFromMatrixColumn(camera.matrixWorld, 1);
    // Light from above left and a little from the onlooker, as on the sheets.
    sun.position.copy(eye.target).add(towards.addScaledVector(top, 0.7).addScaledVector(right, -0.45).multiplyScalar(size));
    sun.target.position.copy(eye.target);
    sun.target.updateMatrixWorld();
    if (scene.fog) { scene.fog.near = away - 0.5 * size; scene.fog.far = away + 0.6 * size; }
    shift.value.set(1 / width, 1 / height);
    return { right, top };
}

/// Where a place is in the view [px], and whether its face is turned away.
function onScreen(at, normal) {
    const p = at.clone().project(camera);
    return { x: 0.5 * (p.x + 1) * width, y: 0.5 * (1 - p.y) * height,
             behind: Boolean(normal) && normal.dot(towardsEye()) < 0 };
}

function draw() {
    wanted = false;
    setCamera();
    facing();
    renderer.render(scene, camera);
    drawOverlay();
}
function ask() {
    if (!wanted) { wanted = true; requestAnimationFrame(draw); }
}
function resize() {
    const box = $("view").getBoundingClientRect();
    width = Math.max(1, Math.round(box.width)); height = Math.max(1, Math.round(box.height));
    renderer.setPixelRatio(Math.min(window.devicePixelRatio || 1, 2));
    renderer.setSize(width, height, false);
    ask();
}

// Views.

function lookFrom(towards, top) {
    const d = directions(), w = towards.clone().normalize();
    eye.lift = Math.asin(Math.max(-1, Math.min(1, w.dot(d.up))));
    const steepest = 0.4995 * Math.PI;
    if (Math.abs(eye.lift) > 1.5) {   // straight up or down: `top` tells what is at the top
        const t = (top || d.ahead).clone().multiplyScalar(eye.lift > 0 ? -1 : 1);
        eye.turn = Math.atan2(t.dot(d.starboard), t.dot(d.ahead));
        eye.lift = Math.sign(eye.lift) * steepest;
    } else {
        eye.turn = Math.atan2(w.dot(d.starboard), w.dot(d.ahead));
    }
}
/// As far off as all of the hull is seen.
function fitAll() {
    eye.target.copy(centre);
    const { right, top } = setCamera();
    let w = 0, h = 0;
    for (let i = 0; i < places.length; i += 3) {
        const p = new THREE.Vector3().fromArray(places, i).sub(centre);
        w = Math.max(w, Math.abs(p.dot(right))); h = Math.max(h, Math.abs(p.dot(top)));
    }
    eye.span = 2.3 * Math.max(w / width, h / height, 1e-6 * size) * Math.min(width, height);
}
function lookAtPlace() {
    if (!data.frame) return view("whole");
    lookFrom(vec(data.frame.towards), vec(data.frame.up));
    eye.target.copy(local(data.frame.middle));
    eye.span = 2.6 * Math.max(data.frame.reach, 20);
    ask();
}
function view(name) {
    const d = directions(), none = new THREE.Vector3();
    if (name === "place") return lookAtPlace();
    const ways = { port: d.starboard.clone().negate(), starboard: d.starboard, ahead: d.ahead, astern: d.ahead.clone().negate(),
                   above: d.up, below: d.up.clone().negate(),
                   whole: none.add(d.starboard).addScaledVector(d.ahead, 0.55).addScaledVector(d.up, 0.45) };
    if (name === "whole" && data.frame) {   // from the side that the repair is on
        const towards = vec(data.frame.towards);
        const side = towards.dot(d.starboard) < 0 ? -1 : 1, above = towards.dot(d.up) < -0.5 ? -0.55 : 0.45;
        ways.whole = d.starboard.clone().multiplyScalar(side).addScaledVector(d.ahead, 0.55).addScaledVector(d.up, above);
    }
    lookFrom(ways[name]);
    fitAll();
    ask();
}
for (const button of document.querySelectorAll("[data-view]"))
    button.addEventListener("click", () => view(button.dataset.view));
for (const button of document.querySelectorAll(".with-place")) button.hidden = !data.frame;

// Points.

const kinds = [
    { key: "outline", words: "Damage outline", colour: "#a3250b" },
    { key: "press", words: "Pressed down first", colour: "#6a3d9a", most: 1 },
    { key: "mark", words: "Marks", colour: "#185c86", most: 6 },
    { key: "tape", words: "Tapes", colour: "#7a4b00", scan: true },
    { key: "crease", words: "Creases", colour: "#12705a", scan: true },
    { key: "span", words: "A distance", colour: "#44525c", most: 2 }];
const picked = {};
for (const kind of kinds) picked[kind.key] = [];
let mode = kinds[0];
const lengths = [];   // of tapes, as typed

const names = "ABCDEF";
function nameOf(kind, index) {
    if (kind.key === "mark") return names[index];
    if (kind.key === "press") return "first";
    if (kind.key === "tape") return (Math.floor(index / 2) + 1) + (index % 2 ? "b" : "a");
    if (kind.key === "crease") {
        const point = picked.crease[index];
        return point.run + 1 + "." + (picked.crease.slice(0, index).filter(p => p.run === point.run).length + 1);
    }
    return String(index + 1);
}
let run = 0;   // the crease line that points go to

function set(hit) {
    const list = picked[mode.key];
    if (mode.key === "span" && list.length === 2) list.length = 0;
    if (mode.most === 1) list.length = 0;
    if (mode.most && list.length >= mode.most) return;
    hit.run = run;
    list.push(hit);
    changed();
}
// As a job file has it: a scan's own, before the scale of its tapes.
const real = point => point.at.clone().add(middle).divideScalar(data.tapes_scale);

/// Runs of points that belong to one line.
function runsOf(kind) {
    const list = picked[kind.key], runs = [];
    if (kind.key === "tape") for (let i = 0; i < list.length; i += 2) runs.push(list.slice(i, i + 2));
    else if (kind.key === "crease") for (const p of list) (runs[p.run] = runs[p.run] || []).push(p);
    else if (kind.key !== "mark" && kind.key !== "press") runs.push(list);
    return runs.filter(Boolean);
}

function showPoints() {
    const list = picked[mode.key], shown = $("points");
    shown.textContent = "";
    list.forEach((point, index) => {
        const item = element("li");
        item.append(element("span", nameOf(mode, index), { class: "name" }), element("span", told(real(point)), { class: "at" }));
        const before = list[index - 1];
        const joined = before && mode.key !== "mark" && mode.key !== "press" &&
            (mode.key !== "tape" || index % 2) && (mode.key !== "crease" || before.run === point.run);
        item.append(element("span", joined ? point.at.distanceTo(before.at).toFixed(1) + " mm on" : "", { class: "far" }));
        if (mode.key === "tape" && index % 2) {
            const input = element("input", "", { inputmode: "decimal", placeholder: "tape, mm", "aria-label": "What tape " +
                ((index + 1) / 2) + " reads, mm", autocomplete: "off" });
            input.value = lengths[(index - 1) / 2] || "";
            input.addEventListener("input", () => { lengths[(index - 1) / 2] = input.value; showLines(); });
            item.append(input);
        }
        const whole = mode.key === "tape" ? "tape " + (Math.floor(index / 2) + 1) : "point " + nameOf(mode, index);
        const out = element("button", "×", { type: "button", "aria-label": "Take out " + whole });
        out.addEventListener("click", () => {
            if (mode.key === "tape") {   // one end alone would be joined to another tape's, with that one's length
                const first = index - index % 2;
                list.splice(first, 2);
                lengths.splice(first / 2, 1);
            } else list.splice(index, 1);
            changed();
            $("back").focus();
        });
        item.append(out);
        shown.append(item);
    });
    let sum = "";
    if (mode.key === "outline" && list.length > 2) {
        let round = 0;
        list.forEach((p, i) => { round += p.at.distanceTo(list[(i + 1) % list.length].at); });
        sum = "Round it, point to point: " + round.toFixed(0) + " mm";
    } else if (mode.key === "span" && list.length === 2) {
        sum = "Straight distance: " + list[0].at.distanceTo(list[1].at).toFixed(1) + " mm";
    } else if (mode.key === "mark" && list.length === mode.most) {
        sum = mode.most + " at most: take one out to set another.";
    } else if (!list.length) {
        sum = data.tapes_scale === 1 ? "None yet. Coordinates are the model's own, in mm." :
            "None yet. Coordinates are the scan's own, in mm before its tapes' scale; distances are true.";
    }
    $("sum").textContent = sum;
    $("back").disabled = $("clear").disabled = !list.length;
    $("next-crease").hidden = mode.key !== "crease";
}

function takeBack() {
    const gone = picked[mode.key].pop();
    if (mode.key === "crease") run = gone.run;   // the next one goes on where it was
    if (mode.key === "tape") lengths.length = Math.min(lengths.length, Math.floor(picked.tape.length / 2));
    changed();
}
$("back").addEventListener("click", takeBack);
$("clear").addEventListener("click", () => {
    picked[mode.key].length = 0;
    if (mode.key === "tape") lengths.length = 0;
    if (mode.key === "crease") run = 0;
    changed();
});
$("next-crease").addEventListener("click", () => { if (picked.crease.some(p => p.run === run)) ++run; });
// What is only laid flat has no job file to pick points for.
const flatAlone = document.body.classList.contains("flat");
if (flatAlone) mode = kinds.find(kind => kind.key === "span");
for (const kind of kinds) {
    if ((kind.scan && !data.scan) || (flatAlone && kind.key !== "span")) continue;
    const label = element("label"), radio = element("input", "", { type: "radio", name: "mode", value: kind.key });
    radio.checked = kind === mode;
    radio.addEventListener("change", () => { mode = kind; showPoints(); ask(); });
    label.append(radio, kind.words);
    $("modes").append(label);
}
function changed() { showPoints(); showLines(); ask(); }

// Lines of the job file.

const number = text => {
    const value = Number(String(text).trim().replace(",", "."));
    return String(text).trim() && isFinite(value) ? value : null;
};
/// As a job file's text may be: what cannot be printed, and what turns the way of reading, is left out.
const printable = text => text.replace(/[\p{Cc}\p{Cs}\p{Cn}\u200e\u200f\u2028-\u202e\u2066-\u2069]/gu, "");
const quoted = text => JSON.stringify(text).replace(/\u007f/g, "\\u007f");
const points = (list, indent) => "[\n" + list.map(p => indent + "    " + listed(real(p)) + ",\n").join("") + indent + "]";

const axes = [["x", [1, 0, 0]], ["y", [0, 1, 0]], ["z", [0, 0, 1]]].flatMap(
    ([name, way]) => [["+" + name, way], ["-" + name, way.map(x => -x || 0)]]);
for (const [id, first] of [["bow", 0], ["up", 4]]) {
    axes.forEach(([name], i) => $(id).append(new Option(name, String(i), i === first, i === first)));
    $(id).addEventListener("change", () => {
        bow = vec(axes[$("bow").value][1]); up = vec(axes[$("up").value][1]);
        view("whole");
        showLines();
    });
}

function scanLines(missing) {
    let out = "";
    if (data.kind_of_scan === "photo" && !picked.tape.length)
        missing.push("a tape between two places, since photographs have no scale");
    for (const [index, tape] of runsOf({ key: "tape" }).entries()) {
        const length = number(lengths[index]);
        if (tape.length < 2) { missing.push("the other end of tape " + (index + 1)); continue; }
        if (!(length >= 20 && length <= 100000)) { missing.push("what tape " + (index + 1) + " reads, 20 mm to 100 m"); continue; }
        if (!(tape[0].at.distanceTo(tape[1].at) > 0)) { missing.push("two places for tape " + (index + 1)); continue; }
        out += "\n[[hull.scan.tape]]\nfrom = " + listed(real(tape[0])) + "\nto = " + listed(real(tape[1])) +
            "\nlength = \"" + six(length) + " mm\"\n";
    }
    for (const [index, crease] of runsOf({ key: "crease" }).entries()) {
        if (crease.length < 3) { missing.push("three points or more along crease " + (index + 1)); continue; }
        out += "\n[[hull.scan.crease]]\npoints = " + points(crease, "") + "\n";
    }
    return out;
}
function markLines(missing) {
    if (picked.mark.length === 1) missing.push("a second mark, since two or more tell a place");
    if (picked.mark.length < 2) return "";
    return picked.mark.map((p, i) => "\n[marks." + names[i] + "]\nat = " + listed(real(p)) + "\n").join("");
}
function outlineLines(missing) {
    if (picked.outline.length < 3) missing.push("three points or more round the damage");
    return picked.outline.length ? "outline = " + points(picked.outline, "") + "\n" : "";
}

/// A whole job file; what it lacks is named in `missing`.
function jobFile(missing) {
    const value = id => $(id).value;
    const depth = number(value("depth")), skin = number(value("skin"));
    if (Math.abs(bow.dot(up)) > 0.5) missing.push("bow and up that are not parallel");
    const scan = scanLines(missing), outline = outlineLines(missing);
    if (!(depth >= 0.1 && depth <= 250)) missing.push("the depth, 0.1 to 250 mm");
    if (value("skin").trim() && !(skin > 0 && skin <= 250)) missing.push("a thickness of the skin above 0, up to 250 mm, or none");
    if (value("side") === "inside" && !value("skin").trim()) missing.push("the thickness of the skin, to lay from inside");
    return "# Points picked on a page of tearline look. Keep it beside the model, then: tearline plan FILE -o DIR\n" +
        "tearline = 1\ntitle = " + quoted(printable(value("job-title")).trim()) + "\n\n[hull]\nmodel = " + quoted(data.model) + "\n" +
        (data.unit ? "unit = " + quoted(data.unit) + "\n" : "") +
        "bow = " + listed(bow) + "\nup = " + listed(up) + "\n" + (skin > 0 ? "skin = \"" + six(skin) + " mm\"\n" : "") +
        (data.scan ? "\n[hull.scan]\nkind = " + quoted(data.kind_of_scan) + "\n" : "") + scan +
        "\n[damage]\n" + outline + "depth = \"" + (depth > 0 ? six(depth) : "") + " mm\"\nside = " + quoted(value("side")) +
        "\n\n[layup]\nfill = " + quoted(value("fill")) + "\n" +
        (picked.press.length ? "press_first = " + listed(real(picked.press[0])) + "\n" : "") + markLines(missing);
}
/// What was picked, to paste under its tables.
function somePoints() {
    const missing = [];
    return (picked.outline.length ? "[damage]\n" + outlineLines(missing) + "\n" : "") +
        (picked.press.length ? "[layup]\npress_first = " + listed(real(picked.press[0])) + "\n" : "") +
        scanLines(missing) + markLines(missing);
}
function showLines() {
    const missing = [];
    $("lines").value = data.kind === "model" ? jobFile(missing) : somePoints() || "# Points that you set come here.\n";
    $("missing").textContent = missing.length ? "Still missing: " + missing.join("; ") + "." : "";
    $("save").disabled = missing.length > 0;
    $("done").textContent = "";
}
for (const id of ["job-title", "side", "skin", "depth", "fill"]) $(id).addEventListener("input", showLines);
$("copy").addEventListener("click", () => {
    const done = () => { $("done").textContent = "Copied."; };
    const byHand = () => { $("lines").select(); if (document.execCommand("copy")) done(); };
    if (navigator.clipboard) navigator.clipboard.writeText($("lines").value).then(done, byHand); else byHand();
});
$("save").addEventListener("click", () => {
    const link = element("a", "", { download: "job.toml" });
    link.href = URL.createObjectURL(new Blob([$("lines").value], { type: "application/toml" }));
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
    $("done").textContent = "Saved: put it beside the model.";
});

// What is written over the picture.

function svg(name, attributes, words) {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const key in attributes) made.setAttribute(key, attributes[key]);
    if (words) made.textContent = words;
    overlay.append(made);
    return made;
}
function tag(at, words, colour, faint) {
    const group = { opacity: faint ? 0.35 : 1 };
    svg("circle", { cx: at.x, cy: at.y, r: words.length > 2 ? 13 : 10, fill: colour, stroke: "#fff", "stroke-width": 2, ...group });
    svg("text", { x: at.x, y: at.y + 4.5, fill: "#fff", "text-anchor": "middle", ...group }, words);
}
/// A line that shows on the hull and beside it.
function stroke(d, ink) {
    svg("path", { d, fill: "none", class: "halo" });
    svg("path", { d, fill: "none", stroke: ink, "stroke-width": 2 });
}
function drawArrows() {
    const d = directions(), ink = getComputedStyle(document.body).color;
    const right = new THREE.Vector3().setFromMatrixColumn(camera.matrixWorld, 0);
    const top = new THREE.Vector3().setFromMatrixColumn(camera.matrixWorld, 1);
    const x = 92, y = height - 74;
    for (const [way, words] of [[d.ahead, "BOW"], [d.up, "UP"], [d.starboard, "STBD"]]) {
        const dx = way.dot(right), dy = -way.dot(top), length = Math.hypot(dx, dy);
        if (length < 0.2) continue;
        const tx = x + 40 * dx, ty = y + 40 * dy, ux = dx / length, uy = dy / length;
        const arrow = `M${x} ${y}L${tx} ${ty}M${tx - 8 * ux + 4 * uy} ${ty - 8 * uy - 4 * ux}L${tx} ${ty}L${tx - 8 * ux - 4 * uy} ${ty - 8 * uy + 4 * ux}`;
        stroke(arrow, ink);
        svg("text", { x: tx + 20 * ux, y: ty + 12 * uy + 4.5, fill: ink, "text-anchor": "middle", class: "ink" }, words);
    }
}
/// A round length of the hull in the corner.
function drawBar() {
    const ink = getComputedStyle(document.body).color, room = 120 * perPixel();
    const decade = 10 ** Math.floor(Math.log10(room));
    const mm = [5, 2, 1].map(k => k * decade).find(x => x <= room);
    const long = mm / perPixel(), x = width - 16 - long, y = height - 36;
    stroke(`M${x} ${y - 6}V${y}H${x + long}V${y - 6}`, ink);
    svg("text", { x: x + long / 2, y: y - 5, fill: ink, "text-anchor": "middle", class: "ink" }, mm >= 1 ? mm + " mm" : six(mm) + " mm");
}
let chosen = -1;   // the warning that is looked at
function drawOverlay() {
    overlay.textContent = "";
    overlay.setAttribute("viewBox", `0 0 ${width} ${height}`);
    drawArrows();
    drawBar();
    for (const mark of data.marks || []) tag(onScreen(local(mark.at)), mark.name.slice(0, 3), "#185c86");
    for (const kind of kinds) {
        for (const list of runsOf(kind)) {
            if (list.length < 2) continue;
            const path = list.map(p => onScreen(p.at)).map(p => `${p.x} ${p.y}`).join("L");
            svg("path", { d: "M" + path + (kind.key === "outline" && list.length > 2 ? "Z" : ""), fill: "none", stroke: kind.colour,
                          "stroke-width": 2.5, "stroke-dasharray": kind.key === "outline" ? "none" : "6 4" });
        }
        picked[kind.key].forEach((p, i) => {
            const at = onScreen(p.at, p.normal);
            tag(at, kind.key === "press" ? "1st" : nameOf(kind, i), kind.colour, at.behind);
        });
    }
    (data.warnings || []).forEach((warning, i) => {
        if (!warning.at) return;
        const at = onScreen(local(warning.at), vec(data.frame.towards));
        tag(at, String(i + 1) + "!", warning.colour, at.behind);
        if (i === chosen) svg("circle", { cx: at.x, cy: at.y, r: 19, fill: "none", stroke: warning.colour, "stroke-width": 3 });
    });
    if (data.refused_at) tag(onScreen(local(data.refused_at)), "!", "#a3250b");
    if (document.activeElement === canvas && byKeys)
        svg("path", { d: `M${width / 2 - 14} ${height / 2}h28M${width / 2} ${height / 2 - 14}v28`, stroke: "#b4470f", "stroke-width": 2 });
}

// Pointers and keys.

function hitAt(x, y) {
    setCamera();
    ray.setFromCamera({ x: 2 * x / width - 1, y: 1 - 2 * y / height }, camera);
    if (corners.length) return firstHit(places, corners, ray.ray.origin, ray.ray.direction);
    // Of the points about the finger the nearest to the eye; else the one least beside it.
    const p = new THREE.Vector3(), towards = towardsEye(), reach = 7 * perPixel();
    let best = -1, most = -Infinity, aside = 20 * perPixel(), other = -1;
    for (let i = 0; i < places.length; i += 3) {
        const off = Math.sqrt(ray.ray.distanceSqToPoint(p.fromArray(places, i)));
        if (off < reach && p.dot(towards) > most) { most = p.dot(towards); best = i; }
        if (off < aside) { aside = off; other = i; }
    }
    const found = best >= 0 ? best : other;
    return found < 0 ? null : { at: new THREE.Vector3().fromArray(places, found), normal: towards };
}
function setAt(x, y) {
    const hit = hitAt(x, y);
    if (hit) set(hit);
    $("under").textContent = hit ? told(real(hit)) + " mm" : "No hull there";
}
function turn(dx, dy) {
    eye.turn -= dx;
    eye.lift = Math.max(-0.4995 * Math.PI, Math.min(0.4995 * Math.PI, eye.lift + dy));
    ask();
}
function move(dx, dy) {   // [px]
    const { right, top } = setCamera();
    eye.target.addScaledVector(right, -dx * perPixel()).addScaledVector(top, dy * perPixel());
    ask();
}
function zoom(factor, x, y) {
    const before = perPixel();
    eye.span = Math.max(1, Math.min(5 * size, eye.span * factor));
    const gone = before - perPixel(), { right, top } = setCamera();
    eye.target.addScaledVector(right, (x - width / 2) * gone).addScaledVector(top, -(y - height / 2) * gone);
    ask();
}

const down = new Map();   // pointers that touch
let still = false, byKeys = false;
const placeOf = event => {
    const box = canvas.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
};
canvas.addEventListener("pointerdown", event => {
    canvas.setPointerCapture(event.pointerId);
    byKeys = false;
    canvas.focus({ preventScroll: true });
    down.set(event.pointerId, { ...placeOf(event), first: placeOf(event) });
    still = down.size === 1 && event.button === 0;
    event.preventDefault();
});
canvas.addEventListener("pointermove", event => {
    const now = placeOf(event), touch = down.get(event.pointerId);
    if (!touch) return hover(now);
    const dx = now.x - touch.x, dy = now.y - touch.y;
    if (Math.hypot(now.x - touch.first.x, now.y - touch.first.y) > (event.pointerType === "touch" ? 9 : 4)) still = false;
    if (down.size === 1 && !still) {
        if (event.shiftKey || event.buttons & 6) move(dx, dy);
        else turn(dx * 0.008, dy * 0.008);
    } else if (down.size === 2) {
        const other = [...down.entries()].find(([id]) => id !== event.pointerId)[1];
        const far = Math.hypot(now.x - other.x, now.y - other.y), was = Math.hypot(touch.x - other.x, touch.y - other.y);
        move(dx / 2, dy / 2);
        if (far > 1 && was > 1) zoom(was / far, (now.x + other.x) / 2, (now.y + other.y) / 2);
    }
    if (!still || down.size > 1) { touch.x = now.x; touch.y = now.y; }
});
function lift(event, sets) {
    const touch = down.get(event.pointerId);
    if (!touch) return;
    if (sets && still && down.size === 1) setAt(touch.first.x, touch.first.y);
    down.delete(event.pointerId);
    still = false;
}
canvas.addEventListener("pointerup", event => lift(event, true));
canvas.addEventListener("pointercancel", event => lift(event, false));
canvas.addEventListener("contextmenu", event => event.preventDefault());
canvas.addEventListener("wheel", event => {
    event.preventDefault();
    const at = placeOf(event), step = event.deltaY * (event.deltaMode === 1 ? 16 : 1);
    zoom(Math.exp(Math.max(-200, Math.min(200, step)) * 0.0015), at.x, at.y);
}, { passive: false });
let hovering = null;
function hover(at) {
    if (!hovering) requestAnimationFrame(() => {
        const hit = hitAt(hovering.x, hovering.y);
        $("under").textContent = hit ? told(real(hit)) + " mm" : "";
        hovering = null;
    });
    hovering = at;
}
canvas.addEventListener("keydown", event => {
    const arrows = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (arrows[event.key]) {
        const [dx, dy] = arrows[event.key];
        if (event.shiftKey) move(30 * dx, 30 * dy); else turn(0.08 * dx, 0.08 * dy);
    } else if (event.key === "+" || event.key === "=") zoom(1 / 1.2, width / 2, height / 2);
    else if (event.key === "-") zoom(1.2, width / 2, height / 2);
    else if (event.key === "Enter" || event.key === " ") setAt(width / 2, height / 2);
    else if (event.key === "Backspace" || event.key === "Delete") { if (picked[mode.key].length) takeBack(); }
    else if (event.key === "Home") view("whole");
    else return;
    byKeys = true;
    event.preventDefault();
    ask();
});
canvas.addEventListener("focus", () => { byKeys = canvas.matches(":focus-visible"); ask(); });
canvas.addEventListener("blur", ask);

// Layers of a plan.

/// A layer's colours by strain, or a dish's by depth: unlit, so that a colour is its figure.
const byLevel = () => new THREE.MeshBasicMaterial({ vertexColors: THREE.VertexColors, side: THREE.DoubleSide });
let facing = () => {};   // what a change of the eye means for the layers

/// Outlines and dish of one part, those of the other side of the skin hidden while this one is looked at.
function partOf(part, off) {
    const group = new THREE.Group();
    let dish = null;
    if (part.dish) {
        const geometry = creased(floatsOf(part.dish.places), wholesOf(part.dish.corners));
        setLevels(geometry, bytesOf(part.dish.levels), data.scale.colours);
        dish = new THREE.Mesh(geometry, nearer(byLevel(), off.dish + part.lift));
        group.add(dish);
    }
    for (const [name, colour] of [["footprint", 0x5a6b76], ["scarf", 0xb4470f], ["openings", 0x12705a], ["damage", 0x2a2320]])
        for (const loop of part[name]) group.add(line(floatsOf(loop), colour, off.lines + part.lift));
    scene.add(group);
    return { group, dish, towards: vec(part.towards) };
}

function layerOf(layer, off) {
    const group = new THREE.Group(), edges = new THREE.Group(), meshes = [];
    const raised = { value: off.dish };   // set by the side that is looked at
    for (const piece of layer.pieces) {
        const geometry = creased(floatsOf(piece.places), wholesOf(piece.corners));
        setLevels(geometry, bytesOf(piece.levels), data.scale.colours);
        const plain = nearer(new THREE.MeshLambertMaterial({ color: layer.colour, side: THREE.DoubleSide }), raised);
        const mesh = new THREE.Mesh(geometry, plain);
        meshes.push({ mesh, plain, strained: nearer(byLevel(), raised) });
        group.add(mesh);
    }
    // Edges are seen through the plies that lie on them.
    for (const loop of layer.edge) edges.add(line(floatsOf(loop), 0x185c86, off.edges + layer.below));
    group.add(edges);
    scene.add(group);
    return { group, edges, meshes, raised, towards: vec(layer.towards) };
}

const called = layer => /^[0-9]/.test(layer.name) ? "Ply " + layer.name : layer.name;

/// What the colours of strain and shear, or of a dish, go up to.
function scaleRow(id, most) {
    const bar = element("span", "", { class: "bar" });
    bar.style.background = "linear-gradient(90deg," + data.scale.colours.join(",") + ")";
    $(id).setAttribute("aria-label", $(id).textContent + ": 0 to " + most);
    $(id).append(element("span", "0"), bar, element("span", most));
}

function planned() {
    const top = data.layers.length, beyond = 20 + data.deepest_mm;   // [mm] hull facets off the hull
    const off = { dish: beyond, edges: beyond + 4 + 0.3 * top, lines: beyond + 8 + 0.3 * top };
    const parts = data.parts.map(part => partOf(part, off));
    const layers = data.layers.map(layer => layerOf(layer, off));
    const least = Math.min(...data.layers.map(layer => layer.height));
    const home = vec(data.frame.towards);
    facing = () => {
        const eye = towardsEye(), before = eye.dot(home) >= 0;
        const seen = parts.some(part => part.towards.dot(eye) >= 0);
        for (const part of parts) part.group.visible = !seen || part.towards.dot(eye) >= 0;
        layers.forEach((layer, i) => {
            const height = data.layers[i].height - least + 1;
            const ours = layer.towards.dot(eye) >= 0;
            layer.raised.value = beyond + (ours ? data.layers[i].below : 0) +
                0.3 * (before || parts.length === 1 ? height : top + 1 - height);
            layer.edges.visible = !seen || ours;
        });
    };

    let alone = -1;   // index of the layer that is seen alone; -1: all that are laid
    const laid = $("laid"), buttons = [];
    laid.max = laid.value = top;
    const show = () => {
        const count = Number(laid.value), strain = $("show-strain").checked;
        layers.forEach(({ group, meshes }, i) => {
            group.visible = alone < 0 ? i < count : i === alone;
            for (const m of meshes) m.mesh.material = strain ? m.strained : m.plain;
        });
        for (const { dish } of parts) if (dish) dish.visible = $("show-dish").checked;
        hull.visible = $("show-hull").checked;
        $("strain-scale").hidden = !strain;
        $("dish-scale").hidden = !parts.some(({ dish }) => dish) || !$("show-dish").checked;
        const words = alone < 0 ? count + " of " + top : called(data.layers[alone]) + " alone";
        $("laid-words").textContent = words.charAt(0).toLowerCase() + words.slice(1);
        buttons.forEach((button, i) => button.setAttribute("aria-pressed", String(i === alone)));
        const uppermost = data.layers[alone < 0 ? count - 1 : alone];
        for (const figure of document.querySelectorAll("#flat figure"))
            figure.hidden = !uppermost || figure.dataset.layer !== uppermost.id;
        $("flat-words").textContent = uppermost ? called(uppermost) + ", small, not for cutting." : "Nothing is laid yet.";
        ask();
    };
    laid.addEventListener("input", () => { alone = -1; show(); });
    for (const id of ["show-hull", "show-dish", "show-strain"]) $(id).addEventListener("change", show);
    let part = "";
    data.layers.forEach((layer, index) => {
        if (layer.part && layer.part !== part) {
            part = layer.part;
            $("plies").append(element("li", part, { class: "part" }));
        }
        const item = element("li"), button = element("button", "", { type: "button", "aria-pressed": "false" });
        const swatch = element("span", "", { class: "swatch" });
        swatch.style.background = layer.colour;
        const most = layer.pieces.map(p => p.most).sort((a, b) => parseFloat(b) - parseFloat(a))[0] || "";
        button.append(swatch, element("b", layer.name), element("span", layer.words), element("span", most));
        button.addEventListener("click", () => {
            alone = alone === index ? -1 : index;
            // From the side that it is laid from.
            if (alone >= 0 && layers[alone].towards.dot(towardsEye()) < 0) lookFrom(layers[alone].towards, vec(data.frame.up));
            show();
        });
        buttons.push(button);
        item.append(button);
        $("plies").append(item);
    });
    for (const row of document.querySelectorAll("[data-of]"))   // of the legend and the switches: what there is
        row.hidden = !data.parts.some(one => row.dataset.of === "dish" ? one.dish : one[row.dataset.of].length);
    scaleRow("strain-scale", data.scale.most);
    if (data.deepest_mm > 0) scaleRow("dish-scale", data.deepest);
    data.warnings.forEach((warning, i) => {
        const item = element("li");
        item.style.borderColor = warning.colour;
        item.append(element("b", (i + 1) + ". " + warning.rank), element("span", warning.text + " "));
        if (warning.at) {
            const go = element("button", "Show", { type: "button", "aria-label": "Show where warning " + (i + 1) + " is" });
            go.addEventListener("click", () => {
                chosen = i;
                lookAtPlace();
                eye.target.copy(local(warning.at));
                eye.span = Math.max(120, data.frame.reach);
                $("view").scrollIntoView({ block: "nearest" });
            });
            item.append(go);
        }
        $("warnings").querySelector("ol").append(item);
    });
    $("warnings").hidden = !data.warnings.length;
    show();
}

// Beginning.

document.title = $("title").textContent = data.title;
const count = corners.length ? corners.length / 3 : places.length / 3, what = corners.length ? "triangles" : "points";
$("about").textContent = (data.model || "Measured by hand") + ": " + high.clone().sub(low).toArray().map(x => x.toFixed(0)).join(" × ") + " mm, " +
    data.read + " " + what + (count < data.read ? ", shown by " + count : "");
if (data.refusal) {
    $("refusal").hidden = false;
    $("refusal").textContent = "No plan: " + data.refusal;
    for (const place of data.asked) picked.outline.push({ at: local(place), normal: null, run: 0 });
}
if (data.kind === "plan") planned();
new ResizeObserver(resize).observe($("view"));
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", ask);
resize();
view(data.frame ? "place" : "whole");
changed();
draw();
document.body.dataset.ready = String(Math.round(performance.now()));
}());

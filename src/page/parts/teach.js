// SPDX-License-Identifier: MIT
// The apprentice's page: every move is a question to the program, on coarse cells for speed while a
// slider moves, with the chances when it rests.

// [name, label, unit, least, most, step, at first]
const sliders = [
    ["thickness", "Thickness", "mm", 20, 120, 5, 60],
    ["width", "Width", "mm", 40, 240, 10, 120],
    ["fat", "Fat on top", "mm", 0, 20, 1, 0],
    ["cooler", "Cooler", "°C", 0, 10, 1, 4],
    ["salt", "Salt of the brine", "%", 2, 12, 0.5, 5]];
byId("sliders").innerHTML = sliders.map(([name, label, unit, least, most, step, first]) =>
    `<label class="slide">${label} <output id="${name}-value" for="${name}"></output>
     <input type="range" id="${name}" min="${least}" max="${most}" step="${step}" value="${first}"></label>`).join("");

// One answers each move; the other counts chances and tries other thicknesses meanwhile.
const program = new Program(), aside = new Program();
const value = name => +byId(name).value;
const on = name => byId(name).checked;
const cells = 8, horizon = 120;

// The question as it stands, for a piece of some thickness.
function words(thickness = value("thickness")) {
    const way = byId("way").value, dry = way === "rub" || way === "bag";
    const list = [dry || way === "needles" ? "plan" : "day", "--shape", on("bone") ? "loin" : "block",
                  "--thickness", `${thickness} mm`,
                  "--width", `${Math.max(value("width"), thickness)} mm`, "--cooler", `${value("cooler")} C`];
    if (value("fat") > 0)
        list.push("--fat-cap", `${Math.min(value("fat"), 0.4 * thickness)} mm`);
    if (on("bone"))
        list.push("--bones", "3", "--bone-diameter", `${Math.min(14, 0.2 * thickness)} mm`);
    if (on("shut"))
        list.push("--seal", "bottom");
    if (on("kept"))
        list.push("--loss", "none");
    if (dry) {
        list.push("--weight", "2 kg", "--stage", `${way}, salt 25 g/kg, premix 2.5 g/kg, ${horizon} d`);
    } else {
        list.push("--brine-salt", `${value("salt")} %`, "--brine-nitrite", "150 ppm");
        if (on("still"))
            list.push("--still", "1e-7 m/s");
        if (way === "needles")
            list.push("--pump", "10 %", "--pump-nitrite", "600 ppm", "--stage", `brine, ${horizon} d`);
    }
    return list;
}

let answer = null, shownDay = null;
const cured = json => json.cured_day;
const days = d => d === null || d === undefined ? "on no day" : `on day ${figure(d)}`;

function section(day, now) {
    if (!now || !answer)
        return;
    byId("section").innerHTML = now.section;
    const text = `Day ${+day.toFixed(2)}: ${now.mean_salt_percent.toFixed(2)} % salt in the whole, ` +
        `${figure(now.core_nitrite_ppm)} ppm nitrite in the core, which is cured ${days(cured(answer))}.`;
    byId("then").textContent = text;
    byId("day").setAttribute("aria-valuetext", text);
}

function values() {
    for (const [name, , unit] of sliders)
        byId(`${name}-value`).textContent = `${byId(name).value} ${unit}`;
    byId("day-value").textContent = `day ${byId("day").value}`;
    document.querySelectorAll("[data-slider]").forEach(place => place.follow?.());
}

// While something moves: the section alone, on coarse cells.
const moved = newest(async () => {
    const day = value("day");
    const told = await program.ask([...words(), "--draws", "0", "--cells", String(cells)], {}, [], day);
    byId("state").textContent = told.code ? told.err.replace(/^tidemark: /, "") : "";
    if (told.code)
        return;
    answer = told.json;
    const last = Math.min(horizon, Math.max(4, Math.ceil(1.6 * (cured(answer) ?? 30))));
    byId("day").max = last;
    section(Math.min(day, last), day > last ? await program.on(last) : told.now);
});

// When it rests: the chances, and the day against the thickness.
const rested = newest(async () => {
    const asked = words();
    const told = await aside.ask([...asked, "--draws", "512", "--cells", String(cells)]);
    if (told.code || String(asked) !== String(words()))
        return;
    byId("chances").innerHTML = "<h2>The chance of each day</h2>" + (told.chance ||
        "<p>No piece like this comes out right on any day: it is grey or too salty.</p>");
    const points = [];
    for (const mm of [20, 35, 50, 65, 80, 100, 120]) {
        const at = await aside.ask([...words(mm), "--draws", "0", "--cells", "8"]);
        if (String(asked) !== String(words()))
            return;
        if (!at.code && cured(at.json) !== null)
            points.push([mm, cured(at.json), at.json.lasting_colour_day]);
    }
    square(points, cured(told.json));
});

// A chart of curves {points, name, colour, dash} and marks {x, y, name}; `x` and `y` have {to, name}.
function chart({title, desc, x, y, curves, marks = []}) {
    const w = 360, h = 230, left = 38, right = 10, top = 24, low = 38;
    const at = ([a, b]) => [left + (w - left - right) * Math.min(a / x.to, 1.02),
                            h - low - (h - low - top) * Math.min(b / y.to, 1.02)];
    const step = to => { const s = 10 ** Math.floor(Math.log10(to)); return [.1, .2, .5, 1, 2].map(f => f * s).find(f => to / f <= 5.01); };
    const ticks = to => { const s = step(to); return Array.from({length: Math.floor(to / s + 1e-9) + 1}, (_, k) => k * s); };
    const text = (px, py, words, how = "") => `<text x="${px.toFixed(1)}" y="${py.toFixed(1)}" ${how}>${escaped(words)}</text>`;
    let out = `<svg viewBox="0 0 ${w} ${h}" role="img" aria-label="${escaped(title + ". " + desc)}" font-size="12" fill="#1d2329" font-family="system-ui, sans-serif">`;
    for (const t of ticks(x.to)) {
        const [px, py] = at([t, 0]);
        out += `<path d="M${px} ${py}V${top}" stroke="#e2ddd2"/>` + text(px, py + 15, +t.toFixed(2), 'text-anchor="middle"');
    }
    for (const t of ticks(y.to)) {
        const [px, py] = at([0, t]);
        out += `<path d="M${px} ${py}H${w - right}" stroke="#e2ddd2"/>` + text(px - 5, py + 4, +t.toFixed(2), 'text-anchor="end"');
    }
    out += text(w - right, h - 6, x.name, 'text-anchor="end"') + text(2, 13, y.name);
    curves.forEach((c, k) => {
        const inside = c.points.filter(([a, b]) => a <= x.to * 1.001 && b <= y.to * 1.02);
        if (!inside.length)
            return;
        out += `<polyline fill="none" stroke="${c.colour}" stroke-width="2.5" ${c.dash ? `stroke-dasharray="${c.dash}"` : ""}
            points="${inside.map(p => at(p).map(v => v.toFixed(1)).join()).join(" ")}"/>`;
        const [px, py] = at(inside[c.label ? Math.min(c.label, inside.length - 1) : inside.length - 1]);
        out += text(Math.min(px, w - right) - 4, Math.max(py - 6, top + 10 + 13 * (c.lower || 0)), c.name, `text-anchor="end" fill="${c.colour}" stroke="#fff" stroke-width="4" paint-order="stroke"`);
    });
    for (const m of marks) {
        const [px, py] = at([m.x, m.y]);
        out += `<circle cx="${px}" cy="${py}" r="5" fill="#b34700"/>` +
            text(px > w / 2 ? px - 9 : px + 9, py + 4, m.name, `text-anchor="${px > w / 2 ? "end" : "start"}" font-weight="600" stroke="#fff" stroke-width="4" paint-order="stroke"`);
    }
    return out + "</svg>";
}

const inch = 25.4;
function square(points, now) {
    if (points.length < 2)
        return byId("square").innerHTML = "";
    const mm = value("thickness");
    const rule = perInch => [[0, 0], [120, perInch * 120 / inch]];
    const to = Math.max(45, 1.1 * points.at(-1)[1]);
    const [thin, thin_day] = points[0], [thick, thick_day] = points.at(-1);
    const line = Array.from({length: 25}, (_, k) => [5 * k, thin_day * (5 * k / thin) ** 2]);
    byId("square").innerHTML = "<h2>Days against thickness</h2>" + chart({
        title: "Days against thickness",
        desc: points.map(([t, d]) => `${t} mm: day ${figure(d)}`).join(", ") + ". Rules of seven and nine days an inch lie over it as straight lines.",
        x: {to: 125, name: "thickness, mm"}, y: {to, name: "day the core is cured"},
        curves: [{points: rule(7), name: "7 days an inch", colour: "#6b4a00", dash: "2 4", lower: 2},
                 {points: rule(9), name: "9 days an inch", colour: "#6b4a00", dash: "8 4"},
                 {points: line, name: "", colour: "#6d7680", dash: "4 3"},
                 {points: points.filter(p => p[2] !== null).map(([t, , d]) => [t, d]), name: "colour that lasts", colour: "#5b3a8e", dash: "10 3"},
                 {points, name: "cured", colour: "#0b4f8a"}],
        marks: now ? [{x: mm, y: now, name: `day ${figure(now)}`}] : []}) +
        `<figcaption>Grey dashes: the square of the thickness, from ${thin} mm on.</figcaption>`;
    const square = (thick / thin) ** 2, more = thick_day / thin_day;
    byId("ratio").textContent = `From ${thin} to ${thick} mm: ${(thick / thin).toFixed(1)} times as thick, ` +
        `${more.toFixed(0)} times as many days. The square would be ${square.toFixed(0)}.`;
}

let pause;
function changed() {
    values();
    moved();
    clearTimeout(pause);
    pause = setTimeout(rested, 350);
}
const slid = newest(async day => section(day, await program.on(day)));
byId("piece").addEventListener("input", changed);
byId("piece").addEventListener("submit", event => event.preventDefault());
byId("day").addEventListener("input", () => { values(); slid(value("day")); });
byId("print").addEventListener("click", () => print());
document.addEventListener("click", event => {
    const set = event.target.dataset?.set;
    if (!set)
        return;
    for (const [name, to] of Object.entries(JSON.parse(set)))
        typeof to === "boolean" ? byId(name).checked = to : byId(name).value = to;
    changed();
});
// A slider of a lesson is the same slider again, where it is needed.
for (const place of document.querySelectorAll("[data-slider]")) {
    const one = byId(place.dataset.slider), again = one.cloneNode();
    const label = one.closest("label").firstChild.textContent.trim();
    again.removeAttribute("id");
    again.setAttribute("aria-label", label);
    place.append(label + " ", again);
    again.addEventListener("input", () => {
        one.value = again.value;
        one.dispatchEvent(new Event("input", {bubbles: true}));
    });
    place.follow = () => { again.max = one.max; again.value = one.value; };
}
program.begun.then(changed).catch(error => byId("state").textContent = error.message);
values();

// SPDX-License-Identifier: MIT
// The cook's page: fields become flags, the program's screens become paragraphs. It knows no physics.

// [flag, label, what to write, {value, options, when}]; a field is filled in as on the command line.
const fields = {
    cut: [
        ["muscle", "Muscle or cut", "", {options: ["pork-loin"]}],
        ["shape", "Shape", "", {options: ["block", "loin", "round", "ham", "sheet", "ball"]}],
        ["thickness", "Thickness", "65 mm or 2.5 in"],
        ["width", "Width", "120 mm"],
        ["length", "Length", "if known"],
        ["weight", "Weight of one", "2 kg or 4 lb 8 oz"],
        ["pieces", "How many", "1"],
        ["fat-cap", "Fat on top", "8 mm"],
        ["bones", "Ribs or bones", "0"],
        ["seal", "Faces shut off", "bottom"]],
    weighed: [
        ["water", "Water", "5 L"],
        ["salt", "Salt", "240 g"],
        ["sugar", "Sugar", "80 g"],
        ["premix", "Curing premix", "24 g"],
        ["premix-kind", "Which premix", "", {options: ["us-no1", "us-no2", "eu"]}],
        ["ascorbate", "With ascorbate", "", {tick: true}]],
    strength: [
        ["brine-salt", "Salt of the brine", "5 %"],
        ["brine-nitrite", "Nitrite of the brine", "150 ppm"],
        ["brine", "How much brine", "5 L"],
        ["ascorbate", "With ascorbate", "", {tick: true}]],
    aim: [
        ["way", "Way", "", {options: ["brine", "needles", "rub", "bag"]}],
        ["target-salt", "Salt wanted", "2 %"],
        ["target-nitrite", "Nitrite going in", "120 ppm"],
        ["container", "Pot, for meat and brine", "6 L"],
        ["pump", "Needles: gain", "10 %"]],
    rest: [
        ["cooler", "Cooler", "3 C or 38 F"],
        ["law", "Law", "", {options: ["us", "canada", "codex", "eu", "uk"]}],
        ["product", "Sold as", "", {options: ["cured", "bacon"]}],
        ["afterwards", "Afterwards", "", {options: ["eaten", "simmered", "soaked"]}],
        ["start", "Goes in on", "2026-12-05 18:00", {wide: true}],
        ["ready", "Or: ready by", "2026-12-24 12:00", {wide: true}]],
    "slice-fields": [
        ["day", "Day it was cut", "7 d"],
        ["grey", "Height of the grey core", "30 mm"],
        ["ring", "Or: pink from each face", "12 mm"],
        ["pink-through", "Or: pink all through", "", {tick: true}],
        ["found-thickness", "Thickness, measured again", "if looked"],
        ["found-cooler", "Cooler, measured again", "if looked"],
        ["found-brine-salt", "Salt of the brine left", "if looked"],
        ["date", "Date", "2026-12-12"]]};

const id = (group, flag) => `${group}.${flag}`;
for (const [group, list] of Object.entries(fields))
    byId(group).innerHTML = list.map(([flag, label, hint, how = {}]) => {
        const key = `id="${id(group, flag)}" data-flag="${flag}"`;
        return how.tick ? `<label class="tick"><input type="checkbox" ${key}> ${label}</label>`
            : how.options ? `<label>${label} <select ${key}>${how.options.map(o => `<option>${o}</option>`).join("")}</select></label>`
            : `<label${how.wide ? ' class="wide"' : ""}>${label} <input ${key} placeholder="${hint}" autocapitalize="off"></label>`;
    }).join("");

const program = new Program();
const state = text => byId("state").textContent = text;
program.far = share => document.querySelectorAll(".far").forEach(f => f.textContent = share);

// What stands in some groups of fields, as flags.
function flagsOf(...groups) {
    const words = [];
    for (const group of groups)
        for (const [flag, , , how = {}] of fields[group]) {
            const input = byId(id(group, flag)), value = input.value.trim();
            if (how.tick ? input.checked : value)
                words.push("--" + flag, ...(how.tick ? [] : [value]));
        }
    return words;
}
const how = () => byId("how").value;
function without(words, ...names) {
    const kept = [];
    for (let k = 0; k < words.length; ++k)
        if (names.includes(words[k].slice(2)))
            k += words[k + 1]?.startsWith("--") ? 0 : 1;
        else
            kept.push(words[k]);
    return kept;
}
const typed = words => "tidemark " + words.map(w => /^[\w.,:\/+-]+$/.test(w) ? w : `"${w}"`).join(" ");

// What was refused, in the program's words, at the field it names.
function refuse(answer) {
    const text = answer.err.replace(/^tidemark: /, "");
    byId("fault").innerHTML = shown(answer.out) + escaped(text);
    byId("fault").hidden = false;
    const flag = /--([\w-]+)/.exec(text)?.[1];
    const field = flag && [...document.querySelectorAll(`[data-flag="${flag}"]`)].find(f => f.offsetParent);
    (field || byId("fault")).scrollIntoView({block: "center"});
    if (field) {
        field.setAttribute("aria-invalid", "true");
        field.focus();
    }
    state("");
}
function forgive() {
    byId("fault").hidden = true;
    document.querySelectorAll("[aria-invalid]").forEach(f => f.removeAttribute("aria-invalid"));
}

// Brine to make up: what is weighed out comes from `brine`, and so does the line to ask next.
const ofTheDay = ["shape", "thickness", "width", "length", "fat-cap", "bones", "seal", "afterwards", "start", "ready"];
async function lineOf() {
    const piece = flagsOf("cut", "rest");
    if (how() !== "aim")
        return {words: ["day", ...piece, ...flagsOf(how())],
                recipe: ["brine", ...without(piece, ...ofTheDay), ...flagsOf(how())]};
    let aim = flagsOf("aim");
    if (byId("aim.way").value !== "needles")
        aim = without(aim, "pump");
    const recipe = ["brine", ...without(piece, ...ofTheDay), ...aim];
    const answer = await program.ask(recipe);
    if (answer.code)
        return {refused: answer};
    const next = paragraphs(answer.out).find(p => p.command);
    const own = wordsOf(next.command).slice(1);
    const said = own.filter(w => w.startsWith("--")).map(w => w.slice(2));
    return {words: [...own, ...without(piece, ...said)], answer, recipe};
}

let asked = null; // the words of the last answer, and what it said

async function work(words, recipe) {
    forgive();
    state("Working it out…");
    const began = performance.now();
    const answer = await asShop(words);
    if (answer.code)
        return refuse(answer);
    asked = {words, answer};
    byId("answer").hidden = false;
    byId("said").innerHTML = shown(answer.out);
    byId("recipe").innerHTML = "";
    byId("line").textContent = typed(words);
    byId("screen").textContent = "";
    byId("more").open = false;
    await picture(answer.json);
    if (recipe) {
        const sheet = recipe.out ? recipe : await program.ask(recipe);
        byId("recipe").innerHTML = "<h3>The brine or rub</h3>" + (sheet.code ? `<p>${escaped(sheet.err)}</p>` : shown(sheet.out));
    }
    state(`Worked out in ${((performance.now() - began) / 1000).toFixed(1)} s.`);
    byId("answer-title").focus();
}

// The map on the best day, and its slider.
async function picture(json) {
    byId("map").hidden = !json || !!json.pieces;
    byId("chances").innerHTML = "";
    if (!json || json.pieces)
        return;
    const best = json.best_day ?? json.at_day;
    const now = await program.on(best);
    byId("day").max = Math.max(now.last_day, best).toFixed(2);
    byId("day").value = best;
    show(now);
    byId("chances").innerHTML = asked.answer.chance;
}
function show(now) {
    const ppm = asked.answer.json.has_nitrite ? `, the core ${figure(now.core_nitrite_ppm)} ppm nitrite` : `, the core ${now.core_salt_percent.toFixed(2)} %`;
    const words = `Day ${+now.day.toFixed(2)}: ${now.mean_salt_percent.toFixed(2)} % salt${ppm}`;
    byId("section").innerHTML = now.section;
    byId("then").textContent = words;
    byId("day").setAttribute("aria-valuetext", words);
}
const slide = newest(async day => show(await program.on(day)));
byId("day").addEventListener("input", () => slide(+byId("day").value));

const failed = error => { state(""); byId("fault").hidden = false; byId("fault").textContent = error.message; };
byId("ask").addEventListener("submit", async event => {
    event.preventDefault();
    byId("go").disabled = true;
    try {
        const line = await lineOf();
        if (line.refused)
            refuse(line.refused);
        else
            await work(line.words, line.answer || line.recipe);
    } catch (error) {
        failed(error);
    }
    byId("go").disabled = false;
});
document.addEventListener("click", event => {
    const command = event.target.dataset?.command;
    if (command && /^tidemark (day|plan|bucket) /.test(command))
        work(wordsOf(command).slice(1)).catch(failed);
});
byId("more").addEventListener("toggle", async () => {
    if (byId("more").open && !byId("screen").textContent)
        byId("screen").textContent = (await asShop([...asked.words, "--more"])).out;
});
byId("how").addEventListener("change", () => ["weighed", "strength", "aim"].forEach(g => byId(g).hidden = g !== how()));
document.querySelectorAll(".stop").forEach(b => b.addEventListener("click", () => program.stop()));
byId("print").addEventListener("click", () => print());

// The slice
const sliced = () => without(flagsOf("slice-fields"), "date");
byId("slice").addEventListener("submit", async event => {
    event.preventDefault();
    const told = text => byId("slice-state").textContent = text;
    forgive();
    told("Weighing the causes, which takes longest of all…");
    try {
        const line = await lineOf();
        if (line.refused)
            return refuse(line.refused);
        const base = without(line.words.slice(1), "start", "ready");
        const why = await asShop(["why", ...base, ...sliced()]);
        if (why.code)
            return refuse(why);
        let out = "<h3>How long now, and why</h3>" + shown(why.out);
        if (line.words[0] === "day") {
            const now = await asShop(["day", ...base, ...sliced()]);
            if (!now.code)
                out += "<h3>The day, given this slice</h3>" + shown(now.out);
        }
        byId("why").innerHTML = out;
        byId("why").focus();
    } catch (error) {
        failed(error);
    } finally {
        told("");
    }
});

// Batches, kept on this phone
const shelf = "tidemark-batches";
let batches = [];
try { batches = JSON.parse(localStorage.getItem(shelf)) ?? []; } catch { /* none are kept */ }
function store() {
    try {
        localStorage.setItem(shelf, JSON.stringify(batches));
        return true;
    } catch {
        state("This browser keeps nothing for a page opened like this: give out the notebook before you close it.");
        return false;
    }
}
function list(chosen) {
    byId("batch").innerHTML = `<option value="">a new one</option>` +
        batches.map((b, k) => `<option value="${k}">${escaped(b.name)}</option>`).join("");
    byId("batch").value = chosen ?? "";
    const slices = batches.reduce((sum, b) => sum + b.slices.length, 0);
    byId("kept").textContent = `Kept on this phone: ${batches.length} in the list of batches, ${slices} in the notebook.`;
    byId("use").closest("label").hidden = !slices;
    byId("give").disabled = byId("learn").disabled = !slices;
}
const inputs = () => [...document.querySelectorAll("#ask [data-flag], #how")];
function keep() {
    const values = {};
    for (const input of inputs())
        values[input.id] = input.type === "checkbox" ? input.checked : input.value;
    const name = byId("name").value.trim() || `${byId("cut.muscle").value}, ${byId("cut.thickness").value}`;
    let at = byId("batch").value;
    if (at === "")
        at = batches.push({slices: []}) - 1;
    byId("name").value = name;
    Object.assign(batches[at], {name, values});
    if (store())
        state(`Kept as “${name}”.`);
    list(at);
    return batches[at];
}
byId("keep").addEventListener("click", keep);
byId("forget").addEventListener("click", () => {
    const at = byId("batch").value;
    if (at === "" || !confirm(`Take “${batches[at].name}” and its slices off this phone?`))
        return;
    batches.splice(at, 1);
    store();
    list();
});
byId("batch").addEventListener("change", () => {
    const batch = batches[byId("batch").value];
    byId("name").value = batch?.name ?? "";
    for (const input of inputs())
        if (batch && input.id in batch.values)
            input.type === "checkbox" ? input.checked = batch.values[input.id] : input.value = batch.values[input.id];
    byId("how").dispatchEvent(new Event("change"));
});
byId("note").addEventListener("click", async () => {
    const line = await lineOf();
    if (line.refused)
        return refuse(line.refused);
    const batch = keep();
    const words = [...without(line.words.slice(1), "start", "ready", "afterwards"), "--batch", batch.name,
                   ...flagsOf("slice-fields").filter(w => w)];
    const tried = await program.ask(["learn", "--notebook", "try.csv", ...without(words, "found-thickness", "found-cooler", "found-brine-salt")], {"try.csv": null});
    if (tried.code)
        return refuse(tried);
    batch.slices.push(without(words, "found-thickness", "found-cooler", "found-brine-salt"));
    store();
    list(byId("batch").value);
    byId("slice-state").textContent = "The slice is kept.";
});

// The notebook is written by `learn` itself, slice by slice, and once for as long as none is added.
let book = {of: "[]", text: null, said: ""};
async function notebookText() {
    const slices = batches.flatMap(b => b.slices), of = JSON.stringify(slices);
    if (book.of === of)
        return book;
    let text = null, said = "";
    for (const words of slices) {
        const answer = await program.ask(["learn", "--notebook", "shop.csv", ...words], {"shop.csv": text}, ["shop.csv"]);
        if (answer.code)
            throw Error(answer.err);
        text = answer.files["shop.csv"];
        said = answer.out;
    }
    return book = {of, text, said};
}
// An answer as the slices teach, if there are any and that is wanted.
async function asShop(words) {
    const {text} = byId("use").checked ? await notebookText() : {};
    return text ? program.ask([...words, "--notebook", "shop.csv"], {"shop.csv": text})
                : program.ask(words);
}
byId("give").addEventListener("click", async () => {
    try {
        const link = document.createElement("a");
        link.href = URL.createObjectURL(new Blob([(await notebookText()).text], {type: "text/csv"}));
        link.download = "shop.csv";
        link.click();
    } catch (error) {
        failed(error);
    }
});
byId("learn").addEventListener("click", async () => {
    try {
        byId("taught").innerHTML = shown((await notebookText()).said);
    } catch (error) {
        failed(error);
    }
});

// Muscles as the program lists them
program.begun.then(async () => {
    const text = (await program.ask(["numbers", "muscle"])).out;
    // "pork-shoulder *  picnic, boston butt,", the names of it going on below
    const muscles = [...text.replace(/\n {2,}/g, " ").matchAll(/^([a-z]+(?:-[a-z]+)+)[ *]*(.*)$/gm)];
    byId("cut.muscle").innerHTML = muscles.map(([, name, cuts]) =>
        `<option value="${name}">${name.replace(/-/g, " ")}${cuts ? ": " + escaped(cuts) : ""}</option>`).join("");
    byId("cut.muscle").value = "pork-loin";
    list();
    state("Ready. It works without a network.");
}).catch(failed);

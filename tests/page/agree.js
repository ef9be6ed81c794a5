// SPDX-License-Identifier: MIT
// The module in the pages against the program, on questions drawn at random (the same each time):
// node agree.js PROGRAM COUNT. Days, chances and salt agree to 1e-6 of themselves; refusals and
// screens word for word.
"use strict";
const {spawnSync} = require("child_process");
const [, , program, count] = process.argv;
let seed = 20261127;
const random = () => (seed = (1103515245 * seed + 12345) % 2147483648) / 2147483648;
const between = (a, b, digits = 0) => (a + (b - a) * random()).toFixed(digits);
const one = list => list[Math.floor(list.length * random())];

function question() {
    const shape = one(["sheet", "round", "ball", "block", "loin"]), thick = +between(30, 90);
    const words = ["day", "--muscle", one(["pork-loin", "pork-ham", "beef-round", "turkey-breast"]),
                   "--shape", shape, "--thickness", `${thick} mm`, "--weight", `${between(0.8, 4, 1)} kg`,
                   "--brine-salt", `${between(3, 8, 1)} %`, "--brine-nitrite", `${between(100, 250)} ppm`,
                   "--brine", `${between(3, 9, 1)} L`, "--cooler", `${between(1, 4, 1)} C`];
    if (shape === "block" || shape === "loin")
        words.push("--width", `${Math.round(thick * between(1.1, 2.5, 2))} mm`, "--fat-cap", `${between(0, 8)} mm`);
    if (shape === "loin" && random() < 0.5)
        words.push("--bones", "2", "--bone-diameter", "10 mm");
    return words;
}
const fixed = [["day", "--thickness"], ["day", "--thickness", "6"], ["day", "--thicknes", "6 mm"],
               ["brine", "--water", "5 L", "--salt", "240 g", "--premix", "40 g", "--weight", "2 kg"],
               ["day", "--frozen=yes", "--thickness", "5 cm"], ["plan", "stray"], ["numbers", "muscle"]];

const native = words => {
    const ran = spawnSync(program, words, {encoding: "utf8"});
    return {code: ran.status, out: ran.stdout.trimEnd(), err: ran.stderr.trim()};
};
// Every number of two JSON objects; how far the worst are apart, relative to themselves.
function apart(a, b, name = "", least = 1e-3) {
    if (typeof a === "number" && typeof b === "number")
        return /error/.test(name) ? 0 : Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b), least);
    if (name === "section") // rounded to 0.001 mm, of which one step is 5e-7 of this
        least = 2000;
    if (name === "course") // read off at times that need no better than the integration's 1e-6
        return 0;
    if (name === "parameters") // in the order in which they were asked for, which compilers choose
        [a, b] = [a, b].map(list => [...list].sort((x, y) => (x.key < y.key ? -1 : 1)));
    if (a && b && typeof a === "object" && Object.keys(a).length === Object.keys(b).length)
        return Math.max(0, ...Object.keys(a).map(k => apart(a[k], b[k], k, least)));
    return a === b ? 0 : Infinity;
}

require("../../src/page/module.js")().then(module => {
    let worst = 0, failures = 0;
    const check = (good, words, what) => {
        failures += !good;
        if (!good)
            console.log(`tidemark ${words.join(" ")}\n${what}`);
    };
    for (const words of fixed) {
        const a = native(words), b = module.ask({words});
        check(a.code === b.code && a.out === b.out.trimEnd() && a.err === b.err, words,
              JSON.stringify(a) + "\n" + JSON.stringify(b));
    }
    for (let k = 0; k < count; ++k) {
        const words = question(), a = native([...words, "--json"]), b = module.ask({words: [...words, "--json"]});
        let far = a.code === b.code && a.err === b.err ? 0 : Infinity;
        if (a.code === 0 && far === 0)
            far = apart(JSON.parse(a.out), JSON.parse(b.out));
        worst = Math.max(worst, far);
        check(far <= 1e-6, words, `apart by ${far}: ${a.err} ${b.err}`);
    }
    // What a page goes on asking of the last answer.
    const day = ["day", "--thickness", "6 cm", "--brine-salt", "5 %", "--brine-nitrite", "150 ppm"];
    const answer = module.ask({words: day}), drawn = module.on(1);
    check(answer.json?.best_day > 0 && answer.chance.includes("<svg") && drawn?.day === 1 &&
              drawn.section.includes("<svg"), day, "the last answer is not kept for the page");
    console.log(`${count} questions: apart by at most ${worst.toExponential(1)}`);
    process.exit(failures ? 1 : 0);
});

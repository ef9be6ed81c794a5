// SPDX-License-Identifier: MIT
// Both pages in a real browser: node browser.js CHROMIUM PROGRAM FOLDER. The cook's page must say
// what the program says; a move of a slider is timed.
"use strict";
const {spawn, spawnSync} = require("child_process");
const fs = require("fs"), path = require("path");
const [, , chromium, program, folder] = process.argv;
for (const name of ["page", "teach"])
    fs.writeFileSync(path.join(folder, name + ".html"),
                     spawnSync(program, [name], {maxBuffer: 1 << 26}).stdout);

const flags = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
               "--disable-background-networking", "--disable-component-update", "--disable-sync",
               "--disable-crash-reporter", "--disable-breakpad", "--remote-debugging-pipe", `--user-data-dir=${path.join(folder, "profile")}`];
const browser = spawn(chromium, flags, {stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"], detached: true});
const gone = new Promise(done => browser.on("exit", done));
const waiting = new Map();
let held = "", last = 0;
browser.stdio[4].on("data", data => {
    const parts = (held + data).split("\0");
    held = parts.pop();
    for (const part of parts.map(p => JSON.parse(p)))
        waiting.get(part.id)?.(part);
});
const send = (method, params = {}, sessionId) => new Promise(done => {
    waiting.set(++last, done);
    browser.stdio[3].write(JSON.stringify({id: last, method, params, sessionId}) + "\0");
});
async function open(name) {
    const url = "file://" + path.join(folder, name);
    const {result: {targetId}} = await send("Target.createTarget", {url, width: 360, height: 760, newWindow: true});
    const {result: {sessionId}} = await send("Target.attachToTarget", {targetId, flatten: true});
    return async expression => {
        const {result} = await send("Runtime.evaluate", {expression, awaitPromise: true, returnByValue: true}, sessionId);
        if (result.exceptionDetails)
            throw Error(JSON.stringify(result.exceptionDetails.exception ?? result.exceptionDetails));
        return result.result.value;
    };
}
const until = async (page, what) => {
    for (let k = 0; k < 600; ++k) {
        if (await page(`document.readyState === "complete" && location.protocol === "file:" && !!(${what})`))
            return;
        await new Promise(done => setTimeout(done, 100));
    }
    throw Error("not within a minute: " + what);
};
const check = (good, what) => { if (!good) throw Error(what); };
const times = list => { list.sort((a, b) => a - b); return `median ${list[list.length >> 1].toFixed(0)} ms, worst ${list.at(-1).toFixed(0)} ms of ${list.length}`; };

const piece = {"cut.shape": "round", "cut.thickness": "65 mm", "cut.weight": "1.2 kg",
               "rest.cooler": "3 C", "strength.brine-salt": "4.5 %",
               "strength.brine-nitrite": "250 ppm", "strength.brine": "2.5 L"};
const words = ["day", "--muscle", "beef-round", "--shape", "round", "--thickness", "65 mm", "--weight",
               "1.2 kg", "--cooler", "3 C", "--law", "us", "--product", "cured", "--afterwards", "eaten",
               "--brine-salt", "4.5 %", "--brine-nitrite", "250 ppm", "--brine", "2.5 L"];

async function run() {
    const page = await open("page.html");
    await until(page, `/^Ready/.test(document.getElementById("state").textContent)`);
    await page(`for (const [id, text] of Object.entries(${JSON.stringify({...piece, "cut.muscle": "beef-round"})}))
                    byId(id).value = text;
                byId("how").value = "strength"; byId("go").click()`);
    await until(page, `/Worked out/.test(byId("state").textContent) || !byId("fault").hidden`);
    const told = await page(`asked.answer.out`);
    const native = spawnSync(program, words, {encoding: "utf8"}).stdout;
    check(told.trimEnd() === native.trimEnd(), `the page says\n${told}\nthe program\n${native}`);
    const moves = await page(`(async () => {
        const times = [];
        for (let k = 0; k < 40; ++k) {
            const began = performance.now();
            show(await program.on(0.5 * k));
            times.push(performance.now() - began);
        }
        return times;
    })()`);
    console.log("another day on the cook's page:", times(moves));

    const teach = await open("teach.html");
    await until(teach, `byId("section").innerHTML.includes("<svg")`);
    await until(teach, `byId("square").innerHTML.includes("<svg")`);
    const slides = await teach(`(async () => {
        const times = [];
        for (let k = 0; k < 40; ++k) {
            byId("thickness").value = 40 + 5 * (k % 12);
            const began = performance.now();
            await moved();
            times.push(performance.now() - began);
        }
        return times;
    })()`);
    console.log("another thickness on the apprentice's:", times(slides));
}
run().then(() => 0, error => { console.log(error.message); return 1; })
    .then(async code => {
        send("Browser.close");
        const slow = setTimeout(() => browser.kill("SIGKILL"), 10000);
        await gone;
        clearTimeout(slow);
        try {
            process.kill(-browser.pid, "SIGKILL"); // what it started itself, and left
        } catch {} // nothing
        process.exit(code);
    });

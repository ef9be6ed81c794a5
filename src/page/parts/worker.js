// SPDX-License-Identifier: MIT
// Runs the program, in a thread of its own so that the page stays alive.
"use strict";
let program, out = [], err = "";

// Standard error as it comes: how far it is goes to the page, the rest into the answer.
function said(text) {
    err += text;
    const far = /(\d+ %) {2}([^\r\n]*)$/.exec(err);
    if (far && typeof importScripts === "function")
        postMessage({far: far[1]});
    err = err.replace(/^.*\r(\x1b\[K)?/s, "");
}

async function start(wasm) {
    program = await engine({
        wasmBinary: wasm, print: line => out.push(line), said});
}

// The program with `words`, as typed behind its name. `files` are written before, `give` read after;
// `day` asks for the section on that day besides.
function ask({words, files = {}, give = [], day}) {
    out = [];
    err = "";
    for (const [name, text] of Object.entries(files))
        text === null ? program.FS.analyzePath(name).exists && program.FS.unlink(name)
                      : program.FS.writeFile(name, text);
    const code = program.callMain(words);
    const answer = {code, out: out.join("\n"), err: err.trim(), files: {}};
    for (const name of give)
        if (program.FS.analyzePath(name).exists)
            answer.files[name] = program.FS.readFile(name, {encoding: "utf8"});
    if (code === 0 && /^(day|plan|bucket)$/.test(words[0])) {
        const json = program.ccall("tidemark_json", "string", [], []);
        answer.json = json ? JSON.parse(json) : null;
        answer.chance = program.ccall("tidemark_chance", "string", [], []);
        if (day !== undefined)
            answer.now = on(day);
    }
    return answer;
}

// The section, the salt and the nitrite of the last answer on a day.
function on(day) {
    const text = program.ccall("tidemark_on", "string", ["number"], [day]);
    return text ? JSON.parse(text) : null;
}

if (typeof importScripts === "function")
    onmessage = async ({data}) => {
        try {
            const answer = data.wasm ? await start(data.wasm)
                           : data.words ? ask(data) : on(data.day);
            postMessage({id: data.id, answer});
        } catch (error) {
            postMessage({id: data.id, broken: String(error)});
        }
    };

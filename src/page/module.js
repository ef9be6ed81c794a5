// SPDX-License-Identifier: MIT
// The module of the pages in node, for the tests: ask(request) and on(day) as in parts/worker.js.
"use strict";
const fs = require("fs"), path = require("path"), zlib = require("zlib");
module.exports = async () => {
    const part = name => fs.readFileSync(path.join(__dirname, "parts", name), "utf8");
    const text = part("engine.txt");
    const all = zlib.gunzipSync(Buffer.from(text.slice(text.indexOf("\n")), "base64"));
    const size = Number(all.subarray(0, 8));
    const source = all.toString("utf8", 8, 8 + size) + part("worker.js") + "return {start, ask, on};";
    const program = new Function("require", "__dirname", source)(require, __dirname);
    await program.start(all.subarray(8 + size));
    return program;
};

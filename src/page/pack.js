// SPDX-License-Identifier: MIT
// Writes parts/engine.txt, the module as text: a line that tells what it was made from, then, in
// base64, the compressed loader and WebAssembly with the loader's length in the first eight bytes.
"use strict";
const fs = require("fs"), path = require("path"), zlib = require("zlib");
const [, , folder, sources] = process.argv;
const loader = fs.readFileSync(path.join(folder, "engine.js"));
const wasm = fs.readFileSync(path.join(folder, "engine.wasm"));
const length = Buffer.from(String(loader.length).padEnd(8));
const packed = zlib.gzipSync(Buffer.concat([length, loader, wasm]), {level: 9});
const lines = packed.toString("base64").match(/.{1,100}/g).join("\n");
fs.writeFileSync(path.join(__dirname, "parts/engine.txt"), `${sources}\n${lines}\n`);
console.log(`engine.txt: ${loader.length} + ${wasm.length} bytes, ${packed.length} compressed`);

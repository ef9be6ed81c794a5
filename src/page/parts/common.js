// SPDX-License-Identifier: MIT
// What both pages share: the program in its worker, its screens as paragraphs, charts.
"use strict";

const byId = id => document.getElementById(id);
const escaped = text => String(text).replace(/[&<>"']/g, c => `&#${c.charCodeAt(0)};`);

// The program, in a thread of its own. One that breaks is started anew.
class Program {
    constructor() {
        this.waiting = new Map();
        this.last = 0;
        this.begun = this.begin();
    }
    async begin() {
        const text = byId("engine").textContent.trim();
        const packed = Uint8Array.from(atob(text.slice(text.indexOf("\n")).replace(/\s/g, "")),
                                       c => c.charCodeAt(0));
        if (!self.DecompressionStream)
            throw Error("this browser is too old for the page: it needs one of 2023 or later");
        const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
        const all = new Uint8Array(await new Response(stream).arrayBuffer());
        const decode = bytes => new TextDecoder().decode(bytes);
        const loader = all.subarray(8, 8 + Number(decode(all.subarray(0, 8))));
        this.source = URL.createObjectURL(new Blob(
            [loader, byId("worker").textContent], {type: "text/javascript"}));
        this.wasm = all.slice(8 + loader.length);
        return this.launch();
    }
    launch() {
        this.worker = new Worker(this.source);
        this.worker.onmessage = ({data}) => {
            if (data.far)
                return this.far?.(data.far);
            const {done, failed} = this.waiting.get(data.id);
            this.waiting.delete(data.id);
            this.far?.("");
            if (!data.broken)
                return done(data.answer);
            failed(Error("the program broke off: " + data.broken));
            this.stop();
        };
        return this.post({wasm: this.wasm});
    }
    // Breaks off whatever it is at.
    stop() {
        this.worker.terminate();
        for (const {failed} of this.waiting.values())
            failed(Error("broken off"));
        this.waiting.clear();
        this.begun = this.launch();
    }
    post(request) {
        const id = ++this.last;
        return new Promise((done, failed) => {
            this.waiting.set(id, {done, failed});
            this.worker.postMessage({...request, id});
        });
    }
    async ask(words, files, give, day) {
        await this.begun;
        return this.post({words, files, give, day});
    }
    async on(day) {
        await this.begun;
        return this.post({day});
    }
}

// A function that does `work` with the newest value alone, one at a time.
function newest(work) {
    let busy = false, next = null;
    return async value => {
        next = {value};
        if (busy)
            return;
        busy = true;
        try {
            while (next) {
                const {value} = next;
                next = null;
                await work(value);
            }
        } finally {
            busy = false;
        }
    };
}

// A line to type as its words.
const wordsOf = line => [...line.matchAll(/"((?:[^"\\]|\\.)*)"|(\S+)/g)]
    .map(m => m[2] ?? m[1].replace(/\\(.)/g, "$1"));

// A screen of the program: paragraphs {head, text}, lines to type {command}, tables {lines}. The map
// in letters is left out: the page draws it.
function paragraphs(screen) {
    const list = [];
    const map = /^ {2}[ #+\-.~OX]*(?: {4}(?:[#+\-.~OX]|={5}) {2}\S.*)?$/;
    for (const line of screen.split("\n")) {
        const last = list.at(-1);
        if (!line.trim() || map.test(line))
            last && last.lines && list.push({});
        else if (/^[A-Z][a-z]{2} \d+ [A-Z][a-z]{2} \d{4} \d\d:\d\d /.test(line)) // of the calendar
            list.push({head: line.slice(0, 22).trim(), text: line.slice(22).trim()});
        else if (/^ {9}tidemark /.test(line))
            list.push({command: line.trim().replace(/ \\$/, "")});
        else if (/^ {13}--/.test(line) && last?.command)
            last.command += " " + line.trim().replace(/ \\$/, "");
        else if (/^[A-Z][A-Z ]{8}$/.test(line.slice(0, 9)))
            list.push({head: line.slice(0, 9).trim(), text: line.slice(9).trim().replace(/ {2,}/g, " ")});
        else if (/^ {4}\d| {4} \d/.test(line.slice(0, 7)))
            list.push({head: "", text: line.trim()});
        else if (/^ {9}/.test(line) && last?.text !== undefined)
            last.text += (last.head === "RECIPE" ? "; " : " ") + line.trim().replace(/ {2,}/g, " ");
        else if (last?.lines)
            last.lines.push(line);
        else
            list.push({lines: [line]});
    }
    return list.filter(p => (p.lines && !p.lines[0].startsWith("--more ")) || p.command || p.text);
}

// The same as HTML: dangers first as the program has them, the best day large.
function shown(screen) {
    const one = p => {
        if (p.command)
            return `<p class="said"><code>${escaped(p.command)}</code>
                <button type="button" data-command="${escaped(p.command)}">Ask that</button></p>`;
        if (p.lines)
            return p.lines.length > 1 && p.lines.some(l => / {3}/.test(l))
                ? `<pre tabindex="0">${escaped(p.lines.join("\n"))}</pre>`
                : `<p class="title">${escaped(p.lines.join(" "))}</p>`;
        const words = (p.head ? `<b>${p.head}</b> ` : "") + escaped(p.text);
        return p.head === "DANGER" ? `<p class="danger" role="alert">${words}</p>`
             : p.head === "WARNING" ? `<p class="warning">${words}</p>`
             : `<p class="said${/^(BEST|NO DAY|NOT SURE)/.test(p.head) ? " best" : ""}">${words}</p>`;
    };
    return paragraphs(screen).map(one).join("");
}

const places = value => value >= 100 ? 0 : value >= 9.95 ? 0 : 1;
const figure = value => Number(value).toFixed(places(value));

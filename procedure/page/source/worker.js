// The language service in this browser: Python by Pyodide, the drawing by Graphviz.
import { loadPyodide } from "./pyodide/pyodide.mjs";

const once = (make) => { let made; return () => (made ??= make()); };
// A file that was packed when the page was made, so that the whole is small on any host.
const unpacked = async (name) => (await fetch(name)).body.pipeThrough(new DecompressionStream("gzip"));
const bytes = async (name) => new Uint8Array(await new Response(await unpacked(name)).arrayBuffer());
// A tar archive, put where Python looks for it; Python's own way with archives takes most of a second.
function unpack({ FS }, held) {
  const words = new TextDecoder(), made = new Set();
  const text = (at, long) => words.decode(held.subarray(at, at + long)).replace(/\0[^]*/, "");
  for (let at = 0; held[at];) {
    const size = parseInt(text(at + 124, 12), 8), before = text(at + 345, 155), name = `/program/${before && `${before}/`}${text(at, 100)}`, folder = name.slice(0, name.lastIndexOf("/"));
    if (!made.has(folder)) { FS.mkdirTree(folder); made.add(folder); }
    FS.writeFile(name, held.subarray(at + 512, at + 512 + size));
    at += 512 + Math.ceil(size / 512) * 512;
  }
}

// Python's own WebAssembly is packed here, and is compiled while what stands below it is on its way.
const WASM = "pyodide/pyodide.asm.wasm";
const compiled = unpacked(`${WASM}.packed`).then((body) =>
  WebAssembly.compileStreaming(new Response(body, { headers: { "Content-Type": "application/wasm" } })));
const fetched = self.fetch.bind(self), streamed = WebAssembly.instantiateStreaming, ours = new WeakSet();
self.fetch = async (asked, about) => {
  if (!String(asked?.url ?? asked).endsWith(WASM)) return fetched(asked, about);
  const standIn = new Response();
  ours.add(standIn);
  return standIn;
};
WebAssembly.instantiateStreaming = async (source, imports) => {
  const given = await source;
  if (!ours.has(given)) return streamed(given, imports);
  const module = await compiled;
  return { module, instance: await WebAssembly.instantiate(module, imports) };
};

// What Python has found where it looks is forgotten; it would forget more in a slower way.
const LOOK_ANEW = `
import sys
if "/program" not in sys.path:
    sys.path.insert(0, "/program")
for place in [one for one in sys.path_importer_cache if one.startswith("/program")]:
    del sys.path_importer_cache[place]`;

const ready = (async () => {
  const program = bytes("program.packed"); // on its way while Python starts
  // Python as it is behind a first check; without it, it begins as it would anywhere.
  const warm = await bytes("warm.packed");
  const indexURL = new URL("./pyodide/", import.meta.url).href;
  const begin = (more) => loadPyodide({ indexURL, ...more });
  const python = await (warm.length ? begin({ _loadSnapshot: warm }).catch(() => begin()) : begin());
  unpack(python, await program); // what it has not loaded yet
  python.runPython(`${LOOK_ANEW}
from procedure.service.in_browser import answered
`);
  return python;
})();
// A check needs no library; they are fetched with the first chart or paper.
const libraries = once(async () => {
  const python = await ready;
  unpack(python, await bytes("libraries.packed"));
  python.runPython(LOOK_ANEW);
});
const graphviz = once(async () => (await import("./graphviz/index.js")).Graphviz.load());

async function answered(question) {
  const asked = JSON.stringify({ ...question, draw: false });
  const ask = async () => JSON.parse((await ready).globals.get("answered")(asked));
  try {
    return await ask();
  } catch (reason) {
    if (!String(reason.message).includes("ModuleNotFoundError")) throw reason;
    await libraries();
    return ask();
  }
}
async function drawn(answer) {
  if (!answer.dot) return answer;
  const { dot, ...rest } = answer;
  return { ...rest, svg: (await graphviz()).layout(dot, "svg", "nop2").replace(/^[\s\S]*?(?=<svg)/, "") };
}

// One question at a time, those of the text before what takes long. What a newer question of its
// kind or a newer text has overtaken is not worked out.
const waiting = [];
const SLOW = "panel";
const overtaken = (question) => waiting.some(({ question: other }) => other.file === question.file
  && (other.ask === question.ask ? ["findings", SLOW].includes(question.ask) : question.ask === SLOW && other.ask === "findings" && other.text !== question.text));
let working = false;
async function work() {
  working = true;
  while (waiting.length) {
    const at = Math.max(waiting.findIndex(({ question }) => question.ask !== SLOW), 0);
    const [{ number, question }] = waiting.splice(at, 1);
    let answer = { dropped: true };
    if (!overtaken(question)) {
      try {
        answer = await drawn(await answered(question));
      } catch (reason) {
        answer = { why: `It could not be worked out in this browser: ${String(reason.message ?? reason).trim().split("\n").findLast((line) => /Error/.test(line)) ?? reason}` };
      }
    }
    self.postMessage({ number, answer });
    await new Promise((done) => setTimeout(done)); // what has come meanwhile is heard first
  }
  working = false;
}
self.onmessage = ({ data }) => { waiting.push(data); if (!working) work(); };

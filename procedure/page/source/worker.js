// The language service in this browser: Python by Pyodide, the drawing by Graphviz.
import { loadPyodide } from "./pyodide/pyodide.mjs";

const once = (make) => { let made; return () => (made ??= make()); };
const bytes = async (name) => (await fetch(name)).arrayBuffer();
// A file that was packed when the page was made, so that the whole is small on any host.
const unpacked = async (name) => (await fetch(name)).body.pipeThrough(new DecompressionStream("gzip"));
const unpack = async (python, archive) => python.unpackArchive(await archive, "zip", { extractDir: "/program" });

// Python asks for its own WebAssembly by a name that is packed here.
const fetched = self.fetch.bind(self);
self.fetch = async (asked, about) => {
  const name = String(asked?.url ?? asked);
  if (!name.endsWith(".wasm")) return fetched(asked, about);
  return new Response(await unpacked(`${name}.packed`), { headers: { "Content-Type": "application/wasm" } });
};

const ready = (async () => {
  const program = bytes("program.zip"); // on its way while Python starts
  // Python as it is behind a first check; without it, it begins as it would anywhere.
  const warm = await new Response(await unpacked("warm.packed")).arrayBuffer();
  const indexURL = new URL("./pyodide/", import.meta.url).href;
  const begin = (more) => loadPyodide({ indexURL, ...more });
  const python = await (warm.byteLength ? begin({ _loadSnapshot: new Uint8Array(warm) }).catch(() => begin()) : begin());
  await unpack(python, program); // what it has not loaded yet
  python.runPython(`
import importlib, sys
if "/program" not in sys.path:
    sys.path.insert(0, "/program")
importlib.invalidate_caches()
from procedure.service.in_browser import answered
`);
  return python;
})();
// A check needs no library; they are fetched with the first chart or paper.
const libraries = once(async () => {
  const python = await ready;
  await unpack(python, bytes("libraries.zip"));
  python.runPython("import importlib; importlib.invalidate_caches()");
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

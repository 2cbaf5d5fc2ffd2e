// The language service in this browser: Python by Pyodide, the drawing by Graphviz.
import { loadPyodide } from "./pyodide/pyodide.mjs";

const bytes = async (name) => (await fetch(name)).arrayBuffer();
const once = (make) => { let made; return () => (made ??= make()); };
const unpack = async (python, archive) => python.unpackArchive(await archive, "zip", { extractDir: "/program" });

const ready = (async () => {
  const program = bytes("program.zip"); // on its way while Python starts
  const python = await loadPyodide({ indexURL: new URL("./pyodide/", import.meta.url).href });
  await unpack(python, program);
  python.runPython(`
import json, sys
sys.path.insert(0, "/program")
from pathlib import Path
from procedure.service.answers import answer
from procedure.service.desk import Desk
Path("/desk").mkdir()
desk = Desk(Path("/desk"))
def answered(said):
    asked = json.loads(said)
    return json.dumps(answer(desk, Path("/desk") / asked["file"], asked))
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

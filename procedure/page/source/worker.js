// The language service in this browser: Python by Pyodide, the drawing by Graphviz.
import { loadPyodide } from "./pyodide/pyodide.mjs";
import { Graphviz } from "./graphviz/index.js";

const ready = (async () => {
  const python = await loadPyodide({ indexURL: new URL("./pyodide/", import.meta.url).href });
  const archive = await (await fetch("program.zip")).arrayBuffer();
  python.unpackArchive(archive, "zip", { extractDir: "/program" });
  python.runPython(`
import gc, json, sys
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
  return python.globals.get("answered");
})();
let graphviz;

async function drawn(answer) {
  if (!answer.dot) return answer;
  graphviz ??= await Graphviz.load();
  const { dot, ...rest } = answer;
  return { ...rest, svg: graphviz.layout(dot, "svg", "nop2").replace(/^[\s\S]*?(?=<svg)/, "") };
}

const NOT_HERE = { timetable: "The timetable is made by the program on one's own machine: vatwright timetable." };
self.onmessage = async ({ data: { number, question } }) => {
  let answer;
  try {
    const answered = await ready;
    answer = question.panel in NOT_HERE ? { why: NOT_HERE[question.panel] } : await drawn(JSON.parse(answered(JSON.stringify({ ...question, draw: false }))));
  } catch (reason) {
    answer = { why: `It could not be worked out in this browser: ${String(reason.message ?? reason).trim().split("\n").findLast((line) => /Error/.test(line)) ?? reason}` };
  }
  self.postMessage({ number, answer });
};

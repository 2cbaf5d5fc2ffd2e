// What every part of the page shares: what is open, how to ask, and how to make an element.
import { EditorView } from "@codemirror/view";
import { asked } from "asking";

export const now = { file: "", stamp: "", saved: "", panel: "chart", found: [], view: null, checking: false,
  fibre: "", gathered: "", bench: false, start: "", hours: "9-18", hands: "1", days: "", other: "" };

// What is on its way: assistive technology is told, and so is whoever waits for the page to rest.
let pending = 0;
export function busy(more) {
  pending += more;
  document.querySelector("main").setAttribute("aria-busy", pending > 0);
}
export async function whileBusy(act) {
  busy(1);
  try { return await act(); } finally { busy(-1); }
}

export const by = (id) => document.getElementById(id);
// Only what has changed is put on the screen: with every key the same words would be laid out anew.
export function put(id, text) { if (by(id).textContent !== text) by(id).textContent = text; }
export const say = (text) => put("state", text);
export const textNow = () => now.view?.state.doc.toString() ?? "";
export const ask = (question) => asked("ask", { ...question, file: now.file, text: textNow() });

export function made(tag, about = {}, ...inside) {
  const one = document.createElement(tag);
  for (const [name, value] of Object.entries(about)) {
    if (name.startsWith("on")) one.addEventListener(name.slice(2), value);
    else one.setAttribute(name, value);
  }
  one.append(...inside);
  return one;
}

const PAIRS = /[\ud800-\udfff]/;
// Columns of the service count characters; those of the editor count UTF-16 units.
export function place(doc, line, column) {
  const at = doc.line(Math.min(Math.max(line, 1), doc.lines));
  if (!PAIRS.test(at.text)) return Math.min(at.from + column - 1, at.to);
  let units = 0, seen = 1;
  for (const character of at.text) { if (seen++ >= column) break; units += character.length; }
  return at.from + units;
}
export function lineColumn(doc, pos) {
  const at = doc.lineAt(pos);
  return { line: at.number, column: [...at.text.slice(0, pos - at.from)].length + 1 };
}

// On a narrow screen one side is seen at a time, each where it was left.
const left = {};
export function side(name) {
  const shown = document.querySelector("main").dataset;
  if (shown.side !== name) {
    left[shown.side] = scrollY;
    shown.side = name;
    scrollTo(0, left[name] ?? 0);
  }
  for (const button of by("sides").children) button.setAttribute("aria-pressed", button.dataset.side === name);
}
export function toLine(line) {
  side("text");
  const at = now.view.state.doc.line(Math.min(line, now.view.state.doc.lines));
  now.view.dispatch({ selection: { anchor: at.from, head: at.to }, effects: EditorView.scrollIntoView(at.from, { y: "center" }) });
  now.view.focus();
}

// The text: what is typed is checked as it is typed, and helped on where the cursor is.
import { EditorState, RangeSet } from "@codemirror/state";
import { Decoration, EditorView, ViewPlugin, keymap, hoverTooltip, drawSelection } from "@codemirror/view";
import { defaultKeymap, history, historyField, historyKeymap } from "@codemirror/commands";
import { autocompletion, completionKeymap } from "@codemirror/autocomplete";
import { indentUnit } from "@codemirror/language";
import { ask, by, lineColumn, made, now, place, put, say, toLine, whileBusy } from "./here.js";
import { decorations, marks, setMarks } from "./marks.js";
import { cursorMoved, later } from "./beside.js";
import { finding, findingKeys } from "./find.js";
import { note } from "./keeping.js";

let turn = 0;
async function check() {
  const mine = ++turn, { file } = now;
  const told = await ask({ ask: "findings" });
  if (mine !== turn || file !== now.file) return; // a newer keystroke has come
  if (told.dropped) { setTimeout(checkSoon, 1000); return; } // for the same file in another window
  if (told.why) {
    put("told", told.why);
    by("next").hidden = true;
    return;
  }
  now.found = told.findings;
  const { state } = now.view, made = decorations(state.doc, told);
  // Most keys change no colour and no finding: then nothing need be laid out and painted again.
  if (!RangeSet.eq([state.field(marks)], [made])) now.view.dispatch({ effects: setMarks.of(made) });
  const count = (level) => told.findings.filter((one) => one.level === level).length;
  const parts = [["error", "to stop for"], ["warning", "to take care of"], ["note", "to know"]]
    .map(([level, words]) => [count(level), words]).filter(([n]) => n).map(([n, words]) => `${n} ${words}`);
  by("next").hidden = !told.findings.some((one) => one.here);
  put("told", parts.join(", ") || "Nothing is missing that a second person would need.");
  const title = told.title ? `${told.title} – Vatwright` : "Vatwright";
  if (document.title !== title) document.title = title;
}

// While a check is on its way newer keystrokes wait for it, and only the last is asked; but not
// for long: then it is overtaken, and dropped where it is made.
const PATIENCE = 250; // milliseconds
let again = false, checked = null, since = 0, pass = null;
function overtake() {
  if (pass && again && performance.now() - since >= PATIENCE) pass();
}
export function checkSoon() {
  if (checked) { again = true; overtake(); return checked; }
  now.checking = true;
  return (checked = whileBusy(checking).finally(() => { checked = null; now.checking = false; }));
}
async function checking() {
  do {
    again = false;
    since = performance.now();
    const timer = setTimeout(overtake, PATIENCE);
    await Promise.race([check(), new Promise((done) => { pass = done; })]);
    clearTimeout(timer);
    pass = null;
  } while (again);
}

const choices = async (context) => {
  const { doc } = context.state, line = doc.lineAt(context.pos);
  // The same text is read for its findings: what was read then need not be read again.
  await checked;
  if (context.aborted) return null;
  const word = context.matchBefore(/[\p{L}\p{N}.%°-]*/u);
  if (!context.explicit && word && word.from === word.to && !/\s$/.test(line.text.slice(0, context.pos - line.from))) return null;
  const { choices: every = [] } = await ask({ ask: "choices", ...lineColumn(doc, context.pos) });
  if (!every.length) return null;
  const from = place(doc, every[0].line, every[0].column);
  // What is written already is no choice: Enter is to begin a line then.
  if (every.length === 1 && every[0].text === context.state.sliceDoc(from, context.pos)) return null;
  return { from, filter: false, options: every.map((one) => ({ label: one.text, info: one.says })) };
};
const hover = hoverTooltip(async (editor, pos) => {
  const { told } = await ask({ ask: "told", ...lineColumn(editor.state.doc, pos) });
  if (!told) return null;
  return { pos, above: true, create: () => ({ dom: made("div", {}, made("strong", {}, told.title), ...told.sentences.map((one) => made("p", {}, one))) }) };
}, { hideOnChange: true });

// Indentation means something here: what is left of a long line goes on deeper than it began.
const hanging = ViewPlugin.fromClass(class {
  constructor(view) { this.lines = this.every(view); }
  update({ docChanged, viewportChanged, view }) { if (docChanged || viewportChanged) this.lines = this.every(view); }
  every({ state, visibleRanges }) {
    const made = [];
    for (const { from, to } of visibleRanges) {
      for (let at = from; at <= to;) {
        const line = state.doc.lineAt(at), deep = Math.min(/^ */.exec(line.text)[0].length, 24) + 4;
        made.push(Decoration.line({ attributes: { style: `text-indent:-${deep}ch;padding-left:calc(${deep}ch + 6px)` } }).range(line.from));
        at = line.to + 1;
      }
    }
    return Decoration.set(made);
  }
}, { decorations: (plugin) => plugin.lines });

let saveNow = () => {};
const extensions = () => [
  history(), drawSelection(), indentUnit.of("  "), marks, finding, hover,
  autocompletion({ override: [choices], icons: false }),
  EditorView.lineWrapping, hanging,
  EditorView.contentAttributes.of({ "aria-label": "The procedure, as text", spellcheck: "false", tabindex: "0" }),
  keymap.of([
    { key: "Mod-s", preventDefault: true, run: () => { saveNow(); return true; } },
    { key: "F8", run: () => { step(1); return true; } }, { key: "Shift-F8", run: () => { step(-1); return true; } },
    ...completionKeymap, ...findingKeys, ...historyKeymap, ...defaultKeymap,
  ]),
  EditorView.updateListener.of((update) => {
    if (update.docChanged) { note(); checkSoon(); later(); }
    if (update.selectionSet) cursorMoved();
  }),
];

by("next").addEventListener("click", () => step(1));

// To the next line with a finding, or the one before.
function step(way) {
  const line = now.view.state.doc.lineAt(now.view.state.selection.main.head).number;
  const lines = [...new Set(now.found.filter((one) => one.here).map((one) => one.line))].sort((a, b) => (a - b) * way);
  const next = lines.find((one) => (one - line) * way > 0) ?? lines[0];
  if (next) toLine(next);
}
// ``told`` is what was kept of a file: its text, what was not saved, and what can be undone.
export function showText(told, save) {
  saveNow = save;
  const text = told.journal ?? told.text;
  // What was written after the last pause is one step that can be undone.
  const past = told.history ? told.past ?? text : told.text;
  let state;
  try {
    state = told.history
      ? EditorState.fromJSON({ doc: past, selection: { main: 0, ranges: [{ anchor: 0, head: 0 }] }, history: told.history }, { extensions: extensions() }, { history: historyField })
      : EditorState.create({ doc: past, extensions: extensions() });
    const long = state.doc.length;
    if (past !== text) state = state.update({ changes: { from: 0, to: long, insert: text } }).state;
  } catch { state = EditorState.create({ doc: text, extensions: extensions() }); }
  if (now.view) now.view.setState(state);
  else now.view = new EditorView({ state, parent: by("writing") });
}
export function replaceAll(text) {
  const here = now.view.state.doc.toString();
  if (here === text) return;
  // Only what differs, so that the cursor stays where it was.
  const most = Math.min(here.length, text.length);
  let from = 0, end = 0;
  while (from < most && here[from] === text[from]) from++;
  while (end < most - from && here.at(-1 - end) === text.at(-1 - end)) end++;
  now.view.dispatch({ changes: { from, to: here.length - end, insert: text.slice(from, text.length - end) } });
}

// The page: the text with what is found under its lines, and beside it what comes of it.
// It knows nothing of dyeing: everything it says comes from the language service.
import { EditorState, StateEffect, StateField } from "@codemirror/state";
import { EditorView, Decoration, WidgetType, keymap, hoverTooltip, drawSelection } from "@codemirror/view";
import { defaultKeymap, history, historyField, historyKeymap } from "@codemirror/commands";
import { autocompletion, completionKeymap } from "@codemirror/autocomplete";
import { search, searchKeymap } from "@codemirror/search";
import { indentUnit } from "@codemirror/language";
import { asked, more } from "asking";

const by = (id) => document.getElementById(id);
const PANELS = [
  ["chart", "Chart"], ["amounts", "Amounts"], ["paper", "Paper"],
  ["timetable", "Timetable"], ["lots", "Lots"], ["help", "Help"],
];
const now = { file: "", stamp: "", panel: "chart", fibre: "", gathered: "", bench: false, found: [], steps: {} };
let view;

function made(tag, about = {}, ...inside) {
  const one = document.createElement(tag);
  for (const [name, value] of Object.entries(about)) {
    if (name.startsWith("on")) one.addEventListener(name.slice(2), value);
    else one.setAttribute(name, value);
  }
  one.append(...inside);
  return one;
}
const say = (text) => { by("state").textContent = text; };

// ---------------------------------------------------------------- what stands in the text

const setMarks = StateEffect.define();
const marks = StateField.define({
  create: () => Decoration.none,
  update(kept, change) {
    kept = kept.map(change.changes);
    for (const effect of change.effects) if (effect.is(setMarks)) kept = effect.value;
    return kept;
  },
  provide: (field) => EditorView.decorations.from(field),
});

class Told extends WidgetType {
  constructor(one) { super(); this.one = one; }
  eq(other) { return JSON.stringify(other.one) === JSON.stringify(this.one); }
  toDOM() {
    const { level, sentence, remedy, rule, allowed, line, source } = this.one;
    const box = made("div", { class: `told ${level}`, "data-rule": rule, title: source ? `Source: ${source}` : "" },
      made("b", {}, { error: "Stop: ", warning: "Take care: ", note: "Note: " }[level]), `${sentence} ${remedy}`);
    if (allowed) box.append(` Allowed: ${allowed}`);
    box.append(made("div", {},
      made("button", { type: "button", onclick: (e) => cures(line, rule, e.target) }, "What can be done"),
      made("button", { type: "button", onclick: () => why(rule) }, "Why it matters")));
    return box;
  }
  ignoreEvent() { return true; }
}

class Amount extends WidgetType {
  constructor(text) { super(); this.text = text; }
  eq(other) { return other.text === this.text; }
  toDOM() { return made("span", { class: "amount" }, this.text); }
}

// Columns of the service count characters; those of the editor count UTF-16 units.
function place(doc, line, column) {
  const at = doc.line(Math.min(Math.max(line, 1), doc.lines));
  let units = 0, seen = 1;
  for (const character of at.text) { if (seen++ >= column) break; units += character.length; }
  return at.from + units;
}
function lineColumn(doc, pos) {
  const at = doc.lineAt(pos);
  return { line: at.number, column: [...at.text.slice(0, pos - at.from)].length + 1 };
}

function decorate(doc, told) {
  const every = [];
  for (const [line, column, to, kind] of told.colours) {
    const from = place(doc, line, column), end = place(doc, line, to);
    if (from < end) every.push(Decoration.mark({ class: `v-${kind}` }).range(from, end));
  }
  for (const [line, column, text] of told.amounts) {
    every.push(Decoration.widget({ widget: new Amount(text), side: 1 }).range(place(doc, line, column)));
  }
  for (const one of told.findings) {
    if (!one.here) continue;
    const from = place(doc, one.line, one.column), end = place(doc, one.line, one.to);
    if (from < end) every.push(Decoration.mark({ class: `m-${one.level}` }).range(from, end));
    const under = doc.line(Math.min(one.line, doc.lines)).to;
    every.push(Decoration.widget({ widget: new Told(one), block: true, side: 2 }).range(under));
  }
  return Decoration.set(every, true);
}

function change(edits, select) {
  const doc = view.state.doc;
  const changes = edits.map(([line, column, to, insert]) => ({ from: place(doc, line, column), to: place(doc, line, to), insert }));
  view.dispatch({ changes });
  if (select) {
    const [line, column, to] = select, after = view.state.doc;
    view.dispatch({ selection: { anchor: place(after, line, column), head: place(after, line, to) } });
  }
  view.focus();
}

async function cures(line, rule, button) {
  const { remedies } = await ask({ ask: "remedies", line });
  const fitting = (remedies || []).filter((one) => one.rule === rule);
  const box = made("span", {}, ...fitting.map((one) =>
    made("button", { type: "button", class: "cure", onclick: () => change(one.edits, one.fill) }, one.says)));
  if (!fitting.length) box.textContent = "Only the writer can put this right: the sentence says how.";
  button.replaceWith(box);
  box.querySelector("button")?.focus();
}

async function why(rule) {
  const told = await ask({ ask: "why", rule });
  choose("help", [made("h2", {}, told.what || ""), made("p", {}, told.reason || told.why || ""),
    made("p", {}, "This brings it up:"), made("pre", {}, told.trips || ""),
    made("p", {}, "This is right:"), made("pre", {}, told.cure || ""), made("p", { class: "why" }, `Source: ${told.source || ""}`)]);
}

// ---------------------------------------------------------------- asking

let turn = 0;
const ask = (question) => asked("ask", { ...question, file: now.file, text: view.state.doc.toString() });

async function check() {
  const mine = ++turn;
  const told = await ask({ ask: "findings" });
  if (mine !== turn) return; // a newer keystroke has come
  if (told.why) { say(told.why); return; }
  now.found = told.findings;
  view.dispatch({ effects: setMarks.of(decorate(view.state.doc, told)) });
  const count = (level) => told.findings.filter((one) => one.level === level).length;
  const parts = [["error", "to stop for"], ["warning", "to take care of"], ["note", "to know"]]
    .map(([level, words]) => [count(level), words]).filter(([n]) => n).map(([n, words]) => `${n} ${words}`);
  by("told").textContent = parts.join(", ") || "Nothing is missing that a second person would need.";
  document.title = told.title ? `${told.title} – Vatwright` : "Vatwright";
  later();
}
let panelSoon;
function later() { clearTimeout(panelSoon); panelSoon = setTimeout(() => now.panel !== "help" && show(), 700); }

// One check at a time: while it is on its way newer keystrokes wait, and only the last is asked.
let busy = false, again = false;
async function checkSoon() {
  if (busy) { again = true; return; }
  busy = true;
  do { again = false; await check(); } while (again);
  busy = false;
}

// ---------------------------------------------------------------- keeping

let noting = false, noteAgain = false;
const past = () => view.state.toJSON({ history: historyField }).history;
async function note() {
  if (noting) { noteAgain = true; return; }
  noting = true;
  do {
    noteAgain = false;
    const told = await asked("note", { file: now.file, text: view.state.doc.toString(), stamp: now.stamp, history: past() });
    say(told.why || "Not saved yet; kept all the same.");
  } while (noteAgain);
  noting = false;
}
async function save() {
  const told = await asked("save", { file: now.file, text: view.state.doc.toString(), stamp: now.stamp, history: past() });
  if (told.why) { say(told.why); return; }
  now.stamp = told.stamp;
  if (told.file !== now.file) {
    say(`${now.file} was changed elsewhere and is as it was left there. Yours is kept as ${told.file}.`);
    await list(told.file);
    now.file = told.file;
  } else say("Saved.");
}
async function look() {
  if (!now.file) return;
  const { stamp } = await asked("stamp", { file: now.file });
  if (stamp !== undefined && stamp !== now.stamp && now.stamp) {
    say(`${now.file} has been changed elsewhere. Saving will keep both.`);
  }
}

// ---------------------------------------------------------------- the text

const choices = async (context) => {
  const word = context.matchBefore(/[\p{L}\p{N}.%°-]*/u);
  if (!context.explicit && word && word.from === word.to && !/\s$/.test(context.state.doc.lineAt(context.pos).text.slice(0, context.pos - context.state.doc.lineAt(context.pos).from))) return null;
  const told = await ask({ ask: "choices", ...lineColumn(context.state.doc, context.pos) });
  const every = told.choices || [];
  if (!every.length) return null;
  const from = place(context.state.doc, every[0].line, every[0].column);
  return { from, filter: false, options: every.map((one) => ({ label: one.text, info: one.says })) };
};
const hover = hoverTooltip(async (editor, pos) => {
  const { told } = await ask({ ask: "told", ...lineColumn(editor.state.doc, pos) });
  if (!told) return null;
  return { pos, above: true, create: () => ({ dom: made("div", {}, made("strong", {}, told.title), ...told.sentences.map((one) => made("p", {}, one))) }) };
});
const help = async () => {
  const spot = lineColumn(view.state.doc, view.state.selection.main.head);
  const [{ told }, clauses] = [await ask({ ask: "told", ...spot }), await ask({ ask: "clauses", ...spot })];
  const inside = [made("p", { class: "why" }, "Put the cursor on a word, and this side tells what it means and what is there at that point.")];
  if (told) inside.push(made("h2", {}, told.title), ...told.sentences.map((one) => made("p", {}, one)));
  if (clauses.verb) {
    inside.push(made("h2", {}, `${clauses.verb}: what it can say`), made("p", {}, clauses.meaning),
      made("table", {}, ...clauses.clauses.map((one) => made("tr", {}, made("td", {}, one.form), made("td", {}, `${one.says}${one.needed ? " (needed)" : ""}${one.said ? " – said" : ""}`)))));
  }
  by("panel").replaceChildren(...inside);
};
let helpSoon;
const extensions = () => [
  history(), drawSelection(), indentUnit.of("  "), marks, search(), hover,
  autocompletion({ override: [choices], icons: false }),
  EditorView.lineWrapping,
  EditorView.contentAttributes.of({ "aria-label": "The procedure, as text", spellcheck: "false" }),
  keymap.of([
    { key: "Mod-s", preventDefault: true, run: () => { save(); return true; } },
    { key: "F8", run: () => { step(1); return true; } }, { key: "Shift-F8", run: () => { step(-1); return true; } },
    ...completionKeymap, ...searchKeymap, ...historyKeymap, ...defaultKeymap,
  ]),
  EditorView.updateListener.of((update) => {
    if (update.docChanged) { note(); checkSoon(); }
    if (update.selectionSet && now.panel === "help") { clearTimeout(helpSoon); helpSoon = setTimeout(help, 200); }
    if (update.selectionSet) mark();
  }),
];

function step(way) {
  const line = view.state.doc.lineAt(view.state.selection.main.head).number;
  const lines = [...new Set(now.found.filter((one) => one.here).map((one) => one.line))].sort((a, b) => (a - b) * way);
  const next = lines.find((one) => (one - line) * way > 0) ?? lines[0];
  if (next) toLine(next);
}
function toLine(line) {
  side("text");
  const at = view.state.doc.line(Math.min(line, view.state.doc.lines));
  view.dispatch({ selection: { anchor: at.from, head: at.to }, effects: EditorView.scrollIntoView(at.from, { y: "center" }) });
  view.focus();
}

async function open(file) {
  now.file = file;
  const told = await asked("open", { file });
  if (told.why) { say(told.why); return; }
  now.stamp = told.stamp;
  const text = told.journal ?? told.text;
  let state;
  try {
    state = EditorState.fromJSON({ doc: text, selection: { main: 0, ranges: [{ anchor: 0, head: 0 }] }, history: told.history }, { extensions: extensions() }, told.history ? { history: historyField } : {});
  } catch { state = EditorState.create({ doc: text, extensions: extensions() }); }
  if (view) view.setState(state); else view = new EditorView({ state, parent: by("writing") });
  say(told.journal === null ? "" : "What you wrote last time was not saved; here it is.");
  await checkSoon();
  await show();
}

// ---------------------------------------------------------------- beside it

function choose(name, inside) {
  now.panel = name;
  for (const tab of by("tabs").children) {
    const on = tab.dataset.panel === name;
    tab.setAttribute("aria-selected", on);
    tab.tabIndex = on ? 0 : -1;
    if (on) by("panel").setAttribute("aria-labelledby", tab.id);
  }
  side("beside");
  if (inside) by("panel").replaceChildren(...inside); else show();
}
const SHOWN = { chart, amounts, paper, timetable, lots };
async function show() {
  if (now.panel === "help") { await help(); return; }
  const name = now.panel;
  const told = await ask({ ask: "panel", panel: name, fibre: now.fibre, gathered: now.gathered, bench: now.bench });
  if (name !== now.panel) return;
  const inside = SHOWN[name](told);
  if (told.why) inside.push(made("p", { class: "why", role: "status" }, told.why));
  by("panel").replaceChildren(...inside);
  mark();
}
function chart(told) {
  if (!told.svg) return [];
  const box = made("div", {});
  const drawn = new DOMParser().parseFromString(told.svg, "image/svg+xml").documentElement;
  for (const bad of drawn.querySelectorAll("script, foreignObject")) bad.remove();
  now.steps = told.lines;
  for (const [node, line] of Object.entries(told.lines)) {
    const figure = drawn.getElementById ? drawn.querySelector(`[id="step-${node}"]`) : null;
    if (!figure) continue;
    figure.setAttribute("data-line", line);
    figure.addEventListener("click", () => toLine(line));
  }
  box.append(document.importNode(drawn, true));
  // importNode drops listeners, so they are set on what is shown.
  for (const figure of box.querySelectorAll("[data-line]")) figure.addEventListener("click", () => toLine(Number(figure.dataset.line)));
  return [box];
}
function mark() {
  if (!view || now.panel !== "chart") return;
  const line = String(view.state.doc.lineAt(view.state.selection.main.head).number);
  for (const figure of by("panel").querySelectorAll("[data-line]")) {
    figure.style.filter = figure.dataset.line === line ? "drop-shadow(0 0 3px #2c5a3d)" : "";
  }
}
function amounts(told) {
  const field = (name, words, hint) => made("label", {}, words, made("input", { name, value: now[name], placeholder: hint, autocomplete: "off" }));
  const form = made("form", { onsubmit: (event) => {
    event.preventDefault();
    const data = new FormData(event.target);
    now.fibre = data.get("fibre").trim(); now.gathered = data.get("gathered").trim();
    show();
  } }, field("fibre", "For so much fibre", "600 g"), field("gathered", "Or for what was gathered", "tansy = 800 g"), made("button", {}, "Work it out"));
  const toline = (line) => line ? made("button", { type: "button", class: "toline", onclick: () => toLine(line) }, `line ${line}`) : "";
  const rows = (told.rows || []).map((row) => made("tr", {}, made("td", {}, row.amount || "______"), made("td", {}, row.name), made("td", {}, [row.written, row.condition].filter(Boolean).join("; ")), made("td", {}, toline(row.line))));
  const head = made("tr", {}, ...["Amount", "Of what", "As written", "Where"].map((word) => made("th", { scope: "col" }, word)));
  return [form, ...(told.said || []).map((one) => made("p", {}, one)),
    ...(told.fibre || []).map((one) => made("p", {}, `${one.name}: ${one.amount}`)),
    ...(rows.length ? [made("table", {}, head, ...rows)] : [])];
}
function paper(told) {
  const frame = made("iframe", { title: "The paper", sandbox: "allow-same-origin allow-modals", srcdoc: told.html || "" });
  const swap = made("button", { type: "button", onclick: () => { now.bench = !now.bench; show(); } }, now.bench ? "The whole paper" : "One page for the wall");
  return [made("p", {}, made("button", { type: "button", onclick: () => frame.contentWindow.print() }, "Print it"), " ", swap), frame];
}
function timetable(told) {
  return [made("p", { class: "why" }, "Tomorrow from nine to six, with one pair of hands. The command “vatwright timetable” plans for other hours and people."),
    made("pre", { tabindex: "0" }, told.text || ""), ...(told.supposed || []).map((one) => made("p", {}, one))];
}
function lots(told) {
  return (told.lots || []).flatMap((lot) => [made("h2", {}, lot.name), made("p", {}, `${lot.fibre}: ${lot.short}`),
    made("ol", {}, ...lot.events.map((event) => made("li", {}, event.said + " ", event.line ? made("button", { type: "button", class: "toline", onclick: () => toLine(event.line) }, `line ${event.line}`) : "")))]);
}

function side(name) {
  document.querySelector("main").dataset.side = name;
  for (const button of by("sides").children) button.setAttribute("aria-pressed", button.dataset.side === name);
}

// ---------------------------------------------------------------- beginning

const FIRST = (title) => `procedure "${title}"
  by "your name"
  makes "what comes of it"
  place outdoors
  wearing gloves

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  hob: hotplate, 2 kW

materials
  onion: onion skins, dried

steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
`;
async function begin() {
  by("asked").textContent = "What is the procedure called?";
  by("answered").value = "";
  by("asking").showModal();
  by("asking").onclose = async () => {
    const title = by("answered").value.replace(/["\n]/g, "").trim();
    if (by("asking").returnValue !== "yes" || !title) return;
    const file = `${title.toLowerCase().normalize("NFKD").replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || "procedure"}.dye`;
    const { text, stamp, why: reason } = await asked("open", { file });
    if (reason) { say(reason); return; }
    if (text || stamp) { say(`There is a ${file} already; here it is.`); await list(file); await open(file); return; }
    const told = await asked("save", { file, text: FIRST(title), stamp: "" });
    await list(told.file); await open(told.file);
  };
}
async function list(chosen) {
  const { files, first } = await asked("start", {});
  const every = [...new Set([...files, ...(chosen ? [chosen] : first ? [first] : [])])];
  by("file").replaceChildren(...every.map((name) => made("option", { value: name }, name)));
  by("file").value = chosen || first;
  return chosen || first;
}
for (const [name, words] of PANELS) {
  by("tabs").append(made("button", { type: "button", role: "tab", id: `tab-${name}`, "data-panel": name, "aria-controls": "panel", "aria-selected": name === now.panel, onclick: () => choose(name),
    onkeydown: (event) => {
      const way = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (!way) return;
      const all = [...by("tabs").children];
      const next = all[(all.indexOf(event.target) + way + all.length) % all.length];
      next.focus(); choose(next.dataset.panel);
    } }, words));
}
for (const button of by("sides").children) button.addEventListener("click", () => side(button.dataset.side));
by("save").addEventListener("click", save);
by("new").addEventListener("click", begin);
by("file").addEventListener("change", (event) => open(event.target.value));
setInterval(look, 3000);
more(document.querySelector("header"), () => view?.state.doc.toString() ?? "", () => now.file, async (name) => { await list(name); await open(name); });
const first = await list();
if (first) await open(first); else { say("There is no procedure here yet. Begin one."); begin(); }

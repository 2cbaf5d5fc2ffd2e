// What stands in the text besides the words: colours, amounts worked out, findings under lines.
import { StateEffect, StateField } from "@codemirror/state";
import { EditorView, Decoration, WidgetType } from "@codemirror/view";
import { ask, made, place, now } from "./here.js";
import { beside } from "./beside.js";

export const setMarks = StateEffect.define();
export const marks = StateField.define({
  create: () => Decoration.none,
  update(kept, change) {
    kept = kept.map(change.changes);
    for (const effect of change.effects) if (effect.is(setMarks)) kept = effect.value;
    return kept;
  },
  provide: (field) => EditorView.decorations.from(field),
});

const LEVELS = { error: "Stop: ", warning: "Take care: ", note: "Note: " };

class Told extends WidgetType {
  constructor(one) { super(); this.one = one; this.key = JSON.stringify(one); }
  eq(other) { return this.key === other.key; }
  toDOM() {
    const { level, sentence, remedy, rule, allowed, line, source } = this.one;
    const box = made("div", { class: `told ${level}`, "data-rule": rule, title: source ? `Source: ${source}` : "" },
      made("b", {}, LEVELS[level]), `${sentence} ${remedy}`);
    if (allowed) box.append(` Allowed: ${allowed}`);
    box.append(made("div", {},
      made("button", { type: "button", onclick: (event) => cures(line, rule, event.target) }, "What can be done"),
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

// A word keeps its colour while it is written on, and each kind of word has one mark for all.
const kinds = {};
const coloured = (kind) => (kinds[kind] ??= Decoration.mark({ class: `v-${kind}`, inclusiveEnd: true }));

export function decorations(doc, told) {
  const every = [];
  for (const [line, column, to, kind] of told.colours) {
    const from = place(doc, line, column), end = place(doc, line, to);
    if (from < end) every.push(coloured(kind).range(from, end));
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

// Edits as the service gives them: line, column, column behind, what stands there then.
export function change(edits, select) {
  const { view } = now, doc = view.state.doc;
  view.dispatch({ changes: edits.map(([line, column, to, insert]) => ({ from: place(doc, line, column), to: place(doc, line, to), insert })) });
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
  // To allow it is no cure: the sentence says what is, and a beginner is not to take one for the other.
  if (!fitting.some((one) => one.safe)) box.prepend("Only the writer can put this right: the sentence says how. ");
  button.replaceWith(box);
  box.querySelector("button")?.focus();
}

async function why(rule) {
  const told = await ask({ ask: "why", rule });
  beside("help", [made("h2", {}, told.what || ""), made("p", {}, told.reason || told.why || ""),
    made("p", {}, "This brings it up:"), made("pre", {}, told.trips || ""),
    made("p", {}, "This is right:"), made("pre", {}, told.cure || ""), made("p", { class: "why" }, `Source: ${told.source || ""}`)]);
}

// What comes of the text: the chart, amounts, the paper, a timetable, the lots, what changed, help.
import { asked } from "asking";
import { ask, busy, by, lineColumn, made, now, say, side, toLine, whileBusy } from "./here.js";

export const PANELS = [
  ["chart", "Chart"], ["amounts", "Amounts"], ["paper", "Paper"], ["timetable", "Timetable"],
  ["lots", "Lots"], ["changes", "What changed"], ["help", "Help"],
];
const QUIET = 900; // milliseconds without a keystroke before what stands beside is made anew

let soon = 0;
// Called at every keystroke: what takes long waits until its writer pauses and the check is done.
export function later() {
  if (soon) clearTimeout(soon); else busy(1);
  soon = setTimeout(async () => {
    soon = 0;
    if (now.checking) { busy(-1); later(); return; }
    try { if (now.panel !== "help") await show(); } finally { busy(-1); }
  }, QUIET);
}
let helpSoon;
export function cursorMoved() {
  if (now.panel === "help") { clearTimeout(helpSoon); helpSoon = setTimeout(help, 200); }
  mark();
}

export function beside(name, inside) {
  now.panel = name;
  for (const tab of by("tabs").children) {
    const on = tab.dataset.panel === name;
    tab.setAttribute("aria-selected", on);
    tab.tabIndex = on ? 0 : -1;
    if (on) by("panel").setAttribute("aria-labelledby", tab.id);
  }
  side("beside");
  by("panel").replaceChildren(...(inside ?? [made("p", { class: "why" }, "One moment.")]));
  if (!inside) show();
}

const line = (number) => number ? made("button", { type: "button", class: "toline", onclick: () => toLine(number) }, `line ${number}`) : "";
const paragraphs = (sentences) => (sentences || []).map((one) => made("p", {}, one));

// A form whose answers are kept in ``now`` and asked with the panel.
function form(words, ...fields) {
  return made("form", { onsubmit: (event) => {
    event.preventDefault();
    for (const [name, value] of new FormData(event.target)) now[name] = String(value).trim();
    show();
  } }, ...fields.map(([name, label, hint]) => made("label", {}, label, made("input", { name, value: now[name], placeholder: hint, autocomplete: "off" }))),
  made("button", {}, words));
}

const SHOWN = { chart, amounts, paper, timetable, lots, changes };
let turn = 0;
export const show = () => whileBusy(() => shown());
async function shown(again = false) {
  const mine = ++turn, name = now.panel;
  if (!now.view) { by("panel").replaceChildren(made("p", { class: "why" }, "There is no procedure here yet. Begin one.")); return; }
  if (name === "help") { await help(); return; }
  const { fibre, gathered, bench, start, hours, hands, days } = now;
  const told = await ask({ ask: "panel", panel: name, fibre, gathered, bench, start, hours, hands, days, old: name === "changes" ? await older() : undefined });
  if (name !== now.panel || mine !== turn) return;
  if (told.dropped) { // for a newer text, which asks for itself; where there is none, once more
    if (!soon && !again) await shown(true);
    return;
  }
  const inside = SHOWN[name](told);
  if (told.why) inside.push(made("p", { class: "why", role: "status" }, told.why));
  by("panel").replaceChildren(...inside);
  mark(true);
}

function chart(told) {
  if (!told.svg) return [];
  const drawn = new DOMParser().parseFromString(told.svg, "image/svg+xml").documentElement;
  for (const bad of drawn.querySelectorAll("script, foreignObject")) bad.remove();
  const box = made("div", { class: "drawn", tabindex: "0", role: "group", "aria-label": "The chart: up and down go from step to step, Enter goes to its line", onkeydown: alongSteps }, document.importNode(drawn, true));
  for (const [node, number] of Object.entries(told.lines)) {
    const figure = box.querySelector(`[id="step-${node}"]`);
    if (!figure) continue;
    figure.setAttribute("data-line", number);
    figure.addEventListener("click", () => toLine(number));
  }
  return [box];
}
// By keys: from step to step in the chart, the cursor of the text going along.
function alongSteps(event) {
  const way = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  const { doc, selection } = now.view.state, here = doc.lineAt(selection.main.head).number;
  if (event.key === "Enter") { toLine(here); return; }
  const lines = [...event.currentTarget.querySelectorAll("[data-line]")].map((one) => Number(one.dataset.line)).sort((a, b) => (a - b) * way);
  const next = way && lines.find((one) => (one - here) * way > 0);
  if (!next || next > doc.lines) return;
  event.preventDefault();
  const line = doc.line(next);
  now.view.dispatch({ selection: { anchor: line.from }, scrollIntoView: true });
  event.currentTarget.querySelector(`[data-line="${next}"]`).scrollIntoView({ block: "nearest", inline: "nearest" });
  say(`Line ${next}: ${line.text.trim()}`);
}
// The step of the line that the cursor is in stands out in the chart.
let marked = "";
function mark(again = false) {
  if (!now.view || now.panel !== "chart") return;
  const here = String(now.view.state.doc.lineAt(now.view.state.selection.main.head).number);
  if (here === marked && !again) return;
  marked = here;
  for (const figure of by("panel").querySelectorAll("[data-line]")) figure.classList.toggle("here", figure.dataset.line === here);
}

function amounts(told) {
  const rows = (told.rows || []).map((row) => made("tr", {}, made("td", {}, row.amount || "______"), made("td", {}, row.name), made("td", {}, [row.written, row.condition].filter(Boolean).join("; ")), made("td", {}, line(row.line))));
  const gathered = told.dyestuffs?.[0] ?? "tansy";
  const head = made("tr", {}, ...["Amount", "Of what", "As written", "Where"].map((word) => made("th", { scope: "col" }, word)));
  return [form("Work it out", ["fibre", "For so much fibre", "600 g"], ["gathered", "Or for what was gathered", `${gathered} = 800 g`]),
    ...paragraphs(told.said), ...paragraphs(told.fibre?.length ? [told.fibre.map((one) => `${one.name}: ${one.amount}`).join("; ")] : []),
    ...(rows.length ? [made("table", {}, head, ...rows)] : [])];
}

// No script runs in the frame, so none is given to it.
const framed = (title, html = "") => made("iframe", { title, sandbox: "allow-same-origin allow-modals", srcdoc: html.replace(/<script[^]*?<\/script>/g, "") });
function paper(told) {
  const frame = framed("The paper", told.html);
  const swap = made("button", { type: "button", onclick: () => { now.bench = !now.bench; show(); } }, now.bench ? "The whole paper" : "One page for the wall");
  return [made("p", {}, made("button", { type: "button", onclick: () => frame.contentWindow.print() }, "Print it"), " ", swap), made("p", { class: "why" }, "Printed to a file, it is a PDF to keep or to send."), frame];
}

// Broken to the width of this side, and what goes on is as deep as on paper, or less where there is little room.
function dayLine({ said, indent, hang, head }) {
  if (head) return made("h2", {}, said);
  const deep = `min(${hang}ch,var(--deepest))`;
  return made("p", { style: `padding-left:${deep};text-indent:calc(${indent}ch - ${deep})` }, said);
}
const inAWeek = () => `${new Date(Date.now() + 7 * 864e5).toISOString().slice(0, 10)} 09:00`;
function timetable(told) {
  return [form("Plan it", ["start", "From when", inAWeek()], ["hours", "Open from and to", "9-18"], ["days", "On which days", "sat,sun"], ["hands", "How many people", "1"]),
    made("div", { class: "days" }, ...(told.lines || []).map(dayLine)), ...paragraphs(told.supposed),
    ...(told.svg ? [made("div", { class: "drawn", tabindex: "0", role: "group", "aria-label": "The timetable, drawn" }, document.importNode(new DOMParser().parseFromString(told.svg, "image/svg+xml").documentElement, true))] : [])];
}

function lots(told) {
  return (told.lots || []).flatMap((lot) => [made("h2", {}, lot.name), made("p", {}, `${lot.fibre}: ${lot.short}`),
    made("ol", {}, ...lot.events.map((event) => made("li", {}, made("div", { class: "row" }, made("span", {}, event.said), line(event.line)))))]);
}

// The text that this one is compared with: another file, or this one as it was saved.
const older = async () => { return now.other ? (await asked("open", { file: now.other })).text ?? "" : now.saved; };
function changes(told) {
  const names = [...by("file").options].map((one) => one.value);
  const choice = made("select", { id: "other", onchange: (event) => { now.other = event.target.value; show(); } },
    made("option", { value: "" }, "this one, as it was saved"), ...names.filter((name) => name !== now.file).map((name) => made("option", { value: name }, name)));
  choice.value = now.other;
  return [made("p", {}, made("label", { for: "other" }, "Compared with "), choice), ...(told.html ? [framed("What changed", told.html)] : [])];
}

async function help() {
  const spot = lineColumn(now.view.state.doc, now.view.state.selection.main.head);
  const { told } = await ask({ ask: "told", ...spot });
  const clauses = await ask({ ask: "clauses", ...spot });
  if (now.panel !== "help") return;
  const inside = [made("p", { class: "why" }, "Put the cursor on a word, and this side tells what it means and what is there at that point.")];
  if (told) inside.push(made("h2", {}, told.title), ...paragraphs(told.sentences));
  if (clauses.verb) {
    inside.push(made("h2", {}, `${clauses.verb}: what it can say`), made("p", {}, clauses.meaning),
      made("table", {}, ...clauses.clauses.map((one) => made("tr", {}, made("td", {}, one.form), made("td", {}, `${one.says}${one.needed ? " (needed)" : ""}${one.said ? " – said" : ""}`)))));
  }
  by("panel").replaceChildren(...inside);
}

// The page: the text with what is found under its lines, and beside it what comes of it.
// It knows nothing of dyeing: everything it says comes from the language service.
import { asked, more } from "asking";
import { ask, by, made, now, say, side, textNow } from "./here.js";
import { begin } from "./beginning.js";
import { PANELS, beside, show } from "./beside.js";
import { leave, look, opened, save } from "./keeping.js";
import { checkSoon, replaceAll, showText } from "./text.js";

let ofLink = ""; // what is to be said of the link that brought a text, until it is open
async function list(chosen) {
  const { files, first, said } = await asked("start", {});
  if (said) ofLink = said;
  const every = [...new Set([...files, ...(chosen ? [chosen] : first ? [first] : [])])];
  by("file").replaceChildren(...every.map((name) => made("option", { value: name }, name)));
  by("file").value = chosen || first;
  return chosen || first;
}
// ``then`` is done as soon as the text is there: what is checked and drawn after it may take a while,
// and whoever has gone on meanwhile is left where they are.
async function open(file, then = () => {}) {
  await leave();
  const told = await opened(file);
  if (told.why) { by("file").value = now.file; say(told.why); return told.why; }
  await leave(); // what was typed meanwhile belongs to the file that is left
  [now.file, now.stamp, now.saved] = [file, told.stamp, told.text];
  by("file").value = file;
  showText(told, () => save(list));
  say([ofLink, told.journal === null ? "" : "What you wrote last time was not saved; here it is.", ...told.aside.map((name) => `What was written in another window is kept as ${name}.`)].filter(Boolean).join(" "));
  ofLink = "";
  then();
  if (told.aside.length) await list(file);
  for (const one of ["save", "neaten"]) by(one).disabled = false;
  await checkSoon();
  await show();
  return "";
}
async function neaten() {
  const told = await ask({ ask: "format" });
  if (told.why) say(told.why); else { replaceAll(told.text); now.view.focus(); }
}

for (const [name, words] of PANELS) {
  by("tabs").append(made("button", { type: "button", role: "tab", id: `tab-${name}`, "data-panel": name, "aria-controls": "panel", "aria-selected": name === now.panel, tabindex: name === now.panel ? "0" : "-1", onclick: () => beside(name),
    onkeydown: (event) => {
      const way = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (!way) return;
      const all = [...by("tabs").children];
      const next = all[(all.indexOf(event.target) + way + all.length) % all.length];
      next.focus(); beside(next.dataset.panel);
    } }, words));
}
for (const button of by("sides").children) button.addEventListener("click", () => side(button.dataset.side));
by("save").addEventListener("click", () => save(list));
by("neaten").addEventListener("click", neaten);
by("new").addEventListener("click", () => begin(list, open));
by("file").addEventListener("change", (event) => open(event.target.value));
setInterval(look, 3000);
more(document.querySelector("header"), () => now.view ? textNow() : "", () => now.file, async (name) => { await list(name); await open(name); }, say);
const first = await list();
// The one to begin with, or the first that can be opened.
let refused = "";
for (const name of new Set([first, ...[...by("file").options].map((one) => one.value)].filter(Boolean))) {
  const why = await open(name);
  refused ||= why;
  if (now.view) break;
}
if (refused) say(refused);
if (!now.view) { if (!refused) say(ofLink || "There is no procedure here yet. Begin one."); begin(list, open); }

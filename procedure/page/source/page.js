// The page: the text with what is found under its lines, and beside it what comes of it.
// It knows nothing of dyeing: everything it says comes from the language service.
import { asked, more } from "asking";
import { ask, by, made, now, say, side, textNow } from "./here.js";
import { begin } from "./beginning.js";
import { PANELS, beside, show } from "./beside.js";
import { look, save } from "./keeping.js";
import { checkSoon, replaceAll, showText } from "./text.js";

async function list(chosen) {
  const { files, first } = await asked("start", {});
  const every = [...new Set([...files, ...(chosen ? [chosen] : first ? [first] : [])])];
  by("file").replaceChildren(...every.map((name) => made("option", { value: name }, name)));
  by("file").value = chosen || first;
  return chosen || first;
}
async function open(file) {
  now.file = file;
  const told = await asked("open", { file });
  if (told.why) { say(told.why); return; }
  now.stamp = told.stamp;
  showText(told, () => save(list));
  say(told.journal === null ? "" : "What you wrote last time was not saved; here it is.");
  await checkSoon();
  await show();
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
if (first) await open(first); else { say("There is no procedure here yet. Begin one."); begin(list, open); }

// Beginning another procedure: from a few questions, from a recipe in words, or an empty form.
import { asked } from "asking";
import { by, now, say, side } from "./here.js";

const WAYS = ["questions", "recipe", "blank"];
// Letters of every script stay; accents go, so that the name can be typed on any keyboard.
const fileOf = (title) => {
  const plain = title.toLowerCase().replace(/ß/g, "ss").normalize("NFKD").replace(/[\u0300-\u036f]/g, "").normalize("NFC");
  return `${[...plain.replace(/[^\p{L}\p{M}\p{N}]+/gu, "-")].slice(0, 60).join("").replace(/^-|-$/g, "") || "procedure"}.dye`;
};
const way = () => WAYS.find((one) => by(`way-${one}`).checked);

function shown() {
  for (const one of WAYS) by(`for-${one}`).hidden = one !== way();
}
export function begin(list, open) {
  const dialog = by("asking");
  by("refused").textContent = "";
  for (const one of WAYS) by(`way-${one}`).onchange = shown;
  shown();
  by("leave").onclick = () => dialog.close();
  dialog.querySelector("form").onsubmit = async (event) => {
    event.preventDefault();
    const value = (name) => by(`answer-${name}`).value.trim();
    const title = value("title").replace(/["\n]/g, "");
    if (!title) { by("refused").textContent = "Give it a name first."; by("answer-title").focus(); return; }
    const file = fileOf(title);
    const kept = await asked("open", { file });
    if (kept.why) { by("refused").textContent = kept.why; return; }
    if (kept.text || kept.journal || kept.stamp) { by("refused").textContent = `There is a ${file} already. Give this one another name, or open that one.`; return; }
    by("refused").textContent = "One moment.";
    const told = await asked("ask", { ask: "begin", file, way: way(), title, fibre: value("fibre"), dye: value("dye"), mordant: value("mordant"), recipe: by("answer-recipe").value });
    if (told.why) { by("refused").textContent = told.why; return; }
    const saved = await asked("save", { file, text: told.text, stamp: "" });
    if (saved.why) { by("refused").textContent = saved.why; return; }
    dialog.close();
    await list(saved.file);
    await open(saved.file, () => {
      say(told.said || "");
      side("text");
      // Not by touch: there the keys on the screen would cover half of the text.
      if (!matchMedia("(pointer: coarse)").matches) now.view.focus();
    });
  };
  if (!dialog.open) dialog.showModal();
  by("answer-title").focus();
}

// The transport: one question to the server that gave the page. Nothing goes elsewhere.
import { copy } from "./to-disk.js";

export async function asked(name, question) {
  try {
    const answer = await fetch(name, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(question) });
    return await answer.json();
  } catch {
    ended();
    return { why: "The program behind this page has ended. Take a copy of this text, then start it again." };
  }
}
// Its files are on the disk already; a copy is needed only where nobody is there to keep the text.
let ended = () => {};
export function more(bar, text, file) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Take a copy";
  button.addEventListener("click", () => copy(file() || "procedure.dye", text()));
  ended = () => {
    if (button.isConnected) return;
    bar.append(button);
    addEventListener("beforeunload", (event) => event.preventDefault());
  };
}

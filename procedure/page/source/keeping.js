// Nothing that is written is lost: every keystroke is noted, and a save never undoes another's.
import { historyField } from "@codemirror/commands";
import { asked } from "asking";
import { now, say, textNow, whileBusy } from "./here.js";

// What is kept is kept in turn, so that an older note never follows a save.
let last = Promise.resolve();
const inTurn = (act) => (last = last.then(() => whileBusy(act)).catch((reason) => say(String(reason))));

let waiting = false, undoSoon;
export function note() {
  clearTimeout(undoSoon);
  undoSoon = setTimeout(noteUndo, 900);
  if (waiting) return; // the note that waits takes the newest text
  waiting = true;
  inTurn(async () => {
    waiting = false;
    const text = textNow();
    const told = await asked("note", { file: now.file, text, stamp: now.stamp });
    if (text === textNow() || told.why) say(told.why || "Not saved yet; kept all the same.");
  });
}
const undo = () => ({ past: textNow(), history: now.view.state.toJSON({ history: historyField }).history });
const noteUndo = () => inTurn(() => asked("undo", { file: now.file, ...undo() }));

let turns = 0; // odd while a save is on its way
export const save = (list) => inTurn(async () => {
  clearTimeout(undoSoon);
  turns++;
  try { await saved(list); } finally { turns++; }
  await asked("undo", { file: now.file, ...undo() });
});
async function saved(list) {
  const { file } = now, text = textNow();
  const told = await asked("save", { file, text, stamp: now.stamp });
  if (told.why) { say(told.why); return; }
  now.stamp = told.stamp;
  if (told.file !== file) {
    now.file = told.file;
    await list(told.file);
    say(`${file} was changed elsewhere and is as it was left there. Yours is kept as ${told.file}.`);
  } else say("Saved.");
}

export async function look() {
  if (!now.file) return;
  const { file } = now, before = turns;
  const { stamp } = await asked("stamp", { file });
  // What the disk held before a save, or while it was written, says nothing once it is done.
  if (before !== turns || turns % 2) return;
  if (file === now.file && stamp !== undefined && stamp !== now.stamp && now.stamp) {
    say(`${now.file} has been changed elsewhere. Saving will keep both.`);
  }
}

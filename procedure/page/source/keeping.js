// Nothing that is written is lost: every keystroke is noted, and a save never undoes another's.
import { historyField } from "@codemirror/commands";
import { asked } from "asking";
import { by, now, say, textNow, whileBusy } from "./here.js";
import { replaceAll } from "./text.js";

// What is kept is kept in turn, so that an older note never follows a save.
let last = Promise.resolve();
const inTurn = (act) => (last = last.then(() => whileBusy(act)).catch((reason) => say(String(reason))));

// Two windows may have one file open: what each has not saved is kept for itself.
const writer = crypto.getRandomValues(new Uint32Array(2)).join("-");
const UNSAVED = "Not saved yet; kept all the same.";

let waiting = false, undoSoon = 0;
export function note() {
  clearTimeout(undoSoon);
  undoSoon = setTimeout(() => { undoSoon = 0; noteUndo(); }, 900);
  if (waiting) return; // the note that waits takes the newest text
  waiting = true;
  inTurn(async () => {
    waiting = false;
    const text = textNow();
    const told = await asked("note", { file: now.file, text, stamp: now.stamp, writer });
    if (told.why) say(told.why);
    else if (text !== textNow()) return;
    else if (text !== now.saved) say(UNSAVED);
    else if (by("state").textContent === UNSAVED) say("");
  });
}
const undo = () => ({ past: textNow(), history: now.view.state.toJSON({ history: historyField }).history });
// Everything typed so far is kept; called before another file takes the place of this one.
export async function leave() {
  while (waiting || undoSoon) {
    clearTimeout(undoSoon);
    if (undoSoon) noteUndo();
    undoSoon = 0;
    await last;
  }
}
export const opened = async (file) => asked("open", { file, writer });
const noteUndo = () => inTurn(() => asked("undo", { file: now.file, ...undo() }));

let turns = 0; // odd while a save is on its way
export const save = (list) => inTurn(async () => {
  clearTimeout(undoSoon);
  undoSoon = 0;
  turns++;
  try { await saved(list); } finally { turns++; }
  await asked("undo", { file: now.file, ...undo() });
});
async function saved(list) {
  const { file } = now, text = textNow();
  const told = await asked("save", { file, text, stamp: now.stamp, writer });
  if (told.why) { say(told.why); return; }
  now.stamp = told.stamp;
  now.saved = text;
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
    if (textNow() === now.saved && stamp) await takeOver(file);
    else say(`${file} has been changed elsewhere. Saving will keep both.`);
  }
}
// Nothing was written here since the last save: the text as it is now is shown, and can be undone.
async function takeOver(file) {
  const told = await opened(file);
  if (told.why || file !== now.file || textNow() !== now.saved) return;
  now.stamp = told.stamp;
  now.saved = told.text;
  replaceAll(told.text);
  say(`${file} was changed elsewhere: this is how it is there now.`);
}

// The transport without a server: files are kept in this browser, and the same language
// service runs in a worker. Nothing leaves the machine.
import { copy } from "./to-disk.js";
import { linkTo, textOf } from "./link.js";

const worker = new Worker("worker.js", { type: "module" });
const waiting = new Map();
let number = 0;
worker.onmessage = ({ data }) => {
  offline();
  waiting.get(data.number)?.(data.answer);
  waiting.delete(data.number);
};
const work = (question) => new Promise((done) => {
  waiting.set(++number, done);
  worker.postMessage({ number, question });
});

const opened = new Promise((done, failed) => {
  const asked = indexedDB.open("vatwright", 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore("files");
  asked.onsuccess = () => done(asked.result);
  asked.onerror = () => failed(asked.error);
});
async function store(mode, act) {
  const base = await opened;
  return new Promise((done, failed) => {
    const asked = act(base.transaction("files", mode).objectStore("files"));
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
}
const get = (name) => store("readonly", (files) => files.get(name));
const put = (name, kept) => store("readwrite", (files) => files.put(kept, name));
// Read and written in one transaction, so that two tabs never undo each other's.
const change = async (name, make) => {
  const base = await opened;
  return new Promise((done, failed) => {
    const transaction = base.transaction("files", "readwrite"), files = transaction.objectStore("files");
    const asked = files.get(name);
    asked.onsuccess = () => files.put(make(asked.result ?? {}), name);
    transaction.oncomplete = () => done();
    transaction.onerror = () => failed(transaction.error);
  });
};
const stampOf = (kept) => kept?.text === undefined ? "" : String(kept.edition ?? 0);
const proper = (name) => /^[^/\\\0]{1,200}\.dye$/.test(name) && name[0] !== ".";

// A link may carry a text behind its “#”, which no browser sends anywhere.
async function shared() {
  const link = textOf(location.hash);
  if (!link) return {};
  history.replaceState(null, "", location.pathname);
  if (link.why) return link;
  const given = proper(link.name) ? link.name : "shared.dye";
  let name = given;
  for (let n = 2, kept; (kept = await get(name)); n++) {
    if (kept.text === link.text) return { ...link, name }; // the same link again
    name = given.replace(/\.dye$/, `-${n}.dye`);
  }
  await put(name, { text: link.text });
  return { ...link, name };
}
// A link that is opened where the page is open already loads nothing by itself.
addEventListener("hashchange", () => { if (textOf(location.hash)) location.reload(); });

// Two tabs may have one file open: what each has not saved is kept for itself, as long as it is open.
const began = new Map();
function noted(kept, file, text, writer) {
  const others = { ...kept.others };
  if (kept.journal !== undefined && kept.writer !== writer && ![text, kept.text, began.get(file)].includes(kept.journal)) others[kept.writer ?? ""] = kept.journal;
  delete others[writer];
  began.set(file, text);
  return { ...kept, journal: text, writer, others };
}
const lockOf = (writer) => `vatwright ${writer}`;
const isOpen = async () => new Set(((await navigator.locks?.query())?.held ?? []).map((lock) => lock.name));
const freeName = async (file) => {
  for (let n = 1; ; n++) {
    const name = file.replace(/\.dye$/, n === 1 ? "-written-here.dye" : `-written-here-${n}.dye`);
    if (!await get(name)) return name;
  }
};
let held = false;
async function aside(file, kept, writer) {
  if (!held) navigator.locks?.request(lockOf(writer), () => new Promise(() => {}));
  held = true;
  const made = [], open = await isOpen();
  for (const [other, text] of Object.entries(kept?.others ?? {})) {
    if (open.has(lockOf(other))) continue;
    if (![kept.text, kept.journal].includes(text)) {
      made.push(await freeName(file));
      await put(made.at(-1), { text });
    }
    await change(file, (now) => { const others = { ...now.others }; delete others[other]; return { ...now, others }; });
  }
  return made;
}

let started = false;
const ACTS = {
  async start() {
    const given = await shared();
    const files = await store("readonly", (all) => all.getAllKeys());
    // One may follow another, which the language service has to know as it was left.
    if (!started) for (const file of files) {
      const { text, journal } = await get(file);
      work({ ask: "kept", file, text: journal ?? text ?? "" });
    }
    started = true;
    return { files, first: given.name || files[0] || "", said: given.why ?? given.said };
  },
  async open({ file, writer }) {
    if (!proper(file)) return { why: `“${file}” is no name for a procedure.` };
    const kept = await get(file);
    const text = kept?.text ?? "";
    const journal = kept?.journal ?? null;
    const others = writer ? await aside(file, kept, writer) : [];
    if (writer) began.set(file, journal ?? text);
    return { text, stamp: stampOf(kept), journal: journal === text ? null : journal, history: kept?.history ?? null, past: kept?.past ?? null, aside: others };
  },
  async stamp({ file }) { return { stamp: stampOf(await get(file)) }; },
  async note({ file, text, writer }) {
    await change(file, (kept) => noted(kept, file, text, writer));
    return {};
  },
  async undo({ file, past, history }) {
    await change(file, (kept) => ({ ...kept, past, history }));
    return {};
  },
  // Another tab of this browser may have saved it meanwhile: then both are kept.
  async save({ file, text, stamp, writer }) {
    if (!proper(file)) return { why: `“${file}” is no name for a procedure.` };
    const here = await get(file);
    const name = stampOf(here) === stamp || here?.text === text ? file : await freeName(file);
    const edition = (here?.edition ?? 0) + 1;
    await change(name, (kept) => ({ ...noted(kept, name, text, writer), text, edition }));
    if (name !== file) await change(file, (kept) => kept.writer === writer ? { ...kept, journal: kept.text } : kept);
    return { file: name, stamp: String(edition) };
  },
  ask: (question) => work(question),
};

export async function asked(name, question) {
  try {
    return await ACTS[name](question);
  } catch (reason) {
    return { why: `This browser could not keep it: ${reason.message}` };
  }
}

// A file of the person's own disk that was opened or saved here, where this browser can do that.
const KIND = { types: [{ description: "Procedure", accept: { "text/plain": [".dye"] } }] };
const given = (reason) => { if (reason.name !== "AbortError") throw reason; return []; };
async function toDisk(name, text) {
  const ends = (await get(name))?.ends ?? "\n"; // as the file had them that was brought in
  text = text.replace(/\n/g, ends);
  if (!window.showSaveFilePicker) { copy(name, text); return `A copy of ${name} was given to this device.`; }
  let { handle } = (await get(name)) ?? {};
  const may = handle && await handle.requestPermission({ mode: "readwrite" });
  if (may !== "granted") {
    handle = await window.showSaveFilePicker({ suggestedName: name, ...KIND }).catch(given);
    if (!handle.createWritable) return "";
    await change(name, (kept) => ({ ...kept, handle }));
  }
  const writing = await handle.createWritable(); // whole or not at all: it takes the file's place when closed
  await writing.write(text);
  await writing.close();
  return `Written to ${handle.name} on this device.`;
}
async function takenIn(file, handle) {
  const said = file.name.endsWith(".dye") ? file.name : `${file.name}.dye`;
  let name = said;
  for (let n = 2; await get(name); n++) name = said.replace(/\.dye$/, `-${n}.dye`);
  const text = await file.text();
  await put(name, { text: text.replace(/\r\n?/g, "\n"), ...(text.includes("\r\n") ? { ends: "\r\n" } : {}), ...(handle ? { handle } : {}) });
  return name;
}
const LONG_LINK = 8000; // characters
const copied = async (link) => {
  try { await navigator.clipboard.writeText(link); return true; } catch { return false; }
};
// What only this page has: to the person's disk and back, and a link that carries the text.
export function more(bar, text, file, show, say) {
  const button = (words, act) => {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = words;
    made.addEventListener("click", () => act().catch((reason) => say(`That could not be done: ${reason.message}`)));
    bar.append(made);
  };
  const chooser = document.createElement("input");
  chooser.type = "file"; chooser.accept = ".dye,text/plain"; chooser.hidden = true;
  chooser.setAttribute("aria-label", "A procedure on this device");
  chooser.addEventListener("change", async () => {
    if (chooser.files[0]) show(await takenIn(chooser.files[0]));
  });
  bar.append(chooser);
  button("Bring one in", async () => {
    if (!window.showOpenFilePicker) { chooser.click(); return; }
    const [handle] = await window.showOpenFilePicker(KIND).catch(given);
    if (handle) show(await takenIn(await handle.getFile(), handle));
  });
  button("Take a copy", async () => { const said = await toDisk(file(), text()); if (said) say(said); });
  button("Link to it", async () => {
    const link = linkTo(file(), text()), long = link.length > LONG_LINK ? ` It has ${link.length} letters, which a message may cut: a copy is safer.` : "";
    if (await copied(link)) { say(`The link was copied: who opens it has the text.${long}`); return; }
    history.replaceState(null, "", link);
    say(`The address of this page now carries the text: copy it, and who opens it has the text.${long}`);
  });
}
navigator.storage?.persist?.(); // what is kept here is somebody's work: not to be cleared for room
// Everything is taken once more for the next visit, but not while this one waits for it.
let kept = false;
function offline() {
  if (!kept) navigator.serviceWorker?.register("offline.js");
  kept = true;
}
setTimeout(offline, 20000); // nor only where something is asked

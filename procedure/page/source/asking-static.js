// The transport without a server: files are kept in this browser, and the same language
// service runs in a worker. Nothing leaves the machine.
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
  const said = location.hash.slice(1);
  if (!said.startsWith("text=")) return "";
  history.replaceState(null, "", location.pathname);
  try {
    const bytes = Uint8Array.from(atob(said.slice(5).replace(/-/g, "+").replace(/_/g, "/")), (c) => c.charCodeAt(0));
    const text = new TextDecoder().decode(bytes);
    let name = "shared.dye";
    for (let n = 2, kept; (kept = await get(name)); n++) {
      if (kept.text === text) return name; // the same link again
      name = `shared-${n}.dye`;
    }
    await put(name, { text });
    return name;
  } catch { return ""; }
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
    return { files, first: given || files[0] || "" };
  },
  async open({ file }) {
    if (!proper(file)) return { why: `“${file}” is no name for a procedure.` };
    const kept = await get(file);
    const text = kept?.text ?? "";
    const journal = kept?.journal ?? null;
    return { text, stamp: stampOf(kept), journal: journal === text ? null : journal, history: kept?.history ?? null, past: kept?.past ?? null };
  },
  async stamp({ file }) { return { stamp: stampOf(await get(file)) }; },
  async note({ file, text }) {
    await change(file, (kept) => ({ ...kept, journal: text }));
    return {};
  },
  async undo({ file, past, history }) {
    await change(file, (kept) => ({ ...kept, past, history }));
    return {};
  },
  // Another tab of this browser may have saved it meanwhile: then both are kept.
  async save({ file, text, stamp }) {
    if (!proper(file)) return { why: `“${file}” is no name for a procedure.` };
    const here = await get(file);
    let name = file;
    if (stampOf(here) !== stamp && here?.text !== text) {
      for (let n = 1; n === 1 || await get(name); n++) name = file.replace(/\.dye$/, n === 1 ? "-written-here.dye" : `-written-here-${n}.dye`);
    }
    const edition = (here?.edition ?? 0) + 1;
    await change(name, (kept) => ({ ...kept, text, journal: text, edition }));
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

function download(name, text) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
// A file of the person's own disk that was opened or saved here, where this browser can do that.
const KIND = { types: [{ description: "Procedure", accept: { "text/plain": [".dye"] } }] };
const given = (reason) => { if (reason.name !== "AbortError") throw reason; return []; };
async function toDisk(name, text) {
  if (!window.showSaveFilePicker) { download(name, text); return `A copy of ${name} was given to this device.`; }
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
  await put(name, { text: await file.text(), ...(handle ? { handle } : {}) });
  return name;
}
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
    const bytes = new TextEncoder().encode(text());
    const said = btoa(Array.from(bytes, (b) => String.fromCharCode(b)).join("")).replace(/\+/g, "-").replace(/\//g, "_");
    location.hash = `text=${said}`;
    await navigator.clipboard?.writeText(location.href).catch(() => {});
    say("The address of this page now carries the text, and it was copied: who opens it has the text.");
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

// The transport without a server: files are kept in this browser, and the same language
// service runs in a worker. Nothing leaves the machine.
const worker = new Worker("worker.js", { type: "module" });
const waiting = new Map();
let number = 0;
worker.onmessage = ({ data }) => {
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
    let name = "shared.dye";
    for (let n = 2; await get(name); n++) name = `shared-${n}.dye`;
    await put(name, { text: new TextDecoder().decode(bytes) });
    return name;
  } catch { return ""; }
}

const ACTS = {
  async start() {
    const given = await shared();
    const files = await store("readonly", (all) => all.getAllKeys());
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

function save(name, text) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
// What only this page has: to the person's disk and back, and a link that carries the text.
export function more(bar, text, file, show) {
  const button = (words, act) => {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = words;
    made.addEventListener("click", act);
    bar.append(made);
  };
  const chooser = document.createElement("input");
  chooser.type = "file"; chooser.accept = ".dye,text/plain"; chooser.hidden = true;
  chooser.setAttribute("aria-label", "A procedure on this device");
  chooser.addEventListener("change", async () => {
    const given = chooser.files[0];
    if (!given) return;
    const said = given.name.endsWith(".dye") ? given.name : `${given.name}.dye`;
    let name = said;
    for (let n = 2; await get(name); n++) name = said.replace(/\.dye$/, `-${n}.dye`);
    await put(name, { text: await given.text() });
    show(name);
  });
  bar.append(chooser);
  button("Bring one in", () => chooser.click());
  button("Take a copy", () => save(file(), text()));
  button("Link to it", async () => {
    const bytes = new TextEncoder().encode(text());
    const said = btoa(Array.from(bytes, (b) => String.fromCharCode(b)).join("")).replace(/\+/g, "-").replace(/\//g, "_");
    location.hash = `text=${said}`;
    await navigator.clipboard?.writeText(location.href).catch(() => {});
    history.replaceState(null, "", location.pathname + `#text=${said}`);
  });
}
if ("serviceWorker" in navigator) navigator.serviceWorker.register("offline.js");

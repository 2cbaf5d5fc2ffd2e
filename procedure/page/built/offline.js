// After the first visit everything comes from this browser, so the page opens without a network.
const NAME = "vatwright-BUILD";
const FILES = ["./", "page.js", "page.css", "worker.js", "program.packed", "libraries.packed", "warm.packed", "graphviz/index.js",
  "pyodide/pyodide.mjs", "pyodide/pyodide.asm.mjs", "pyodide/pyodide.asm.wasm.packed", "pyodide/python_stdlib.zip", "pyodide/pyodide-lock.json"];
self.addEventListener("install", (event) => event.waitUntil(caches.open(NAME).then((kept) => kept.addAll(FILES)).then(() => self.skipWaiting())));
self.addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith("vatwright-") && name !== NAME) await caches.delete(name);
  await self.clients.claim();
})()));
self.addEventListener("fetch", (event) => event.respondWith((async () => (await caches.match(event.request, { ignoreSearch: true })) ?? fetch(event.request))()));

// What is not bundled is copied as it is, with the licences of what is bundled.
import { copyFileSync, existsSync, readFileSync, writeFileSync } from "node:fs";

for (const name of ["page.html", "page.css", "worker.js", "offline.js", "compile.mjs"]) copyFileSync(name, `../built/${name}`);

const lock = JSON.parse(readFileSync("package-lock.json", "utf8")).packages;
const bundled = Object.keys(lock).filter((path) => path && !lock[path].dev).sort();
const parts = bundled.map((path) => {
  const file = ["LICENSE", "LICENSE.md", "license"].map((name) => `${path}/${name}`).find(existsSync);
  const text = file ? readFileSync(file, "utf8").trim() : `License: ${lock[path].license}`;
  return `${path.replace("node_modules/", "")} ${lock[path].version}\n\n${text}\n`;
});
writeFileSync("../built/licences.txt", parts.join("\n----\n\n"));

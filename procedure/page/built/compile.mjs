// Compiles archives of Python modules with the very Python that the page brings, so that a phone
// need not, and keeps that Python as it is behind its first check, so that a phone need not even
// begin it: node compile.mjs PYODIDE PROGRAM LIBRARIES WARM, all as paths. The archives are
// replaced; WARM is written.
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [pyodide, program, libraries, warm] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(`${pyodide}/pyodide.mjs`).href);
const begun = (more) => loadPyodide({ indexURL: `${pyodide}/`, ...more });
// For each piece of a line Python keeps from which column it is; the line is enough here.
const python = await begun({ env: { HOME: "/home/pyodide", PYTHONNODEBUGRANGES: "1" } });
// What a rule says of itself is shown; what else modules say of themselves nobody reads here.
for (const archive of [program, libraries]) {
  python.FS.writeFile("/given.zip", readFileSync(archive));
  python.runPython(`
import importlib._bootstrap_external as outside, zipfile
with zipfile.ZipFile("/given.zip") as given, zipfile.ZipFile("/made.zip", "w", zipfile.ZIP_DEFLATED) as made:
    for about in given.infolist():
        data, name = given.read(about), about.filename
        if name.endswith(".py"):
            level = 0 if name.startswith("procedure/rules/") else 2
            code = compile(data, "/program/" + name, "exec", dont_inherit=True, optimize=level)
            name = name + "c"
            data = outside._code_to_hash_pyc(code, b"\\0" * 8, False)
        entry = zipfile.ZipInfo(name, about.date_time)
        entry.compress_type = zipfile.ZIP_DEFLATED
        made.writestr(entry, data, compresslevel=9)
`);
  writeFileSync(archive, python.FS.readFile("/made.zip"));
}
const other = await begun({ _makeSnapshot: true });
other.unpackArchive(new Uint8Array(readFileSync(program)), "zip", { extractDir: "/program" });
other.runPython(`
import gc, sys
sys.path.insert(0, "/program")
from procedure.service import in_browser
in_browser.warm()
gc.collect()
`);
writeFileSync(warm, other.makeMemorySnapshot());

// Compiles an archive of Python modules with the very Python that the page brings, so that a
// phone need not: node compile.mjs PYODIDE ARCHIVE..., all as paths; the archives are replaced.
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [pyodide, ...archives] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(`${pyodide}/pyodide.mjs`).href);
const python = await loadPyodide({ indexURL: `${pyodide}/` });
for (const archive of archives) {
  python.FS.writeFile("/given.zip", readFileSync(archive));
  python.runPython(`
import importlib._bootstrap_external as outside, zipfile
with zipfile.ZipFile("/given.zip") as given, zipfile.ZipFile("/made.zip", "w", zipfile.ZIP_DEFLATED) as made:
    for about in given.infolist():
        data, name = given.read(about), about.filename
        if name.endswith(".py"):
            code = compile(data, name, "exec", dont_inherit=True)
            name = name + "c"
            data = outside._code_to_hash_pyc(code, b"\\0" * 8, False)
        entry = zipfile.ZipInfo(name, about.date_time)
        entry.compress_type = zipfile.ZIP_DEFLATED
        made.writestr(entry, data)
`);
  writeFileSync(archive, python.FS.readFile("/made.zip"));
}

// Makes an archive of byte code with the browser's Python, under Node.
// Reads one job as JSON on standard input, writes the archive to the file the job names:
//   {runtime, pack, out, wanted: [module]}            the trimmed standard library
//   {runtime, pack, out, sources: {name: text}}       an archive of these sources
// Prints one line of JSON, {python, version}, or fails with the runtime's own message.
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const job = JSON.parse(readFileSync(0, "utf8"));
const { loadPyodide } = await import(pathToFileURL(`${job.runtime}/pyodide.mjs`).href);
const { info } = JSON.parse(readFileSync(`${job.runtime}/pyodide-lock.json`, "utf8"));
const python = await loadPyodide({
  indexURL: job.runtime,
  packageBaseUrl: job.runtime,
  lockFileContents: { info, packages: {} },
  env: { PYTHONHASHSEED: "0" },
});

// Loads whatever the bridge needs beyond a boot, the ways of failing among it.
async function exerciseTheBridge() {
  const double = python.runPython("lambda text: text + text");
  double("a");
  double.destroy();
  python.pyimport("json").destroy();
  await python.runPythonAsync("1 + 1");
  python.toPy({ a: [1] }).destroy();
  for (const wrong of ["1 / 0", "nothing_here", "[].nothing", "import nothing_here", "(", "int('x')"]) {
    try {
      python.runPython(wrong);
    } catch (error) {
      String(error.message);
    }
  }
}

function pack() {
  const work = python.globals.get("dict")();
  python.runPython(readFileSync(job.pack, "utf8"), { globals: work });
  if (!job.sources) return work.get("trimmed_library")("/lib/python314.zip", python.toPy(job.wanted));
  const sources = python.globals.get("dict")();
  for (const [name, text] of Object.entries(job.sources)) {
    sources.set(name, python.toPy(new TextEncoder().encode(text)).tobytes());
  }
  return work.get("archive")(sources, 0);
}

try {
  if (!job.sources) await exerciseTheBridge();
  writeFileSync(job.out, pack().toJs());
  console.log(JSON.stringify({ python: info.python, version: python.version }));
} catch (error) {
  // The runtime's files are one long line each, which Node would quote.
  console.error(String(error.message));
  process.exitCode = 1;
}

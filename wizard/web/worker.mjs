// The engine in the browser: a module worker that boots Python, loads the facts once, and answers.
//
//   const worker = new Worker(new URL("assets/engine/worker.mjs", siteRoot), { type: "module" });
//
// The worker starts by itself. Messages to it may be sent at once; they wait until it is ready.
//
// To the worker                                     From the worker
//   { id, op: "answer", build: TEXT }                 { id, answer: TEXT }
//   { id, op: "from_address", address: TEXT }         { id, build: TEXT, not_used: TEXT }
//   { id, op: "to_address", build: TEXT }             { id, address: TEXT }
//   { id, op: "compare", before: TEXT, after: TEXT }  { id, compare: TEXT }
//   { id, op: "sum", name, inputs: TEXT }             { id, sum: TEXT, plot: TEXT }
//   { id, op: "sums_soon" }                           { id }
//                             when that fails         { id, error: SENTENCE }
//
// `build`, `answer` and `not_used` are JSON as text: the bytes that the command line reads and prints.
// `before` and `after` are answers; `compare` is what differs between them. All three are such texts as well.
// `name` is that of a sum and `inputs` says what was put in, by parameter, each as it was typed; `sum` is its result, or
// its refusal in words, byte for byte what the command line prints; `plot` is its curve, or null where there is none.
// What only a sum needs is fetched by the first `sum`, or by `sums_soon`, which a page sends that will ask for one.
// `address` is what follows the `#`, without it. `not_used` is a list of {name, value, why}.
// `id` is whatever the page likes; it comes back as it was. An answer never comes without its `id`.
//
// Unasked, the worker tells how it stands, in this order and each at most once:
//   { op: "status", stage: "runtime", text }          fetching and starting Python
//   { op: "status", stage: "facts", text }            reading the facts
//   { op: "status", stage: "ready", text, edition, milliseconds }
//   { op: "status", stage: "failed", text, detail }   instead of any of these; then every message gets an error
// `text` is a sentence for the reader; `detail` is for whoever mends it.
// A browser that has no module workers fires the worker's `error` event instead: the page listens for it as well.
// The page must come from a web server: browsers start no worker from a `file:` address.

const manifest = /* manifest */ null;

const STAGES = {
  runtime: "Fetching the part that works out answers.",
  facts: "Reading the facts.",
  ready: "Ready to answer.",
};
const COULD_NOT_START = "The part that works out answers could not start.";
const UNSAID_FAILURES = /instantiation failed|installing the standard library/;
const STALLED_AFTER = 90_000;
const ENGINE_FILE = "/lib/engine.zip";
const SUMS_FILE = "/lib/sums.zip";
const GIVEN = { answer: ["build"], from_address: ["address"], to_address: ["build"], compare: ["before", "after"], sum: ["name", "inputs"], sums_soon: [] };

const BRIDGE = `
import gc
import json
import sys
sys.path.append("${ENGINE_FILE}")
from wizard.engine import answer, load

def read_address(text):
    from wizard.engine.address import from_address
    build, not_used = from_address(book, text)
    unused = [{"name": one["name"], "value": one["value"], "why": one["why"]} for one in not_used]
    return json.dumps([json.dumps(build, sort_keys=True), json.dumps(unused, sort_keys=True)])

def write_address(text):
    from wizard.engine.address import to_address
    return to_address(book, json.loads(text))

def open_book(text):
    global book
    book = load(text)
    # the facts stay as long as the page does: no answer should wait while they are searched for rubbish
    gc.freeze()

def reply(text):
    return answer(book, text)

def set_apart(before, after):
    from wizard.engine import compare
    return compare(before, after)

def add_sums():
    import wizard.sums
    wizard.sums.__path__.append("${SUMS_FILE}/wizard/sums")

def work_sum(name, inputs):
    from wizard.sums.forms.text import plot_text, sum_text
    said = json.loads(inputs)
    return json.dumps([sum_text(name, said), plot_text(name, said)])
`;

/** A failure whose message is a sentence for the reader. */
class Failure extends Error {
  constructor(sentence, detail) {
    super(sentence);
    this.detail = String(detail ?? "");
  }
}

function inWords(error) {
  return error instanceof Failure ? error.message : COULD_NOT_START;
}

/** What a Python error says, without the traceback and without the name of its class. */
function said(error) {
  const lines = String(error?.message ?? error).trim().split("\n");
  return lines.at(-1).replace(/^[A-Za-z_][\w.]*: /, "");
}

/**
 * Boots Python and the engine; resolves to an object with one function for each op.
 * `read(path)` fetches one file of the bundle as bytes; `at(path)` says where it is; `tell(stage)` hears of progress.
 * Rejects with a Failure in words.
 */
export async function start({ read, at, tell = () => {}, parts = manifest, stdlib }) {
  if (typeof WebAssembly !== "object") {
    throw new Failure("This browser cannot work out answers: it has no WebAssembly.", "WebAssembly is not there");
  }
  tell("runtime");
  const [python, engine, book] = await Promise.all([
    boot(at(`${parts.runtime}/`), parts.lock, stdlib),
    read(parts.engine),
    read(parts.book),
  ]);
  tell("facts");
  python.FS.writeFile(ENGINE_FILE, engine);
  const fetchSums = async () => python.FS.writeFile(SUMS_FILE, await read(parts.sums));
  return openEngine(python, new TextDecoder().decode(book), parts.edition, fetchSums);
}

async function boot(home, lock, stdlib) {
  const { loadPyodide } = await import(`${home}pyodide.mjs`).catch((error) => {
    throw new Failure("A file this page needs could not be fetched.", `pyodide.mjs: ${error}`);
  });
  const options = { indexURL: home, packageBaseUrl: home, lockFileContents: lock, env: { PYTHONHASHSEED: "0" } };
  return orFail(() => loadPyodide(stdlib ? { ...options, stdLibURL: stdlib } : options));
}

/** The runtime reports a wasm or a library that does not load on the console only, then waits for ever: listen there. */
async function orFail(begin) {
  const heard = [];
  const { warn, error } = console;
  let timer;
  try {
    return await new Promise((resolve, reject) => {
      const fail = (why) => reject(new Failure(COULD_NOT_START, why));
      const listen = (...what) => {
        heard.push(what.join(" "));
        if (UNSAID_FAILURES.test(heard.at(-1))) setTimeout(() => fail(heard.join("\n")));
      };
      console.warn = listen;
      console.error = listen;
      timer = setTimeout(() => fail(`no start within ${STALLED_AFTER / 1000} s`), STALLED_AFTER);
      begin().then(resolve, (reason) => fail(String(reason)));
    });
  } finally {
    clearTimeout(timer);
    console.warn = warn;
    console.error = error;
  }
}

function openEngine(python, bookText, edition, fetchSums) {
  const names = python.globals.get("dict")();
  const [openBook, reply, readAddress, writeAddress, setApart, addSums, workSum] = readFacts(() => {
    python.runPython(BRIDGE, { globals: names });
    const found = ["open_book", "reply", "read_address", "write_address", "set_apart", "add_sums", "work_sum"].map((name) => names.get(name));
    found[0](bookText);
    return found;
  });
  openBook.destroy();
  names.destroy();
  let sums = null;
  const sumsReady = () => {
    sums ??= fetchSums().then(() => addSums());
    sums.catch(() => (sums = null));
    return sums;
  };
  return {
    edition,
    version: python.version,
    answer: (build) => ({ answer: reply(build) }),
    from_address: (address) => {
      const [build, not_used] = JSON.parse(readAddress(address));
      return { build, not_used };
    },
    to_address: (build) => ({ address: writeAddress(build) }),
    compare: (before, after) => ({ compare: setApart(before, after) }),
    sums_soon: async () => {
      await sumsReady();
      return {};
    },
    sum: async (name, inputs) => {
      await sumsReady();
      const [sum, plot] = JSON.parse(workSum(name, inputs));
      return { sum, plot };
    },
  };
}

function readFacts(opening) {
  try {
    return opening();
  } catch (error) {
    throw new Failure(`The facts could not be read: ${said(error)}`, error.message);
  }
}

/** Answers one message with an engine that is ready; never rejects. */
export async function respond(engine, message) {
  const { id, op } = message;
  if (!Object.hasOwn(GIVEN, op)) {
    return { id, error: `The engine was asked for something it does not do: ${op}.` };
  }
  const given = GIVEN[op].map((name) => message[name]);
  if (!given.every((text) => typeof text === "string")) {
    return { id, error: "The engine was asked without a text to work on." };
  }
  try {
    return { id, ...(await engine[op](...given)) };
  } catch (error) {
    return { id, error: error instanceof Failure ? error.message : `This could not be worked out: ${said(error)}` };
  }
}

function serveThePage() {
  const began = performance.now();
  const at = (path) => new URL(path, import.meta.url).href;
  const tell = (stage, more = {}) => postMessage({ op: "status", stage, text: STAGES[stage], ...more });
  const read = async (path) => {
    const reply = await fetch(at(path)).catch((error) => {
      throw new Failure("A file this page needs could not be fetched. Are you still on line?", `${path}: ${error}`);
    });
    if (!reply.ok) throw new Failure("A file this page needs is not there.", `${path}: ${reply.status}`);
    return new Uint8Array(await reply.arrayBuffer());
  };
  const ready = start({ read, at, tell });
  ready.then(
    ({ edition }) => tell("ready", { edition, milliseconds: Math.round(performance.now() - began) }),
    (error) => {
      postMessage({ op: "status", stage: "failed", text: inWords(error), detail: String(error.detail ?? error) });
    },
  );
  addEventListener("message", async ({ data }) => {
    try {
      postMessage(await respond(await ready, data));
    } catch (error) {
      postMessage({ id: data?.id, error: inWords(error) });
    }
  });
}

if (typeof WorkerGlobalScope !== "undefined" && globalThis instanceof WorkerGlobalScope) serveThePage();

// Puts many builds through the bundled runtime under Node, by the same worker code that the browser runs.
// Reads {bundle: FOLDER, messages: [message]} as JSON on standard input; prints the replies as a JSON list.
import { readFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const { bundle, messages } = JSON.parse(readFileSync(0, "utf8"));
const folder = resolve(bundle);
const { start, respond } = await import(pathToFileURL(join(folder, "worker.mjs")).href);
const engine = await start({
  at: (path) => join(folder, path),
  read: async (path) => new Uint8Array(await readFile(join(folder, path))),
}).catch((error) => {
  console.error(`${error.message}\n${error.detail ?? ""}`);
  process.exit(1);
});
const replies = [];
for (const message of messages) replies.push(await respond(engine, message));
console.log(JSON.stringify(replies));

// Talks with the worker that holds the engine: a promise for each question, and how the worker stands in words.

/** The worker of the check, started at once. `tell(status)` hears of each stage until it is ready, and of a failure whenever it comes. */
export function startWorker(address, tell) {
  const client = workerClient(address, tell, "answers");
  client.start();
  return client;
}

/** A worker that `start()` or the first question starts; `gives` says in a word what it works out. */
export function workerClient(address, tell, gives) {
  const waiting = new Map();
  let count = 0;
  let broken = null;
  let worker = null;
  let wasReady = false;

  const fail = (text, detail = "") => {
    if (broken) return;
    broken = text;
    tell({ stage: "failed", text, detail });
    for (const { reject } of waiting.values()) reject(new Error(text));
    waiting.clear();
  };

  const hear = ({ data }) => {
    if (data.op === "status") {
      if (data.stage === "failed") fail(data.text, data.detail);
      else if (!wasReady) tell(data);
      wasReady ||= data.stage === "ready";
      return;
    }
    const { resolve, reject } = waiting.get(data.id) ?? {};
    waiting.delete(data.id);
    if (data.error !== undefined) reject?.(new Error(data.error));
    else resolve?.(data);
  };

  const begin = () => {
    try {
      worker = new Worker(address, { type: "module" });
    } catch (error) {
      queueMicrotask(() => fail(`This browser cannot start the part that works out ${gives}.`, String(error)));
      return;
    }
    worker.addEventListener("message", hear);
    worker.addEventListener("error", (event) => {
      event.preventDefault();
      fail(`The part that works out ${gives} could not be fetched or started.`, event.message ?? "");
    });
  };

  const start = () => {
    if (!worker && !broken) begin();
  };

  const ask = (message) => {
    start();
    if (broken) return Promise.reject(new Error(broken));
    count += 1;
    const sent = { ...message, id: count };
    return new Promise((resolve, reject) => {
      waiting.set(sent.id, { resolve, reject, sent });
      worker?.postMessage(sent);
    });
  };

  /** Drops the answer that is being worked out, by starting the worker again; what else was asked is asked again. */
  const giveUp = () => {
    if (broken) return;
    worker?.terminate();
    begin();
    for (const [id, { reject, sent }] of [...waiting]) {
      if (sent.op === "answer") {
        waiting.delete(id);
        reject(new Error("Given up for a newer one."));
      } else worker?.postMessage(sent);
    }
  };

  return {
    start,
    giveUp,
    answer: async (build) => {
      const { answer } = await ask({ op: "answer", build: JSON.stringify(build) });
      return { text: answer, answer: JSON.parse(answer) };
    },
    /** The result or refusal of a sum, its curve or null, and the very text of the first. */
    sum: async (name, inputs) => {
      const { sum, plot } = await ask({ op: "sum", name, inputs: JSON.stringify(inputs) });
      return { found: JSON.parse(sum), curve: JSON.parse(plot), text: sum };
    },
    /** Fetches what sums need before the first is asked; a failure is told by that one. */
    sumsSoon: () => ask({ op: "sums_soon" }).catch(() => {}),
    compare: async (before, after) => JSON.parse((await ask({ op: "compare", before, after })).compare),
    toAddress: async (build) => (await ask({ op: "to_address", build: JSON.stringify(build) })).address,
    fromAddress: async (text) => {
      const { build, not_used } = await ask({ op: "from_address", address: text });
      return { build: JSON.parse(build), notUsed: JSON.parse(not_used) };
    },
  };
}

// Talks with the worker that holds the engine: a promise for each question, and how the worker stands in words.

/** Starts the worker. `tell(status)` hears of each stage; `ask(message)` resolves to the reply or rejects in words. */
export function startWorker(address, tell) {
  const waiting = new Map();
  let count = 0;
  let broken = null;

  const fail = (text, detail = "") => {
    if (broken) return;
    broken = text;
    tell({ stage: "failed", text, detail });
    for (const { reject } of waiting.values()) reject(new Error(text));
    waiting.clear();
  };

  let worker;
  try {
    worker = new Worker(address, { type: "module" });
  } catch (error) {
    queueMicrotask(() => fail("This browser cannot start the part that works out answers.", String(error)));
  }
  worker?.addEventListener("message", ({ data }) => {
    if (data.op === "status") {
      if (data.stage === "failed") fail(data.text, data.detail);
      else tell(data);
      return;
    }
    const { resolve, reject } = waiting.get(data.id) ?? {};
    waiting.delete(data.id);
    if (data.error !== undefined) reject?.(new Error(data.error));
    else resolve?.(data);
  });
  worker?.addEventListener("error", (event) => {
    event.preventDefault();
    fail("The part that works out answers could not be fetched or started.", event.message ?? "");
  });

  const ask = (message) => {
    if (broken) return Promise.reject(new Error(broken));
    count += 1;
    const id = count;
    return new Promise((resolve, reject) => {
      waiting.set(id, { resolve, reject });
      worker?.postMessage({ ...message, id });
    });
  };
  return {
    answer: async (build) => JSON.parse((await ask({ op: "answer", build: JSON.stringify(build) })).answer),
    toAddress: async (build) => (await ask({ op: "to_address", build: JSON.stringify(build) })).address,
    fromAddress: async (address) => {
      const { build, not_used } = await ask({ op: "from_address", address });
      return { build: JSON.parse(build), notUsed: JSON.parse(not_used) };
    },
  };
}

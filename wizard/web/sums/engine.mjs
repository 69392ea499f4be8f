// Asks the worker for sums, and for the address of a check. The worker is started by the first question, or before it.

/** `tell(status)` hears how the worker stands, and of a failure whenever it comes. */
export function sumEngine(address, tell) {
  const waiting = new Map();
  let worker = null;
  let count = 0;
  let broken = null;

  const fail = (text) => {
    if (broken) return;
    broken = text;
    tell({ stage: "failed", text });
    for (const { reject } of waiting.values()) reject(new Error(text));
    waiting.clear();
  };

  const hear = ({ data }) => {
    if (data.op === "status") return data.stage === "failed" ? fail(data.text) : tell(data);
    const { resolve, reject } = waiting.get(data.id) ?? {};
    waiting.delete(data.id);
    return data.error === undefined ? resolve?.(data) : reject?.(new Error(data.error));
  };

  const start = () => {
    if (worker || broken) return;
    try {
      worker = new Worker(address, { type: "module" });
    } catch {
      fail("This browser cannot start the part that works out numbers.");
      return;
    }
    tell({ stage: "starting" });
    worker.addEventListener("message", hear);
    worker.addEventListener("error", (event) => {
      event.preventDefault();
      fail("The part that works out numbers could not be fetched or started.");
    });
  };

  const ask = (message) => {
    start();
    if (broken) return Promise.reject(new Error(broken));
    count += 1;
    const sent = { ...message, id: count };
    return new Promise((resolve, reject) => {
      waiting.set(sent.id, { resolve, reject });
      worker.postMessage(sent);
    });
  };

  return {
    start,
    /** The result or refusal, its curve or null, and the very text of the first. */
    sum: async (name, inputs) => {
      const { sum, plot } = await ask({ op: "sum", name, inputs: JSON.stringify(inputs) });
      return { found: JSON.parse(sum), curve: JSON.parse(plot), text: sum };
    },
    toAddress: async (build) => (await ask({ op: "to_address", build: JSON.stringify(build) })).address,
    fromAddress: async (text) => JSON.parse((await ask({ op: "from_address", address: text })).build),
  };
}

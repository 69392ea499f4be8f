// Answers that were worked out when the site was built, for the addresses of the worked builds.

/** Reads the prepared answers below `home`; whatever is not there, or cannot be fetched, gives null. */
export function preparedAnswers(home) {
  const fetched = async (name) => {
    const reply = await fetch(new URL(name, home));
    return reply.ok ? reply.text() : null;
  };
  return {
    /** The id of the worked build that has this address. */
    at: async (address) => {
      const text = await fetched("index.json").catch(() => null);
      const found = text === null ? {} : JSON.parse(text);
      return Object.hasOwn(found, address) ? found[address] : null;
    },
    /** The text of the answer to a worked build. */
    read: (id) => fetched(`${id}.json`).catch(() => null),
  };
}

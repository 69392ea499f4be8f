// The words of a sum's page that its form and its result need; what the sums themselves say comes from the engine.

export const FROM_FILE = "This page works out numbers only when it comes from a web server; opened as a file it cannot. The worked example below still holds.";
export const FETCHING = "Fetching the part that works out numbers. You can already fill in the form.";
export const FAILED_STILL = "The formula, the ranges and the worked example on this page still hold.";
export const NOTHING_YET = "Fill in the form: the result appears here.";
export const NOT_HERE = "This sum has no such input.";
export const TWICE = "It is said twice; the first one counts.";
export const NO_VALUE = "It has no value.";
export const UNREADABLE = "It cannot be read.";
export const SOME_CHOICE = "Only si or other can stand here.";
export const FROM_CHECK = "You came from a check. Using a number in a check leads back to it, with the number put in.";
export const STAND = { inside: "Inside what is wanted.", outside: "Outside what is wanted.", undecided: "Too close to a limit to say, within the uncertainty." };
export const SOURCE_WORDS = { published: "Published", "common-practice": "Common practice", "from-memory": "From memory", measured: "Measured", invented: "Invented" };

/** What stands beside a field that cannot be used; a table says itself what is wrong with it. */
export function refusalText(wrong, isTable) {
  if (wrong.said === "") return `Still to be filled in: ${wrong.expected}.`;
  return isTable ? `The table cannot be used: ${wrong.said}. Expected: ${wrong.expected}.` : `Cannot be ${wrong.said}: expected ${wrong.expected}.`;
}

export function missingText(titles) {
  return titles.length === 1 ? `Still missing: ${titles[0]}.` : `Still missing: ${titles.slice(0, -1).join(", ")} and ${titles.at(-1)}.`;
}

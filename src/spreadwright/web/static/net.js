// Talks to this server and to no other: JSON in and out, with the session's token where something is asked to change.

const said = (name) => document.querySelector(`meta[name="${name}"]`)?.content ?? "";
export const trip = said("trip");
const token = said("token");

/** What went wrong, in words for a person. */
export class Refused extends Error {}

async function answer(response) {
  if (response.status === 204) return null;
  if (response.ok) return response.json();
  let body = null;
  try {
    body = await response.json();
  } catch {
    // A refusal at the door is plain text.
  }
  const faults = body?.faults?.map((each) => `${each.place}: ${each.given}; ${each.rule}; ${each.next_step}.`);
  const detail = typeof body?.detail === "string" ? body.detail : "";
  throw new Refused(faults?.join(" ") || detail || `The server could not do that (${response.status}).`);
}

/** An answer, or words about the server being gone; what was broken off on purpose stays an AbortError. */
async function ask(path, asked) {
  try {
    return await answer(await fetch(`/api/trips/${trip}${path}`, asked));
  } catch (error) {
    if (error instanceof Refused || error.name === "AbortError") throw error;
    throw new Refused("The server did not answer. See whether it still runs, and try again.");
  }
}

export async function get(path) {
  return ask(path, {});
}

export async function send(path, body = null, { method = "POST", signal } = {}) {
  const headers = { "x-spreadwright-token": token };
  if (body !== null) headers["content-type"] = "application/json";
  const sent = body === null ? undefined : JSON.stringify(body);
  return ask(path, { method, headers, body: sent, signal });
}

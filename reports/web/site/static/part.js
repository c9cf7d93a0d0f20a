// Asks the server for a part of the page.

let asked = null;

// part is what an address answers: { html }, or { fault } in words; null if another part was
// asked for meanwhile.
export async function part(address, options) {
  asked?.abort();
  asked = new AbortController();
  try {
    const answer = await fetch(address, { ...options, headers: { Accept: "application/json" }, signal: asked.signal }); // for faults
    if (answer.headers.get("Content-Type").startsWith("text/html")) return { html: await answer.text() };
    return { fault: (await answer.json()).error };
  } catch (e) {
    return e.name === "AbortError" ? null : { fault: "panecore is not answering: is it still running?" };
  }
}

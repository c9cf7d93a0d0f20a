// Asks the server for a part of the page.

let asked = null;

// part is what an address answers: its html or, where there is none, the fault in words;
// null where another was asked for meanwhile.
export async function part(address, options) {
  asked?.abort();
  asked = new AbortController();
  try {
    const answer = await fetch(address, { ...options, headers: { Accept: "application/json" }, signal: asked.signal }); // as faults are wanted
    if (answer.headers.get("Content-Type").startsWith("text/html")) return { html: await answer.text() };
    return { fault: (await answer.json()).error };
  } catch (e) {
    return e.name === "AbortError" ? null : { fault: "panecore does not answer: is it still running?" };
  }
}

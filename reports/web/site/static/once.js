// A form is sent once, however often its button is pressed: the answer to a second send would
// tell that what the first one did can't be done.

const patience = 10_000; // ms in which a second send counts as the first (assumption: longer than an answer takes)

let sent = new WeakMap(); // forms, and when

document.addEventListener("submit", (e) => {
  if (e.defaultPrevented || e.target.method !== "post") return;
  if (e.timeStamp - sent.get(e.target) < patience) e.preventDefault();
  else sent.set(e.target, e.timeStamp);
});

// The second click of a double click may fall on the page that answers the first.
document.addEventListener("click", (e) => {
  if (e.detail > 1 && e.target.closest("button")?.form?.method === "post") e.preventDefault();
});

addEventListener("pageshow", () => (sent = new WeakMap())); // also where the browser comes back to it

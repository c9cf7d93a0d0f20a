// A form is sent once, however often its button is pressed: a second send would fail, since
// the first has done its work.

const patience = 10_000; // ms in which a second send is dropped (assumption: longer than an answer takes)

let sent = new WeakMap(); // forms, and when each was sent

document.addEventListener("submit", (e) => {
  if (e.defaultPrevented || e.target.method !== "post") return;
  if (e.timeStamp - sent.get(e.target) < patience) e.preventDefault();
  else sent.set(e.target, e.timeStamp);
});

// The second click of a double click may fall on the page that answers the first.
document.addEventListener("click", (e) => {
  if (e.detail > 1 && e.target.closest("button")?.form?.method === "post") e.preventDefault();
});

addEventListener("pageshow", () => (sent = new WeakMap())); // also when the browser returns to it

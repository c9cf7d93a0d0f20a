// What is typed into a form outlasts a reload: the browser keeps it as a draft until the
// logbook has it.

const sent = "panecore sent"; // the draft of the form that this tab sent last, and the form's path

// draftOf keeps the draft of a form from now on, and first puts back what was typed and not
// kept, for which room makes the fields. What changes without an input has to say that it is
// one.
export function draftOf(form, room = () => {}) {
  const came = "came" in form.dataset; // back from the server, with what was typed
  const key = (came && stored(sessionStorage, sent)?.key) || "panecore draft " + form.dataset.draft;
  const typed = () => [...new FormData(form)].filter(([name]) => name !== "form");
  const keep = () => {
    try {
      localStorage.setItem(key, JSON.stringify({ at: Date.now(), typed: typed() }));
    } catch {} // a browser that keeps nothing: the page works without
  };
  const old = stored(localStorage, key);
  if (came) {
    keep();
  } else if (old && JSON.stringify(old.typed) !== JSON.stringify(typed())) {
    room(old.typed);
    fill(form, old.typed);
    tell(key, old.at);
    form.dispatchEvent(new Event("input"));
  }
  form.addEventListener("input", keep);
  form.addEventListener("submit", () => {
    keep();
    sessionStorage.setItem(sent, JSON.stringify({ key, path: location.pathname }));
  });
}

// forgetKept forgets the draft of the form that led to this page, if this page tells that
// what it sent was kept.
export function forgetKept() {
  const last = stored(sessionStorage, sent);
  if (!last || !document.querySelector(".said") || !document.referrer || new URL(document.referrer).pathname !== last.path) return;
  localStorage.removeItem(last.key);
  sessionStorage.removeItem(sent);
}

function stored(storage, key) {
  try {
    return JSON.parse(storage.getItem(key));
  } catch {
    return null;
  }
}

// fill puts back what was typed, the fields of a name in their order.
function fill(form, typed) {
  const left = [...typed];
  for (const field of form.elements) {
    const ticked = field.type === "checkbox" || field.type === "radio";
    const i = left.findIndex(([name, value]) => name === field.name && (!ticked || value === field.value));
    if (ticked) field.checked = i >= 0;
    if (i < 0) continue;
    const [[, value]] = left.splice(i, 1);
    if (ticked) continue;
    field.value = value;
    if (value) field.closest("details")?.setAttribute("open", "");
  }
}

function tell(key, at) {
  const told = document.getElementById("restored");
  told.hidden = false;
  told.querySelector("span").textContent = `What you typed on ${new Date(at).toLocaleString()} and did not keep is back.`;
  told.querySelector("button").addEventListener("click", () => {
    localStorage.removeItem(key);
    location.reload();
  });
}

// What is typed into a form survives a reload: the browser keeps it as a draft until the logbook
// has it.

const sent = "panecore sent"; // the draft and the path of the form that this tab sent last

// A form that the server returned with what was typed is the newest there is, unless the browser
// shows it again, which sends anew what was sent: typing that followed is in the draft alone.
const shownAgain = () => performance.getEntriesByType("navigation")[0]?.type !== "navigate";

// draftOf first restores what was typed into a form and not saved, after room has made the fields
// for it, and then keeps the draft. Changes without an input event must send one.
export function draftOf(form, room = () => {}) {
  const returned = "came" in form.dataset; // by the server, with what was typed
  const came = returned && !shownAgain();
  const key = (returned && stored(sessionStorage, sent)?.key) || "panecore draft " + form.dataset.draft;
  const typed = () => [...new FormData(form)].filter(([name]) => name !== "form");
  const keep = () => {
    try {
      localStorage.setItem(key, JSON.stringify({ at: Date.now(), typed: typed() }));
    } catch {} // the page works without storage
  };
  const old = stored(localStorage, key);
  if (came) {
    keep();
  } else if (old && JSON.stringify(old.typed) !== JSON.stringify(typed())) {
    room(old.typed);
    fill(form, old.typed);
    restored(key, old.at);
    form.dispatchEvent(new Event("input"));
  }
  form.addEventListener("input", keep);
  form.addEventListener("submit", () => {
    keep();
    sessionStorage.setItem(sent, JSON.stringify({ key, path: location.pathname }));
  });
}

// forgetKept forgets the draft of the form that led to this page, if this page says that it was
// saved.
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

// fill restores what was typed, fields of the same name in their order.
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

function restored(key, at) {
  const notice = document.getElementById("restored");
  notice.hidden = false;
  notice.querySelector("span").textContent = `What you typed on ${new Date(at).toLocaleString()} but did not save is back.`;
  notice.querySelector("button").addEventListener("click", () => {
    localStorage.removeItem(key);
    location.reload();
  });
}

// A reading by hand: rows that come, go and move; colours at hand; what is typed drawn
// beside the core before it; and a draft that outlasts a reload.
import { pairColours, colourOf } from "/static/colour.js";

const form = document.getElementById("hand");
const rows = document.getElementById("rows");
const blank = document.getElementById("blank");
const drawn = document.getElementById("drawn");
const swatches = document.getElementById("swatches");
const proof = document.querySelector('meta[name="form"]').content;

form.querySelector(".keys").hidden = false;
pairColours(form);
ready(form);

// Rows

// ready shows what only scripts make use of.
function ready(root) {
  for (const picker of root.querySelectorAll("[data-picks]")) picker.hidden = false;
  if (swatches && "popover" in swatches) for (const button of root.querySelectorAll(".at-hand")) button.hidden = false;
}

function newRow() {
  const row = blank.content.firstElementChild.cloneNode(true);
  ready(row);
  return row;
}

function first(row) {
  row.querySelector('[name="thickness"]').focus();
}

function addBelow() {
  const row = newRow();
  rows.append(row);
  return row;
}

function act(row, what) {
  const other = { up: row.previousElementSibling, down: row.nextElementSibling }[what];
  if (what === "remove") {
    const next = row.nextElementSibling ?? row.previousElementSibling ?? addBelow();
    row.remove();
    first(next);
  } else if (other) {
    what === "up" ? other.before(row) : other.after(row);
  }
  changed();
}

form.addEventListener("click", (e) => {
  const button = e.target.closest('button[name="do"]');
  if (!button) return;
  const [what] = button.value.split(":");
  if (what === "add") {
    e.preventDefault();
    first(addBelow());
    changed();
  } else if (["up", "down", "remove"].includes(what)) {
    e.preventDefault();
    act(button.closest(".row"), what);
    if (what !== "remove") button.focus();
  }
});

form.addEventListener("keydown", (e) => {
  const row = e.target.closest(".row");
  if (row && e.altKey && (e.key === "ArrowUp" || e.key === "ArrowDown")) {
    e.preventDefault();
    const here = document.activeElement;
    act(row, e.key === "ArrowUp" ? "up" : "down");
    here.focus();
  } else if (e.key === "Enter" && e.target.matches("input, select")) {
    e.preventDefault(); // never saves by chance
    if (row) first(row.nextElementSibling ?? addBelow());
  }
});

// Colours at hand are put into the row that they were asked for in.

let asking = null;

form.addEventListener("click", (e) => {
  if (e.target.closest(".at-hand")) asking = e.target.closest(".row");
});

// Who goes on by keys leaves them behind.
form.addEventListener("focusin", (e) => {
  if (swatches?.matches(":popover-open") && !e.target.matches(".at-hand")) swatches.hidePopover();
});

swatches?.addEventListener("click", (e) => {
  const colour = e.target.closest("[data-color]")?.dataset.color;
  const text = asking?.querySelector('[name="hex"]');
  if (!colour || !text) return;
  text.value = colour;
  text.dispatchEvent(new Event("input", { bubbles: true }));
  swatches.hidePopover();
});

// What is typed, drawn

let wait = 0;
let asked = null;

function changed() {
  keep();
  clearTimeout(wait);
  wait = setTimeout(draw, 250);
}

form.addEventListener("input", changed);

async function draw() {
  asked?.abort();
  asked = new AbortController();
  try {
    const answer = await fetch(form.dataset.preview, {
      method: "POST",
      body: new URLSearchParams(new FormData(form)),
      headers: { "X-Panecore-Form": proof },
      signal: asked.signal,
    });
    if (answer.ok) {
      drawn.innerHTML = await answer.text();
      meanings();
    }
  } catch (e) {
    if (e.name !== "AbortError") drawn.querySelector(".whole").textContent = "panecore does not answer: is it still running? What you type is kept here.";
  }
}

// meanings puts what each layer is beside its row.
function meanings() {
  const found = new Map([...drawn.querySelectorAll(".meanings li")].map((li) => [li.dataset.row, li.textContent]));
  [...rows.querySelectorAll(".row")].forEach((row, i) => {
    const words = found.get(String(i));
    row.querySelector(".meaning").textContent = words ? words : "";
  });
}

// The draft

const draft = "panecore draft " + form.dataset.draft;

function typed() {
  return [...new FormData(form)].filter(([name]) => name !== "form");
}

function keep() {
  try {
    localStorage.setItem(draft, JSON.stringify({ at: Date.now(), typed: typed() }));
  } catch {} // a browser that keeps nothing: the page works without
}

function restore({ at, typed }) {
  const several = new Set(["thickness", "hex", "band", "layer_note", "was"]);
  const lists = {};
  for (const [name, value] of typed) (lists[name] ??= []).push(value);
  for (const [name, values] of Object.entries(lists)) {
    if (several.has(name) || name === "sign") continue;
    const field = form.elements[name];
    if (field instanceof Element) field.value = values[0];
  }
  for (const box of form.querySelectorAll('[name="sign"]')) box.checked = (lists.sign ?? []).includes(box.value);
  rows.replaceChildren();
  (lists.thickness ?? [""]).forEach((_, i) => {
    const row = addBelow();
    for (const name of several) row.querySelector(`[name="${name}"]`).value = lists[name]?.[i] ?? "";
    const colour = colourOf(row.querySelector('[name="hex"]').value);
    if (colour) row.querySelector("[data-picks]").value = colour;
    row.querySelector("details").open = row.querySelector('[name="layer_note"]').value !== "";
  });
  const told = document.getElementById("restored");
  told.hidden = false;
  told.querySelector("span").textContent = `What you typed on ${new Date(at).toLocaleString()} and did not keep is back.`;
  told.querySelector("button").addEventListener("click", () => {
    localStorage.removeItem(draft);
    location.reload();
  });
}

form.addEventListener("submit", (e) => {
  if (e.submitter?.value === "look") { // what Enter asks for where there are no scripts
    e.preventDefault();
    return;
  }
  keep();
  if (e.submitter?.value === "save") sessionStorage.setItem("panecore sent", draft);
});

function load() {
  sessionStorage.removeItem("panecore sent"); // the form came back: it was not kept
  if ("came" in form.dataset) {
    keep();
    return;
  }
  try {
    const old = JSON.parse(localStorage.getItem(draft) ?? "null");
    if (old && JSON.stringify(old.typed) !== JSON.stringify(typed())) {
      restore(old);
      draw();
    }
  } catch {
    localStorage.removeItem(draft);
  }
}

load();
meanings();
document.querySelector('[aria-invalid="true"]')?.focus();

// A reading by hand: rows that are added, removed and moved; colours at hand; a drawing of what
// is typed next to the former core; and a draft that survives a reload.
import { pairColours } from "/static/colour.js";
import { draftOf } from "/static/draft.js";
import { faultFirst } from "/static/fault.js";
import { part } from "/static/part.js";

const form = document.getElementById("hand");
const rows = document.getElementById("rows");
const blank = document.getElementById("blank");
const drawn = document.getElementById("drawn");
const swatches = document.getElementById("swatches");

pairColours(form);

// Rows

function first(row) {
  row.querySelector('[name="thickness"]').focus();
}

function addBelow() {
  rows.append(blank.content.firstElementChild.cloneNode(true));
  return rows.lastElementChild;
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
    e.preventDefault(); // Enter never saves by accident
    if (row) first(row.nextElementSibling ?? addBelow());
  }
});

// Colours at hand go into the row whose button was pressed.

let asking = null;

form.addEventListener("click", (e) => {
  if (e.target.closest(".at-hand")) asking = e.target.closest(".row");
});

// Moving the focus on closes them.
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

// The drawing of what is typed

let wait = 0;

// changed: rows were added, removed or moved, which is also an input.
function changed() {
  form.dispatchEvent(new Event("input"));
}

form.addEventListener("input", () => {
  clearTimeout(wait);
  wait = setTimeout(draw, 250);
});

async function draw() {
  const answer = await part(form.dataset.preview, { method: "POST", body: new URLSearchParams(new FormData(form)) });
  if (!answer) return;
  if (answer.fault) {
    for (const former of drawn.querySelectorAll(".picture, .meanings")) former.replaceChildren();
    drawn.querySelector(".whole").textContent = `What you typed is still here, but could not be drawn: ${answer.fault}`;
  } else {
    drawn.innerHTML = answer.html;
  }
  meanings();
}

// meanings writes what each layer is into its row.
function meanings() {
  const found = new Map([...drawn.querySelectorAll(".meanings li")].map((li) => [li.dataset.row, li.textContent]));
  [...rows.querySelectorAll(".row")].forEach((row, i) => {
    const words = found.get(String(i));
    row.querySelector(".meaning").textContent = words ? words : "";
  });
}

form.addEventListener("submit", (e) => {
  if (e.submitter?.value === "look") e.preventDefault(); // what Enter does without scripts
});

draftOf(form, (typed) => {
  rows.replaceChildren();
  for (const [name] of typed) if (name === "thickness") addBelow();
});
meanings();
faultFirst();

// Typing goes on in the first row without a thickness, but not where a keyboard on the screen would cover the form.
if (document.activeElement === document.body && !matchMedia("(pointer: coarse)").matches) {
  [...rows.querySelectorAll('[name="thickness"]')].find((field) => field.value === "")?.focus({ preventScroll: true });
}

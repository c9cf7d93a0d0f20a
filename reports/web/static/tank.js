// The tank's page: cores and events of the timeline are explained when pointed at, tapped or
// reached by keys; the draft of a form is forgotten once it is saved.
import { forgetKept } from "/static/draft.js";
import { faultFirst } from "/static/fault.js";
import { wipes } from "/static/wipe.js";

forgetKept();
wipes();
const years = document.querySelector("#years ~ .timeline");
if (years) years.scrollLeft = years.scrollWidth; // the newest

const holder = document.getElementById("timeline");
if (holder) timeline(holder, document.getElementById("details"));
for (const form of document.querySelectorAll('form[method="post"][action*="#"]')) {
  form.setAttribute("action", form.getAttribute("action").replace(/#.*/, "")); // else the browser moves the focus there, off the field
}
faultFirst(); // once everything is in place

function timeline(holder, details) {
  const svg = holder.querySelector("svg");
  const rows = rowsOf(svg);
  const things = rows.flat();
  if (things.length === 0) return;
  holder.removeAttribute("tabindex");
  const lefts = things.map(({ g }) => g.getBoundingClientRect().left - holder.getBoundingClientRect().left);
  holder.scrollLeft = Math.max(...lefts) - 60; // the newest, with a little of what is before it
  svg.setAttribute("role", "group");
  svg.setAttribute("aria-label", svg.querySelector(":scope > title").textContent);
  const mark = document.createElementNS(svg.namespaceURI, "rect");
  mark.setAttribute("class", "mark s-oxic");
  mark.setAttribute("fill", "none");
  svg.append(mark);
  details.hidden = false;
  const before = "Point at a core or an event, tap it, or go through them with the arrow keys.";

  let at = rows.at(-1).at(-1); // the thing that has or had the focus
  for (const thing of things) {
    thing.g.setAttribute("role", "img");
    thing.g.setAttribute("aria-label", thing.words);
    thing.g.setAttribute("tabindex", thing === at ? "0" : "-1");
    thing.g.querySelector(":scope > title").remove(); // its words are shown below at once
  }
  tell(null);

  // tell explains a thing and frames it; null says how to ask.
  function tell(thing) {
    details.textContent = thing ? thing.words : before;
    mark.setAttribute("visibility", thing ? "visible" : "hidden");
    if (!thing) return;
    const { x, y, width, height } = thing.box;
    const edge = 0.6; // mm, the unit of the picture
    for (const [name, value] of Object.entries({ x: x - edge, y: y - edge, width: width + 2 * edge, height: height + 2 * edge })) mark.setAttribute(name, value);
  }
  function go(to) {
    at.g.setAttribute("tabindex", "-1");
    at = to;
    at.g.setAttribute("tabindex", "0");
    at.g.focus();
  }

  const here = () => things.find(({ g }) => g === document.activeElement) ?? null;
  svg.addEventListener("focusin", () => tell(here()));
  svg.addEventListener("focusout", () => tell(null));
  svg.addEventListener("pointermove", (e) => tell(near(e) ?? here()));
  svg.addEventListener("pointerleave", () => tell(here()));
  svg.addEventListener("click", (e) => {
    const thing = near(e);
    if (thing) go(thing);
  });
  svg.addEventListener("keydown", (e) => {
    const row = rows.findIndex((r) => r.includes(at));
    const i = rows[row].indexOf(at);
    const keys = {
      ArrowLeft: () => rows[row][i - 1],
      ArrowRight: () => rows[row][i + 1],
      ArrowUp: () => nearest(rows[row - 1]),
      ArrowDown: () => nearest(rows[row + 1]),
      Home: () => rows[row][0],
      End: () => rows[row].at(-1),
    };
    if (!(e.key in keys)) return;
    e.preventDefault();
    const to = keys[e.key]();
    if (to) go(to);
  });

  // nearest is the thing of a row that is nearest in time to the one with the focus.
  function nearest(row = []) {
    return row.reduce((best, thing) => (!best || Math.abs(thing.when - at.when) < Math.abs(best.when - at.when) ? thing : best), undefined);
  }
  // near is the thing under the pointer, or the nearest within a finger's width.
  function near(e) {
    const matrix = svg.getScreenCTM();
    const place = new DOMPoint(e.clientX, e.clientY).matrixTransform(matrix.inverse());
    let best = null;
    let least = 14 / matrix.a; // pixels, in the unit of the picture
    for (const thing of things) {
      const { x, y, width, height } = thing.box;
      const off = Math.hypot(Math.max(x - place.x, 0, place.x - x - width), Math.max(y - place.y, 0, place.y - y - height));
      if (off < least) [best, least] = [thing, off];
    }
    return best;
  }
}

// rowsOf are the things of a timeline in order of time: the events, then each station's cores.
// Trends are left out: they lie over the cores, and the page says them in words.
function rowsOf(svg) {
  const events = [];
  const stations = new Map(); // by the height of their surfaces
  for (const g of svg.querySelectorAll("g")) {
    const words = g.querySelector(":scope > title")?.textContent;
    if (!words) continue;
    const mark = g.querySelector(":scope > :not(title, text)")?.getBBox(); // an event's words may be on either side of it
    const thing = { g, words, box: g.getBBox(), when: mark ? mark.x + mark.width / 2 : 0 };
    if (/^\d{4}-\d\d-\d\d /.test(words)) {
      events.push(thing);
    } else if (g.querySelector(":scope > rect")) {
      const surface = Math.round(thing.box.y);
      stations.set(surface, [...(stations.get(surface) ?? []), thing]);
    }
  }
  const rows = [...stations].sort(([a], [b]) => a - b).map(([, cores]) => cores);
  return (events.length > 0 ? [events, ...rows] : rows).map((row) => row.sort((a, b) => a.when - b.when));
}

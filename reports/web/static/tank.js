// The tank's page: what the timeline shows can be pointed at, tapped and walked through by
// keys; what a form had typed is forgotten once it was kept.

// A form that was sent noted its draft here; that this page came means that it was kept.
const kept = sessionStorage.getItem("panecore sent");
if (kept) {
  localStorage.removeItem(kept);
  sessionStorage.removeItem("panecore sent");
}

const holder = document.getElementById("timeline");
if (holder) timeline(holder, document.getElementById("details"));

function timeline(holder, details) {
  const svg = holder.querySelector("svg");
  const things = [...svg.querySelectorAll("g")]
    .filter((g) => g.querySelector(":scope > title"))
    .map((g) => ({ g, words: g.querySelector(":scope > title").textContent, box: g.getBBox() }));
  if (things.length === 0) return;
  holder.removeAttribute("tabindex");
  holder.scrollLeft = holder.scrollWidth; // the newest
  svg.setAttribute("role", "group");
  svg.setAttribute("aria-label", svg.querySelector(":scope > title").textContent);
  const mark = document.createElementNS(svg.namespaceURI, "rect");
  mark.setAttribute("class", "mark s-oxic");
  mark.setAttribute("fill", "none");
  svg.append(mark);
  details.hidden = false;
  const before = details.textContent = "Point at a core, tap it, or go through them with the arrow keys.";

  let at = things.length - 1; // where the keys are
  for (const { g, words } of things) {
    g.setAttribute("role", "img");
    g.setAttribute("aria-label", words);
    g.setAttribute("tabindex", "-1");
    g.querySelector(":scope > title").remove(); // its words stand below, without waiting
  }
  things[at].g.setAttribute("tabindex", "0");

  function tell(thing) {
    details.textContent = thing ? thing.words : before;
    const { x, y, width, height } = thing ? thing.box : { x: -9, y: -9, width: 0, height: 0 };
    for (const [name, value] of Object.entries({ x: x - 0.6, y: y - 0.6, width: width + 1.2, height: height + 1.2 })) mark.setAttribute(name, value);
  }
  function go(to) {
    things[at].g.setAttribute("tabindex", "-1");
    at = to;
    things[at].g.setAttribute("tabindex", "0");
    things[at].g.focus();
  }

  svg.addEventListener("focusin", (e) => tell(things.find(({ g }) => g === e.target)));
  svg.addEventListener("focusout", () => tell(null));
  svg.addEventListener("pointermove", (e) => tell(near(e)));
  svg.addEventListener("pointerleave", () => tell(things.find(({ g }) => g === document.activeElement)));
  svg.addEventListener("click", (e) => {
    const thing = near(e);
    if (thing) go(things.indexOf(thing));
  });
  svg.addEventListener("keydown", (e) => {
    const to = { ArrowLeft: beside(-1), ArrowRight: beside(1), ArrowUp: over(-1), ArrowDown: over(1), Home: 0, End: things.length - 1 }[e.key];
    if (to === undefined) return;
    e.preventDefault();
    if (to !== null) go(to);
  });

  // near is the thing at a place of the screen, or the nearest within a finger's width.
  function near(e) {
    const place = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const finger = 14 / svg.getScreenCTM().a; // pixels, as the picture counts
    let best = null;
    let least = finger;
    for (const thing of things) {
      const { x, y, width, height } = thing.box;
      const off = Math.hypot(Math.max(x - place.x, 0, place.x - x - width), Math.max(y - place.y, 0, place.y - y - height));
      if (off < least || (off === least && best && width * height < best.box.width * best.box.height)) [best, least] = [thing, off];
    }
    return best;
  }
  // beside is the next thing of the same row to a side, over the nearest of the next row.
  function beside(step) {
    const here = things[at].box;
    return nearest(({ box }) => Math.abs(box.y - here.y) < 1 && step * (box.x - here.x) > 0.01, (box) => Math.abs(box.x - here.x));
  }
  function over(step) {
    const here = things[at].box;
    return nearest(({ box }) => step * (box.y - here.y) >= 1, (box) => 1000 * Math.abs(box.y - here.y) + Math.abs(box.x - here.x));
  }
  function nearest(fits, off) {
    let best = null;
    things.forEach((thing, i) => {
      if (fits(thing) && (best === null || off(thing.box) < off(things[best].box))) best = i;
    });
    return best;
  }
}

// The rehearsal follows the sliders.
import { part } from "/static/part.js";

const form = document.getElementById("rehearse");
const result = document.getElementById("result");
const verdict = document.getElementById("verdict");

if (form) {
  form.querySelector(".plain").hidden = true;
  let wait = 0;
  form.addEventListener("input", () => {
    words();
    clearTimeout(wait);
    wait = setTimeout(ask, 180);
  });
  form.addEventListener("submit", (e) => {
    e.preventDefault();
    ask();
  });

  function words() {
    const to = form.elements.to;
    document.getElementById("share-words").textContent = form.elements.share.value + " %";
    document.getElementById("to-words").textContent = "inches" in to.dataset ? (to.value / 25.4).toFixed(2) + " in" : to.value + " mm";
  }

  async function ask() {
    const query = new URLSearchParams(new FormData(form));
    history.replaceState(null, "", "?" + query);
    query.set("part", "result");
    result.setAttribute("aria-busy", "true");
    const answer = await part("?" + query);
    if (!answer) return;
    if (answer.fault) {
      result.textContent = answer.fault;
    } else {
      result.innerHTML = answer.html;
    }
    result.removeAttribute("aria-busy");
    verdict.textContent = result.querySelector("[data-verdict]")?.textContent ?? result.textContent;
  }
  words();
}

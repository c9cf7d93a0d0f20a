// The rehearsal follows the sliders.
const form = document.getElementById("rehearse");
const result = document.getElementById("result");
const verdict = document.getElementById("verdict");

if (form) {
  form.querySelector(".plain").hidden = true;
  let wait = 0;
  let asked = null;
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
    asked?.abort();
    asked = new AbortController();
    const query = new URLSearchParams(new FormData(form));
    history.replaceState(null, "", "?" + query);
    query.set("part", "result");
    result.setAttribute("aria-busy", "true");
    try {
      const answer = await fetch("?" + query, { signal: asked.signal });
      const text = await answer.text();
      result.innerHTML = text;
    } catch (e) {
      if (e.name === "AbortError") return;
      result.textContent = "panecore does not answer: is it still running?";
    }
    result.removeAttribute("aria-busy");
    verdict.textContent = result.querySelector("[data-verdict]")?.textContent ?? result.textContent;
  }
  words();
}

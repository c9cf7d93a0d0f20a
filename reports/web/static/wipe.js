// Two strips laid over each other: a slider cuts the later one off from the left. Without this script they stand side by side.

export function wipes() {
  for (const wipe of document.querySelectorAll(".wipe")) {
    const label = wipe.querySelector(".slide");
    const slider = label.querySelector("input");
    const [before, after] = [...label.querySelectorAll("time")].map((time) => time.textContent);
    const cut = () => {
      wipe.style.setProperty("--at", `${slider.value}%`);
      slider.setAttribute("aria-valuetext", `${slider.value} % ${before}, the rest ${after}`);
    };
    slider.addEventListener("input", cut);
    cut();
    wipe.classList.add("laid");
    label.hidden = false;
  }
}

// Keeps a colour's text and its picker in step, for all pairs in a root.

const whole = /^#?([0-9a-f]{6})$/i;

export function pairColours(root) {
  root.addEventListener("input", (e) => {
    for (const pair of root.querySelectorAll(".colour")) {
      const picker = pair.querySelector("[data-picks]");
      const text = pair.querySelector("input:not([data-picks])");
      if (e.target === picker) text.value = picker.value;
      const colour = whole.exec(text.value.trim());
      if (colour) picker.value = "#" + colour[1].toLowerCase();
    }
  });
}

// Keeps the text of a colour and the picker beside it in step, for all pairs within a root.

const whole = /^#?([0-9a-f]{6})$/i;

// colourOf is what was typed as the picker takes it, or null.
export function colourOf(text) {
  const found = whole.exec(text.trim());
  return found ? "#" + found[1].toLowerCase() : null;
}

export function pairColours(root) {
  for (const picker of root.querySelectorAll("input[data-picks]")) picker.hidden = false;
  root.addEventListener("input", (e) => {
    const pair = e.target.closest(".colour");
    if (!pair) return;
    const picker = pair.querySelector("[data-picks]");
    const text = pair.querySelector("input:not([data-picks])");
    if (e.target === picker) {
      text.value = picker.value;
    } else {
      const colour = colourOf(text.value);
      if (colour) picker.value = colour;
    }
  });
}

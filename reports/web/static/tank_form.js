// The form of a tank: colours in step with their pickers.
import { pairColours } from "/static/colour.js";

pairColours(document);
for (const pair of document.querySelectorAll(".colour")) {
  const text = pair.querySelector("input:not([data-picks])");
  if (text.value === "") pair.querySelector("[data-picks]").value = "#d9cba6"; // a pale sand to start from
}

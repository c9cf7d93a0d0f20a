// The form of a tank: colours in step with their pickers, and a draft that survives a reload.
import { pairColours } from "/static/colour.js";
import { draftOf } from "/static/draft.js";
import { faultFirst } from "/static/fault.js";

const form = document.querySelector(".tank-form");
pairColours(form);
for (const pair of form.querySelectorAll(".colour")) {
  const text = pair.querySelector("input:not([data-picks])");
  if (text.value === "") pair.querySelector("[data-picks]").value = "#d9cba6"; // a pale sand to start from
}
draftOf(form);
faultFirst();

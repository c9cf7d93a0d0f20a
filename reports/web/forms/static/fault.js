// faultFirst focuses the first field with a complaint, or else shows the other complaints.
export function faultFirst() {
  const field = document.querySelector('[aria-invalid="true"]');
  if (field) field.focus();
  else document.getElementById("wrong")?.scrollIntoView({ block: "center" });
}

// faultFirst puts the keys into the first field that wants mending, which also shows it, or
// shows what is wrong with none.
export function faultFirst() {
  const field = document.querySelector('[aria-invalid="true"]');
  if (field) field.focus();
  else document.getElementById("wrong")?.scrollIntoView({ block: "center" });
}

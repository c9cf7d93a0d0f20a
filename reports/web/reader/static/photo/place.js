// A place that is typed in other letters than one of the tank's would be a second place.

/** The place among those known that a name differs from only in great and small letters;
 *  undefined: none. */
export function knownAs(name, known) {
  const small = name.trim().toLowerCase()
  return known.includes(name.trim()) ? undefined : known.find(one => one.toLowerCase() === small)
}

/** Offers the known place below a field by a button; undefined: nothing to offer. */
export function offerKnown(below, place) {
  below.hidden = place === undefined
  const button = below.querySelector('button')
  button.dataset.place = place ?? ''
  for (const name of below.querySelectorAll('b')) name.textContent = place ?? ''
}

// A place typed with other capital letters than one of the tank's would be a second place.

/** The known place that a name differs from only in capital letters; undefined: none. */
export function knownAs(name, known) {
  const small = name.trim().toLowerCase()
  return known.includes(name.trim()) ? undefined : known.find(place => place.toLowerCase() === small)
}

/** Offers a known place by a button below a field; undefined: none. */
export function offerKnown(below, place) {
  below.hidden = place === undefined
  const button = below.querySelector('button')
  button.dataset.place = place ?? ''
  for (const name of below.querySelectorAll('b')) name.textContent = place ?? ''
}

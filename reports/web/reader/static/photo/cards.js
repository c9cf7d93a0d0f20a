// The marked grey cards: how much light each reflects, if known.

import { fill } from './svg.js'

/** Shows a row per card. changed(i, reflectance) and removed(i) are called for one of them. */
export function showCards(cards, label, { changed, removed }) {
  const row = document.getElementById('card-row')
  document.getElementById('card-list').replaceChildren(...cards.map((card, i) => {
    const made = row.content.cloneNode(true)
    const [name, input, fault, button] = made.firstElementChild.children
    name.textContent = fill(label, { n: i + 1 })
    name.htmlFor = input.id = 'card-reflectance-' + i
    input.value = card.reflectance ?? ''
    fault.id = 'fault-reflectance-' + i
    fault.dataset.field = 'reflectance-' + i
    input.setAttribute('aria-describedby', fault.id)
    input.addEventListener('change', () => changed(i, input.value.trim()))
    button.id = 'card-out-' + i
    button.addEventListener('click', () => removed(i))
    return made
  }))
}

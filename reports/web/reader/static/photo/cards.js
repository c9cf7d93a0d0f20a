// The grey cards that are marked: how much light each throws back, if it says so.

import { fill } from './svg.js'

/** Shows a row a card. lit(i, reflectance) and out(i) are called when one is changed. */
export function showCards(cards, label, { lit, out }) {
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
    input.addEventListener('change', () => lit(i, input.value.trim()))
    button.id = 'card-out-' + i
    button.addEventListener('click', () => out(i))
    return made
  }))
}

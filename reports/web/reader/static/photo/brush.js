// Painting out what lies before the bed: a stone, a snail, a root, or a bump on an edge.

import { draw, tenth } from './svg.js'

const radius = 12 // pixels of the pane
const most = 400 // discs, as panecore takes them

export class Brush {
  on = false

  #view
  #group
  #doc // { picks }
  #doing // { begin(what), moved(), turned() }

  constructor(view, group, doc, doing) {
    this.#view = view
    this.#group = group
    this.#doc = doc
    this.#doing = doing
    document.getElementById('paint').addEventListener('click', () => {
      this.turn(!this.on)
      this.#doing.turned()
    })
  }

  turn(on) {
    this.on = on
    document.getElementById('paint').setAttribute('aria-pressed', on)
  }

  /** A stroke that begins at a place. */
  grab(at) {
    const size = radius / this.#view.scale
    const hidden = this.#doc.picks.hidden
    let last = null
    const dab = ([x, y]) => {
      const inside = x >= 0 && y >= 0 && x <= this.#view.size[0] && y <= this.#view.size[1]
      if (!inside || hidden.length >= most || (last && Math.hypot(x - last[0], y - last[1]) < size / 2)) return
      last = [x, y]
      hidden.push([x, y, size].map(tenth))
      this.draw()
    }
    this.#doing.begin('paint')
    dab(at)
    return { at: () => null, move: dab, drop: () => this.#doing.moved(), cancel: () => this.#doing.moved() }
  }

  draw() {
    this.#group.replaceChildren()
    for (const [x, y, r] of this.#doc.picks.hidden) {
      const [cx, cy] = this.#view.toPane([x, y])
      draw(this.#group, 'circle', { cx, cy, r: r * this.#view.scale })
    }
  }
}

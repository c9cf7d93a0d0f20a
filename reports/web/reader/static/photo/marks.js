// What a keeper marks on the photo: the ruler's two points, grey cards, the strip, and roughly
// where the bed begins.

import { draw, set, corners, clamp, tenth, fill } from './svg.js'

const leastBox = 8 // pixels of the photo per side

export class Marks {
  /** The ruler's first point while the second is missing. */
  first = null
  /** Another card is wanted. */
  another = false
  /** The keeper has marked where the bed begins. */
  surfaceKnown = false

  #view
  #doc // { picks, length }
  #texts
  #group
  #doing // { begin(what), moved(), placed(step), tooSmall(), sure(step), surface() }: whether a mark was 'found', is 'doubtful' or the keeper's (''), and the row of the surface that was read or null
  #drawn = null // a box while it is drawn

  constructor(view, group, doc, texts, doing) {
    this.#view = view
    this.#group = group
    this.#doc = doc
    this.#texts = texts
    this.#doing = doing
  }

  get #picks() { return this.#doc.picks }

  /** Whether a step's mark is still to be made. */
  wants(step) {
    switch (step) {
      case 'ruler': return !this.#picks.ruler
      case 'card': return this.another || this.#picks.cards.length === 0
      case 'strip': return !this.#picks.strip
    }
    return false
  }

  /** The handles of a step. */
  handles(step) {
    const { ruler, cards, strip } = this.#picks
    switch (step) {
      case 'ruler':
        if (ruler) return [this.#point('ruler-from', ruler.from, p => { ruler.from = p; delete ruler.plane }), this.#point('ruler-to', ruler.to, p => { ruler.to = p; delete ruler.plane })]
        return this.first ? [this.#point('ruler-from', this.first, p => { this.first = p })] : []
      case 'card':
        return cards.flatMap((card, i) => this.#box('card-' + i, fill(this.#texts.card, { n: i + 1 }), card.box))
      case 'strip':
        return strip ? this.#box('strip', this.#texts.strip, strip, (_, dy) => { if (this.#picks.surface !== null) this.#picks.surface = tenth(this.#picks.surface + dy) }) : []
      case 'surface':
        return strip ? [this.#surface(strip)] : []
    }
    return []
  }

  /** A box or point that begins where the photo is touched, or null. */
  grab(step, at, pointer, handles) {
    if (!this.wants(step)) return null
    if (step === 'ruler') {
      if (pointer.pointerType === 'mouse') return null // a mouse clicks points, and drags the photo
      const first = this.first
      this.#placePoint(at)
      this.#doing.moved()
      const held = handles.hold(first ? 'ruler-to' : 'ruler-from', at)
      return {
        ...held,
        drop: () => this.#doing.placed(step),
        cancel: () => { // a second finger zooms
          this.#picks.ruler = null
          this.first = first
          this.#doing.moved()
        },
      }
    }
    const from = this.#inside(at)
    let ended = from
    return {
      at: () => this.#drawn && ended,
      move: to => {
        const [x, y] = ended = this.#inside(to)
        this.#drawn = [Math.min(x, from[0]), Math.min(y, from[1]), Math.abs(x - from[0]), Math.abs(y - from[1])].map(tenth)
        this.draw(step)
      },
      drop: () => {
        const box = this.#drawn
        this.#drawn = null
        if (!box || box[2] < leastBox || box[3] < leastBox) {
          this.draw(step)
          return this.#doing.tooSmall()
        }
        this.#doing.begin('draw')
        this.#put(step, box)
        this.#doing.placed(step)
      },
      cancel: () => {
        this.#drawn = null
        this.draw(step)
      },
    }
  }

  /** The photo was clicked. */
  click(step, at) {
    if (step === 'ruler' && this.wants('ruler')) {
      this.#placePoint(at)
      this.#doing.placed(step)
    } else if (step === 'surface' && this.#picks.strip) {
      this.#doing.begin('surface')
      this.#setSurface(at[1])
      this.#doing.placed(step)
    } else if (this.wants(step)) {
      this.#doing.tooSmall()
    }
  }

  /** Makes a step's mark in the middle of what is shown, to be moved by keys. Returns the id of its first handle. */
  place(step) {
    const [left, top, width, height] = this.#view.seen
    const box = (w, h) => [left + width * (0.5 - w / 2), top + height * (0.5 - h / 2), width * w, height * h].map(tenth)
    this.#doing.begin('place')
    if (this.wants(step)) {
      if (step === 'ruler') {
        this.#placePoint(this.first ?? [left + width / 2, top + height * 0.25])
        if (!this.#picks.ruler) this.#placePoint([left + width / 2, top + height * 0.75])
      } else {
        this.#put(step, step === 'card' ? box(0.14, 0.12) : box(0.34, 0.6))
      }
      this.#doing.moved()
    }
    return { ruler: 'ruler-from', card: `card-${this.#picks.cards.length - 1}-all`, strip: 'strip-all', surface: 'surface' }[step]
  }

  #placePoint(at) {
    const p = this.#inside(at)
    if (this.first === null) {
      this.first = p
      return
    }
    this.#doing.begin('ruler')
    this.#picks.ruler = { from: this.first, to: p, length: this.#doc.length }
    this.first = null
  }

  #put(step, box) {
    if (step === 'card') {
      this.#picks.cards.push({ box, reflectance: '' })
      this.another = false
    } else {
      this.#picks.strip = box
      this.surfaceKnown = false
      this.#picks.surface = null
    }
  }

  #setSurface(y) {
    const [, top, , height] = this.#picks.strip
    this.surfaceKnown = true
    this.#picks.surface = tenth(clamp(y, 0, top + height - leastBox))
  }

  #inside([x, y]) { return [tenth(clamp(x, 0, this.#view.size[0])), tenth(clamp(y, 0, this.#view.size[1]))] }

  /** A handle of a point that moves both ways. */
  #point(id, at, to, label = this.#texts[id === 'ruler-from' ? 'rulerFrom' : 'rulerTo'], room = Infinity) {
    const move = p => to(this.#inside(p))
    return {
      id, label, at, line: null, room,
      value: fill(this.#texts.place, { x: Math.round(at[0]), y: Math.round(at[1]) }), now: Math.round(at[1]), least: 0, most: this.#view.size[1],
      set: move, nudge: (dx, dy, far) => move([at[0] + dx * (far ? 10 : 1), at[1] + dy * (far ? 10 : 1)]),
    }
  }

  /** The handles of a box: its corners, and its middle, which moves the whole box. */
  #box(id, name, box, moved = () => {}) {
    const [x, y, w, h] = box
    const put = (left, top, right, foot) => {
      box[0] = tenth(left)
      box[1] = tenth(top)
      box[2] = tenth(right - left)
      box[3] = tenth(foot - top)
    }
    const corner = (at, place, to) => this.#point(id + '-' + at, place, to, name + ', ' + this.#texts[at], Math.min(w, h))
    return [
      corner('nw', [x, y], p => put(Math.min(p[0], x + w - leastBox), Math.min(p[1], y + h - leastBox), x + w, y + h)),
      corner('ne', [x + w, y], p => put(x, Math.min(p[1], y + h - leastBox), Math.max(p[0], x + leastBox), y + h)),
      corner('se', [x + w, y + h], p => put(x, y, Math.max(p[0], x + leastBox), Math.max(p[1], y + leastBox))),
      corner('sw', [x, y + h], p => put(Math.min(p[0], x + w - leastBox), y, x + w, Math.max(p[1], y + leastBox))),
      corner('all', [x + w / 2, y + h / 2], p => {
        const left = clamp(p[0] - w / 2, 0, this.#view.size[0] - w), top = clamp(p[1] - h / 2, 0, this.#view.size[1] - h)
        put(left, top, left + w, top + h)
        moved(left - x, top - y)
      }),
    ]
  }

  #surface([x, top, w]) {
    const y = this.#picks.surface ?? this.#doing.surface() ?? top
    return {
      id: 'surface', label: this.#texts.surface, at: [x + w / 2, y], line: [[x, y], [x + w, y]],
      value: fill(this.#texts.row, { y: Math.round(y) }), now: Math.round(y), least: 0, most: this.#view.size[1],
      set: p => this.#setSurface(p[1]), nudge: (_, dy, far) => this.#setSurface(y + dy * (far ? 10 : 1)),
    }
  }

  /** Draws the marks, with those of the step highlighted. A strip that was read is drawn with its reading. */
  draw(step, read) {
    const { ruler, cards, strip, surface } = this.#picks
    const lines = []
    if (ruler) lines.push(['ruler', [ruler.from, ruler.to]])
    for (const card of cards) lines.push(['card', around(card.box)])
    if (strip && (step === 'strip' || !read)) lines.push(['strip', around(strip)])
    if (strip && surface !== null && (step === 'strip' || this.#doing.sure('surface') === 'doubtful')) lines.push(['surface', [[strip[0], surface], [strip[0] + strip[2], surface]]])
    if (this.#drawn) lines.push([step, around(this.#drawn)])
    this.#group.replaceChildren()
    for (const [kind, places] of lines) {
      const points = corners(places.map(p => this.#view.toPane(p)))
      for (const layer of ['halo', 'ink']) set(draw(this.#group, 'polyline', { points }), { class: `${layer} ${kind} ${this.#doing.sure(kind)}${kind === step ? ' now' : ''}` })
    }
  }
}

const around = ([x, y, w, h]) => [[x, y], [x + w, y], [x + w, y + h], [x, y + h], [x, y]]

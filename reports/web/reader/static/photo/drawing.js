// The reading on the photo: edges, names with depths next to the strip, the colour oxic depth.
// It shows what panecore answered and computes none of it.

import { draw, set, corners, apart, clamp } from './svg.js'

const pitch = 24 // pixels from one name to the next
const lead = 16 // from the strip to the names
const narrow = 520 // pixels: names are short in panes below this width

export class Drawing {
  #view
  #group
  #plates // above everything that moves
  #found = null

  constructor(view, group, plates) {
    this.#view = view
    this.#group = group
    this.#plates = plates
  }

  /** Sets the answer to show; null: none. */
  take(found) {
    this.#found = found
    if (found) {
      const [a, , , d] = found.strip
      const length = Math.hypot(d[0] - a[0], d[1] - a[1])
      this.down = [(d[0] - a[0]) / length, (d[1] - a[1]) / length]
    }
  }

  /** The line of an edge, moved down since it was read by mm(x) at each place across the strip, 0 to 1. */
  edge(k, mm) {
    return this.#found.edges[k].map(([x, y], i, { length }) => {
      const by = mm((i + 0.5) / length) * this.#found.read.photo.scale_px_per_mm
      return [x + by * this.down[0], y + by * this.down[1]]
    })
  }

  /** Draws it, each edge moved by moved(k) and left out at places for which out(k) is true, one layer chosen (-1: none), with
   *  names if named. */
  draw(moved, out, chosen, named) {
    this.#group.replaceChildren()
    this.#plates.replaceChildren()
    if (!this.#found) return
    const edges = this.#found.edges.map((_, k) => this.edge(k, moved(k)).map(p => this.#view.toPane(p)))
    const strip = this.#found.strip.map(p => this.#view.toPane(p))
    if (chosen >= 0 && chosen + 1 < edges.length) {
      draw(this.#group, 'polygon', { class: 'chosen', points: corners([...edges[chosen], ...edges[chosen + 1].toReversed()]) })
    }
    this.#line([...strip, strip[0]], 'strip')
    for (const [k, edge] of edges.entries()) this.#edge(edge, out(k))
    if (!named) return
    const xs = strip.map(p => p[0])
    const right = this.#view.width - Math.max(...xs) >= Math.min(...xs)
    this.#names(edges, right ? Math.max(...xs) : Math.min(...xs), right, chosen)
    this.#oxic(strip, edges[0], right)
  }

  #edge(points, out) {
    const left = points.map((_, i) => out((i + 0.5) / points.length))
    for (let from = 0, to = 0; to < points.length; from = to) {
      while (to < points.length && left[to] === left[from]) to++
      this.#line(points.slice(Math.max(0, from - 1), to), left[from] ? 'edge out' : 'edge')
    }
  }

  #line(points, kind) {
    for (const layer of ['halo', 'ink']) draw(this.#group, 'polyline', { class: `${layer} ${kind}`, points: corners(points) })
  }

  /** The names are in order of depth, so that no leader crosses another. */
  #names(edges, side, right, chosen) {
    const height = this.#view.height
    const list = []
    this.#found.words.layers.forEach((layer, i) => {
      const end = line => line[right ? line.length - 1 : 0][1]
      const top = Math.max(end(edges[i]), 0), foot = Math.min(end(edges[i + 1]), height)
      if (foot > top) list.push({ i, text: this.#view.width < narrow ? layer.short : layer.plate, wanted: (top + foot) / 2 })
    })
    const places = apart(list.map(l => l.wanted), Math.min(pitch, (height - pitch) / Math.max(1, list.length - 1)), pitch / 2, height - pitch / 2)
    list.forEach(({ i, text, wanted }, n) => {
      const out = right ? 1 : -1
      const x = clamp(side, 0, this.#view.width)
      this.#line([[x, wanted], [x + out * lead, places[n]]], 'leader')
      this.#plate(text, x + out * lead, places[n], right, i === chosen ? 'plate chosen-name' : 'plate')
    })
  }

  /** The colour oxic depth: a line down from the surface, thick over its range. */
  #oxic(strip, surface, right) {
    const depth = this.#found.read.oxic_depth_mm
    if (!depth) return
    const [top, foot] = right ? [strip[0], strip[3]] : [strip[1], strip[2]]
    const length = Math.hypot(foot[0] - top[0], foot[1] - top[1])
    const dx = (foot[0] - top[0]) / length, dy = (foot[1] - top[1]) / length
    const begin = surface.reduce((sum, p) => sum + (p[0] - strip[0][0]) * dx + (p[1] - strip[0][1]) * dy, 0) / surface.length
    const out = right ? -10 : 10
    const at = mm => {
      const down = begin + mm * this.#found.read.photo.scale_px_per_mm * this.#view.scale
      return [top[0] + out + down * dx, top[1] + down * dy]
    }
    this.#line([at(depth.low), at(depth.high)], 'oxic-range')
    this.#line([at(0), at(depth.value)], 'oxic')
    const end = at(depth.value)
    this.#line([[end[0] - out * 0.6, end[1]], [end[0] + out * 0.6, end[1]]], 'oxic')
    if (end[1] > 0 && end[1] < this.#view.height) this.#plate(this.#found.words.oxic, end[0] + out, end[1], !right, 'plate oxic-name')
  }

  /** A text on its own ground, which begins (right) or ends at a place. */
  #plate(text, x, y, right, kind) {
    const group = draw(this.#plates, 'g', { class: kind })
    const ground = draw(group, 'rect', { rx: 3, height: 20 })
    const letters = draw(group, 'text', {})
    letters.textContent = text
    const width = letters.getComputedTextLength() + 12
    const left = clamp(right ? x : x - width, 2, this.#view.width - width - 2)
    set(ground, { x: left, y: y - 10, width })
    set(letters, { x: left + 6, y: y + 4.5 })
  }
}

// Bending one edge by its parts, and leaving out a part in which something lies on it.

import { clamp, fill, tenth } from './svg.js'

const parts = 8 // of equal width across the strip, as panecore takes them
const far = 1 // mm that an arrow key pulls a part with Shift
const step = 0.1 // mm without Shift

const $ = id => document.getElementById(id)

/** By how much a bend pulls an edge at a place across the strip, 0 to 1, mm: straight between the
 *  middles of the parts that count. */
export function pull(bend, x) {
  const place = x * bend.length - 0.5
  const before = bend.findLastIndex((mm, i) => mm !== null && i <= place), after = bend.findIndex((mm, i) => mm !== null && i > place)
  if (before < 0 || after < 0) return bend[Math.max(before, after)] ?? 0
  return bend[before] + (place - before) / (after - before) * (bend[after] - bend[before])
}

/** Whether a place across the strip is in a part that is left out. */
export const isOut = (bend, x) => bend[Math.floor(x * bend.length)] === null

export class Bends {
  on = false

  #layers
  #texts
  #doing // { begin(what), moved(), turned(), held() }
  #edge = 0
  #part = -1 // that was held last

  constructor(layers, texts, doing) {
    this.#layers = layers
    this.#texts = texts
    this.#doing = doing
    $('bend').addEventListener('click', () => {
      this.turn(!this.on)
      this.#doing.turned()
    })
    $('bend-edge').addEventListener('change', () => this.#choose(Number($('bend-edge').value)))
    $('bend-out').addEventListener('click', () => this.#leaveOut())
    $('photo-pane').addEventListener('focusin', e => { // on a group of an SVG picture, it would let the keyboard stop there
      const held = e.target.id.match(/^handle-bend-(\d+)$/)
      if (!held) return
      this.#part = Number(held[1])
      this.write()
      this.#doing.held()
    })
  }

  turn(on) {
    this.on = on
    this.#part = -1
    $('bend').setAttribute('aria-pressed', on)
    $('bend-what').hidden = !on
    this.write()
  }

  /** Chooses the edge that is nearest to a place. */
  pick(at) {
    const away = this.#layers.edges.map(({ line }) => Math.min(...line.map(p => Math.hypot(p[0] - at[0], p[1] - at[1]))))
    if (away.length > 0) this.#choose(away.indexOf(Math.min(...away)))
  }

  #choose(k) {
    this.#edge = k
    this.#part = -1
    this.write()
    this.#doing.turned()
  }

  /** The parts of the chosen edge. */
  get #bend() { return this.#layers.bendOf(this.#edge) ?? Array(parts).fill(0) }

  /** A handle at the middle of each part. */
  handles() {
    const edges = this.#layers.edges
    const edge = edges[this.#edge = clamp(this.#edge, 0, edges.length - 1)]
    if (!edge) return []
    const index = i => Math.floor((i + 0.5) / parts * edge.line.length)
    return this.#bend.map((mm, i) => {
      const at = edge.line[index(i)]
      const room = Math.hypot(at[0] - edge.line[index(i ? i - 1 : 1)][0], at[1] - edge.line[index(i ? i - 1 : 1)][1])
      const most = by => edges[this.#edge + by] ? this.#layers.deeper(edges[this.#edge + by].line[index(i)], at) : by * Infinity
      const put = by => { if (mm !== null) this.#put(i, tenth(mm + clamp(by, Math.min(0, most(-1)), Math.max(0, most(1))))) }
      return {
        id: 'bend-' + i, label: fill(this.#texts.bendPart, { edge: edge.name, n: i + 1, of: parts }), at, line: null, room, held: i === this.#part, out: mm === null,
        value: this.#words(mm), now: mm ?? 0, least: -99, most: 99,
        set: place => put(this.#layers.deeper(place, at)),
        nudge: (_, dy, shift) => put(dy * (shift ? far : step)),
      }
    })
  }

  #words(mm) {
    if (mm === null) return this.#texts.bendOut
    if (mm === 0) return this.#texts.bendNone
    return fill(mm > 0 ? this.#texts.bendDown : this.#texts.bendUp, { depth: (Math.abs(mm) * this.#texts.perMm).toFixed(this.#texts.decimals) })
  }

  #put(i, mm) { this.#layers.setBend(this.#edge, this.#bend.with(i, mm)) }

  /** Leaves the part that was held last out, or counts it again. */
  #leaveOut() {
    if (this.#layers.edges.length === 0) return
    this.#doing.begin('bump')
    this.#put(this.#part, this.#bend[this.#part] === null ? 0 : null)
    this.#doing.moved()
    this.write()
  }

  /** Writes which edges there are, and what can be done with the part that was held last. */
  write() {
    const names = this.#layers.edges.map(({ name }) => name)
    const select = $('bend-edge')
    if (names.join() !== [...select.options].map(o => o.text).join()) select.replaceChildren(...names.map((name, k) => new Option(name, k)))
    this.#edge = clamp(this.#edge, 0, names.length - 1)
    if (names.length > 0) select.value = this.#edge
    const out = this.#part >= 0 && this.#bend[this.#part] === null
    $('bend-out').textContent = this.#part < 0 ? this.#texts.bendLeave : fill(this.#texts.bendLeavePart, { n: this.#part + 1 })
    $('bend-out').setAttribute('aria-pressed', out)
    $('bend-out').disabled = this.#part < 0 || names.length === 0 || (!out && this.#bend.filter(mm => mm !== null).length === 1)
  }
}

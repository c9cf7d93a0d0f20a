// The layers that were read: their list, and the keeper's own edges and names.

import { isOut, pull } from './bends.js'
import { clamp, fill, set } from './svg.js'

const far = 1 // mm that an arrow key moves an edge with Shift
const step = 0.1 // mm without Shift

export class Layers {
  chosen = -1 // the highlighted layer

  #drawing
  #doc // { surface_mm, surface_bend, cuts }
  #texts
  #thinnest // mm
  #doing // { begin(what), edited(), laid(i), fresh() }, where fresh reports whether the marks are still those of the reading
  #found = null
  #surface = 0 // mm, at the time of the reading
  #bends = [] // of the edges, at that time
  #list = document.getElementById('layers-list')
  #row = document.getElementById('layer-row')

  constructor(drawing, doc, texts, thinnest, doing) {
    this.#drawing = drawing
    this.#doc = doc
    this.#texts = texts
    this.#thinnest = thinnest
    this.#doing = doing
    this.#list.addEventListener('click', e => this.#clicked(e))
    this.#list.addEventListener('change', e => this.#named(e))
    for (const kind of ['pointerover', 'focusin']) this.#list.addEventListener(kind, e => this.choose(this.#indexOf(e.target)))
    for (const kind of ['pointerleave', 'focusout']) this.#list.addEventListener(kind, () => this.choose(-1))
  }

  /** Whether the list shows the keeper's edges: if not, the answer is still to come. */
  get #ready() { return this.#found !== null && this.#doing.fresh() && (this.#doc.cuts.length === 0 || this.#doc.cuts.length === this.count) }

  get count() { return this.#found ? this.#found.read.layers.length : 0 }

  /** Sets what was read by what was asked; null: nothing. */
  take(found, asked) {
    this.#found = found
    this.#surface = asked?.surface_mm ?? 0
    this.#bends = [asked?.surface_bend, ...(asked?.cuts ?? []).map(cut => cut.bend)]
    this.#drawing.take(found)
    if (found) this.#write()
  }

  /** Whether names are on the photo, where they must not hide marks. */
  named = true

  draw() { this.#drawing.draw(k => this.#moved(k), k => x => isOut(this.bendOf(k) ?? [], x), this.chosen, this.named) }

  choose(i, reveal = false) {
    if (i === this.chosen) return
    this.chosen = i
    for (const [k, row] of [...this.#list.children].entries()) row.classList.toggle('chosen', k === i)
    if (reveal && i >= 0) this.#list.children[i].scrollIntoView({ block: 'nearest' })
    this.draw()
  }

  /** By how much its bend makes an edge deeper, mm. */
  #shift(k) { return this.#found.shifts?.[k] ?? 0 }

  /** Depth of an edge when it was read, without its bend, mm below the surface that the program found. */
  #was(k) {
    const layers = this.#found.read.layers
    const last = layers[layers.length - 1]
    return this.#surface + this.#shift(0) - this.#shift(k) + (k < layers.length ? layers[k].top_mm : last.top_mm + last.thickness_mm.value)
  }

  /** By how much an edge was moved since it was read, at a place across the strip, 0 to 1, mm. */
  #moved(k) {
    const by = this.#now(k) - this.#was(k), was = this.#bends[k] ?? [], now = this.bendOf(k) ?? []
    return x => by + pull(now, x) - pull(was, x)
  }

  /** Depth of an edge now, without its bend, mm. */
  #now(k) {
    if (k === 0) return this.#doc.surface_mm
    return this.#doc.cuts.length === this.count && k < this.count ? this.#doc.cuts[k - 1].bottom_mm : this.#was(k)
  }

  /** The keeper's own edges and names, at first those that were read. */
  #own() {
    if (this.#doc.cuts.length !== this.count) {
      this.#doc.cuts = this.#found.read.layers.map((layer, i) => ({ bottom_mm: this.#was(i + 1), ...(layer.labelled && { band: layer.band }) }))
    }
    return this.#doc.cuts
  }

  /** By how much the parts of an edge are pulled, null where one is left out; undefined: it is not bent. */
  bendOf(k) { return k === 0 ? this.#doc.surface_bend.length > 0 ? this.#doc.surface_bend : undefined : this.#doc.cuts[k - 1]?.bend }

  setBend(k, bend) {
    const cuts = this.#own()
    const bent = bend.some(mm => mm !== 0)
    if (k === 0) this.#doc.surface_bend = bent ? bend : []
    else if (bent) cuts[k - 1].bend = bend
    else delete cuts[k - 1].bend
  }

  #move(k, mm) {
    const cuts = this.#own()
    const highest = k === 0 ? this.#topOfStrip() : this.#now(k - 1) + this.#thinnest
    const lowest = this.#now(k + 1) - this.#thinnest
    const to = clamp(mm, highest, lowest)
    if (k === 0) this.#doc.surface_mm = to
    else cuts[k - 1].bottom_mm = to
  }

  /** Depth of the strip's upper end, mm. */
  #topOfStrip() {
    const top = this.#found.strip[0], line = this.#found.edges[0]
    const along = line.reduce((sum, p) => sum + this.#along(p, top), 0) / line.length
    return this.#surface + this.#shift(0) - along / this.#found.read.photo.scale_px_per_mm
  }

  /** How much deeper a place is than another, mm. */
  deeper(place, from) { return this.#along(place, from) / this.#found.read.photo.scale_px_per_mm }

  /** How much deeper a place is than another, pixels. */
  #along([x, y], [fromX, fromY]) { return (x - fromX) * this.#drawing.down[0] + (y - fromY) * this.#drawing.down[1] }

  /** Row of the bed surface that was read, in the middle of the strip; null: none. */
  get surfaceRow() {
    const line = this.#found?.edges[0]
    return line ? line[Math.floor(line.length / 2)][1] : null
  }

  /** The names and lines of all edges except the strip's foot. */
  get edges() {
    if (!this.#ready) return []
    return this.#found.edges.slice(0, -1).map((_, k) => ({
      name: k === 0 ? this.#found.words.surface : this.#found.words.layers[k - 1].edge, line: this.#drawing.edge(k, this.#moved(k)),
    }))
  }

  /** The handles of these edges. */
  handles() {
    return this.edges.map(({ name, line }, k) => {
      const now = this.#now(k)
      const at = line[Math.floor(line.length / 2)]
      return {
        id: 'edge-' + k, label: name, at, line,
        value: fill(this.#texts.depth, { depth: ((now + this.#shift(k)) * this.#texts.perMm).toFixed(this.#texts.decimals) }), now: now.toFixed(1), least: k === 0 ? this.#topOfStrip().toFixed(1) : 0, most: this.#was(this.count).toFixed(1),
        set: place => this.#move(k, this.#now(k) + this.deeper(place, at)),
        nudge: (_, dy, shift) => this.#move(k, this.#now(k) + dy * (shift ? far : step)),
      }
    })
  }

  /** The layer at a place, and the depth of the place in mm; null: none. */
  at(place) {
    if (!this.#found) return null
    const { strip, edges } = this.#found
    const across = p => p[0] * this.#drawing.down[1] - p[1] * this.#drawing.down[0]
    const ends = [across(strip[0]), across(strip[1])].sort((a, b) => a - b)
    if (across(place) < ends[0] || across(place) > ends[1]) return null
    const off = edges.map((_, k) => {
      const line = this.#drawing.edge(k, this.#moved(k))
      const near = line.reduce((best, p) => Math.abs(across(p) - across(place)) < Math.abs(across(best) - across(place)) ? p : best)
      return this.deeper(place, near)
    })
    const i = off.findLastIndex(mm => mm >= 0)
    return i >= 0 && i < this.count ? { layer: i, mm: this.#now(i) + off[i] } : null
  }

  /** Splits a layer at a depth, by default in its middle. */
  split(i, mm = (this.#now(i) + this.#now(i + 1)) / 2) {
    if (!this.#ready || mm - this.#now(i) < this.#thinnest || this.#now(i + 1) - mm < this.#thinnest) return
    this.#doing.begin('split')
    const { bottom_mm, bend } = this.#own()[i]
    this.#doc.cuts.splice(i, 1, { bottom_mm: mm }, { bottom_mm, ...(bend && { bend }) })
    this.#doing.edited()
  }

  join(i) {
    if (!this.#ready) return
    this.#doing.begin('join')
    const [upper, lower] = this.#own().slice(i, i + 2)
    this.#doc.cuts.splice(i, 2, { bottom_mm: lower.bottom_mm, ...(lower.bend && { bend: lower.bend }), ...(upper.band && upper.band === lower.band && { band: upper.band }) })
    this.#doing.edited()
  }

  /** Back to what the program reads. */
  anew() {
    this.#doing.begin('anew')
    this.#doc.cuts = []
    this.#doc.surface_mm = 0
    this.#doc.surface_bend = []
    this.#doing.edited()
  }

  #indexOf(element) { return [...this.#list.children].indexOf(element.closest('.layer')) }

  #clicked(e) {
    const does = e.target.closest('button')?.dataset.do
    const i = this.#indexOf(e.target)
    if (does === 'split') this.split(i)
    if (does === 'join') this.join(i)
    if (does === 'laid' && this.#ready) this.#doing.laid(i)
  }

  #named(e) {
    if (!this.#ready) return
    const i = this.#indexOf(e.target)
    this.#doing.begin('name')
    const cut = this.#own()[i]
    if (e.target.value === '') delete cut.band
    else cut.band = e.target.value
    this.#doing.edited()
  }

  /** Writes the list. The focus stays in its row, or goes to the last one if that row is gone. */
  #write() {
    const layers = this.#found.read.layers
    const focused = this.#list.contains(document.activeElement) ? this.#indexOf(document.activeElement) : -1
    while (this.#list.children.length > layers.length) this.#list.lastElementChild.remove()
    while (this.#list.children.length < layers.length) this.#list.append(this.#row.content.cloneNode(true))
    layers.forEach((layer, i) => this.#writeRow(this.#list.children[i], layer, this.#found.words.layers[i], i))
    if (focused >= 0 && (!this.#list.contains(document.activeElement) || document.activeElement.disabled)) {
      this.#list.children[Math.min(focused, layers.length - 1)].querySelector('select').focus()
    }
  }

  #writeRow(row, layer, words, i) {
    row.querySelector('rect').setAttribute('fill', layer.hex)
    for (const [name, text] of Object.entries({ thickness: words.thickness, depths: words.depths, hex: layer.hex, beside: words.beside })) {
      row.querySelector(`[data-fill="${name}"]`).textContent = text
    }
    row.classList.toggle('doubtful', words.beside !== '' && !layer.labelled)
    this.#writeBands(row.querySelector('select'), layer, words, i)
    const split = row.querySelector('[data-do="split"]'), join = row.querySelector('[data-do="join"]')
    set(split, { 'aria-label': fill(this.#texts.split, { n: i + 1 }) })
    set(join, { 'aria-label': fill(this.#texts.join, { n: i + 1 }) })
    set(row.querySelector('[data-do="laid"]'), { 'aria-label': fill(this.#texts.laid, { n: i + 1 }) })
    split.disabled = layer.thickness_mm.value < 2 * this.#thinnest
    join.disabled = i + 1 === this.count
  }

  #writeBands(select, layer, words, i) {
    set(select, { 'aria-label': fill(this.#texts.name, { n: i + 1 }) })
    const read = new Option(layer.labelled ? this.#texts.asRead : words.name, '')
    const asRead = document.createElement('optgroup'), asChosen = document.createElement('optgroup')
    asRead.label = this.#texts.asRead
    asChosen.label = this.#texts.asChosen
    asRead.append(read)
    asChosen.append(...words.bands.map(band => new Option(band.words, band.band)))
    select.replaceChildren(asRead, asChosen)
    select.value = this.#doc.cuts[i]?.band ?? '' // the last choice, which may be newer than this answer
  }
}

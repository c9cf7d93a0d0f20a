// The photo in its pane: which part is shown, and what pointers and keys do there. Places are
// pixels of the upright picture, [x, y], unless they are called pixels of the pane.

import { Loupe } from './loupe.js'

const most = 8 // pixels of the screen per pixel of the photo
const still = 5 // pixels that a pointer may move in a click

export class View {
  size = [1, 1] // of the photo
  scale = 1 // pixels of the pane per pixel of the photo
  width = 1 // of the pane
  height = 1
  /** What pointers do on the photo. grab(at, pointer) returns what is dragged, or null:
   *  { at(), move(to), drop(), cancel(), tap(at) }, where tap is optional and called if nothing
   *  was moved. over(at, pointer) returns the cursor for a place. click(at) and twice(at) are
   *  called where nothing is dragged. */
  touch = { grab: () => null, over: () => '', click: () => {}, twice: () => {} }
  /** Called when another part is shown. */
  onchange = () => {}

  #pane
  #picture
  #left = 0 // of the photo in the pane
  #top = 0
  #whole = true // the whole photo is shown, and stays so
  #pointers = new Map()
  #drag = null

  constructor(pane, picture, canvas) {
    this.#pane = pane
    this.#picture = picture
    this.loupe = new Loupe(canvas, picture, this)
    new ResizeObserver(() => this.#resized()).observe(pane)
    pane.addEventListener('pointerdown', e => this.#down(e))
    pane.addEventListener('pointermove', e => this.#move(e))
    pane.addEventListener('pointerup', e => this.#up(e))
    pane.addEventListener('pointercancel', e => this.#gone(e))
    pane.addEventListener('mousedown', e => e.preventDefault()) // else what is grabbed would lose the focus
    pane.addEventListener('dblclick', e => this.touch.twice(this.at(e)))
    pane.addEventListener('wheel', e => this.#wheel(e), { passive: false })
    pane.addEventListener('keydown', e => { if (e.target === pane) this.#key(e) })
  }

  /** Shows a photo of this size in pixels. */
  show(width, height) {
    this.size = [width, height]
    this.#picture.style.width = width + 'px'
    this.#picture.style.height = height + 'px'
    this.#pane.style.aspectRatio = `${width} / ${height}`
    this.#resized()
  }

  get dragging() { return this.#drag !== null }

  toPane([x, y]) { return [x * this.scale + this.#left, y * this.scale + this.#top] }

  toPhoto([x, y]) { return [(x - this.#left) / this.scale, (y - this.#top) / this.scale] }

  /** Where a pointer is. */
  at(e) { return this.toPhoto(this.#inPane(e)) }

  /** The part of the photo that is shown: left, top, width and height. */
  get seen() {
    const [left, top] = this.toPhoto([0, 0]).map(v => Math.max(0, v))
    const [right, foot] = this.toPhoto([this.width, this.height]).map((v, i) => Math.min(this.size[i], v))
    return [left, top, right - left, foot - top]
  }

  whole() {
    this.#whole = true
    this.scale = this.#fit()
    this.#place(0, 0)
  }

  /** Zooms about a place of the pane, by default its middle. */
  zoom(by, [x, y] = [this.width / 2, this.height / 2]) {
    const at = this.toPhoto([x, y])
    const fit = this.#fit()
    this.scale = Math.min(Math.max(this.scale * by, fit), Math.max(most, fit))
    this.#whole = this.scale === fit
    this.#place(x - at[0] * this.scale, y - at[1] * this.scale)
  }

  /** Moves the photo by pixels of the pane. */
  pan(dx, dy) { this.#place(this.#left + dx, this.#top + dy) }

  /** Moves the photo until a place of it is shown. */
  reveal(at) {
    const margin = 40
    const [x, y] = this.toPane(at)
    const off = (v, size) => Math.max(0, Math.min(margin, size / 4) - v) - Math.max(0, v - size + Math.min(margin, size / 4))
    const dx = off(x, this.width), dy = off(y, this.height)
    if (dx !== 0 || dy !== 0) this.pan(dx, dy)
  }

  #fit() { return Math.min(this.width / this.size[0], this.height / this.size[1]) }

  #resized() {
    const middle = this.toPhoto([this.width / 2, this.height / 2])
    this.width = this.#pane.clientWidth || 1
    this.height = this.#pane.clientHeight || 1
    if (this.#whole) return this.whole()
    this.scale = Math.max(this.scale, this.#fit())
    this.#place(this.width / 2 - middle[0] * this.scale, this.height / 2 - middle[1] * this.scale)
  }

  /** Places the photo: in the middle if there is room, otherwise so that it covers the pane's middle. */
  #place(left, top) {
    const within = (at, room, size) => size <= room ? (room - size) / 2 : Math.min(Math.max(at, room / 2 - size), room / 2)
    this.#left = within(left, this.width, this.size[0] * this.scale)
    this.#top = within(top, this.height, this.size[1] * this.scale)
    this.#picture.style.transform = `translate(${this.#left}px, ${this.#top}px) scale(${this.scale})`
    this.onchange()
  }

  #inPane(e) {
    const box = this.#pane.getBoundingClientRect()
    return [e.clientX - box.left - this.#pane.clientLeft, e.clientY - box.top - this.#pane.clientTop]
  }

  #down(e) {
    if (e.button === 2) return // for the browser's menu
    this.#pane.setPointerCapture(e.pointerId)
    this.#pointers.set(e.pointerId, { from: this.#inPane(e), now: this.#inPane(e), strayed: false })
    if (this.#pointers.size > 1) { // two fingers zoom: what one had begun was not meant
      this.#drag?.cancel?.()
      this.#let()
      for (const p of this.#pointers.values()) p.strayed = true
      return
    }
    const middle = e.button === 1
    this.#drag = middle ? null : this.touch.grab(this.at(e), e)
    if (this.#drag === null) this.#pane.focus({ preventScroll: true })
    else this.#magnify()
  }

  #move(e) {
    const p = this.#pointers.get(e.pointerId)
    if (!p) {
      this.#pane.style.cursor = this.touch.over(this.at(e), e)
      return
    }
    const before = p.now
    const pair = this.#pair()
    p.now = this.#inPane(e)
    p.strayed ||= Math.hypot(p.now[0] - p.from[0], p.now[1] - p.from[1]) > still
    if (pair) return this.#pinch(pair, this.#pair())
    if (this.#drag) {
      this.#drag.move(this.toPhoto(p.now))
      return this.#magnify()
    }
    if (p.strayed) this.pan(p.now[0] - before[0], p.now[1] - before[1])
  }

  #up(e) {
    const p = this.#pointers.get(e.pointerId)
    if (!p) return
    this.#pointers.delete(e.pointerId)
    if (this.#drag) {
      const drag = this.#drag
      this.#let()
      if (drag.tap && !p.strayed) drag.tap(this.at(e))
      else drag.drop()
    } else if (!p.strayed && e.button !== 1) {
      this.touch.click(this.at(e))
    }
  }

  #gone(e) {
    this.#pointers.delete(e.pointerId)
    this.#drag?.cancel?.()
    this.#let()
  }

  #let() {
    this.#drag = null
    this.loupe.hide()
  }

  #magnify() {
    const at = this.#drag?.at?.()
    if (at) this.loupe.show(at)
  }

  /** The middle of two pointers and their distance. */
  #pair() {
    if (this.#pointers.size < 2) return null
    const [a, b] = [...this.#pointers.values()].map(p => p.now)
    return { middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], apart: Math.max(1, Math.hypot(a[0] - b[0], a[1] - b[1])) }
  }

  #pinch(before, after) {
    this.pan(after.middle[0] - before.middle[0], after.middle[1] - before.middle[1])
    this.zoom(after.apart / before.apart, after.middle)
  }

  #wheel(e) {
    e.preventDefault()
    const lines = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1
    this.zoom(Math.exp(-e.deltaY * lines * (e.ctrlKey ? 0.01 : 0.0016)), this.#inPane(e))
  }

  #key(e) {
    if (e.ctrlKey || e.metaKey || e.altKey) return
    const step = 60 // pixels of the pane
    const does = {
      '+': () => this.zoom(1.25), '=': () => this.zoom(1.25), '-': () => this.zoom(0.8), 0: () => this.whole(),
      ArrowLeft: () => this.pan(step, 0), ArrowRight: () => this.pan(-step, 0), ArrowUp: () => this.pan(0, step), ArrowDown: () => this.pan(0, -step),
    }[e.key]
    if (!does) return
    e.preventDefault()
    does()
  }
}

// What can be moved on the photo by pointer and by keys.
//
// A handle is { id, label, value, now, least, most, at, line, room, held, out, set, nudge }: at is
// its place on the photo; line are the points of a line that moves as one, or null; room is the
// least distance to the next handle; held marks the one that a button is about, out one that does
// not count, where there are such; set(place) moves it; nudge(dx, dy, far) moves it by one step of a
// key; value is its place in words.

import { draw, set, corners } from './svg.js'

const near = { mouse: 14, pen: 18, touch: 26 } // pixels of the pane

export class Handles {
  #view
  #group
  #doing // { begin(what), moved(), settled(), revert(), leave(id) }
  #list = []
  #made = new Map()

  constructor(view, group, doing) {
    this.#view = view
    this.#group = group
    this.#doing = doing
  }

  /** Shows these handles and no others. Those that stay keep the focus. */
  show(list) {
    this.#list = list
    const ids = new Set(list.map(h => h.id))
    for (const [id, element] of this.#made) {
      if (!ids.has(id)) {
        element.remove()
        this.#made.delete(id)
      }
    }
    for (const handle of list) this.#update(handle)
  }

  focus(id) { this.#made.get(id)?.focus({ preventScroll: true }) }

  /** The id of the handle with the focus; null: none. */
  get focused() { return this.#list.find(h => this.#made.get(h.id) === document.activeElement)?.id ?? null }

  /** The handle that a pointer is at, or null. */
  near(at, pointer) {
    let best = null, least = near[pointer.pointerType] ?? near.touch
    for (const handle of this.#list) {
      const away = this.#view.scale * (handle.line ? awayFromLine(handle.line, at) : Math.hypot(at[0] - handle.at[0], at[1] - handle.at[1]))
      if (away < least) [best, least] = [handle, away]
    }
    return best
  }

  /** Grabs the handle that a pointer is at. */
  grab(at, pointer) {
    const handle = this.near(at, pointer)
    return handle && this.hold(handle.id, at)
  }

  /** Grabs a handle, which keeps its distance from the pointer. */
  hold(id, at) {
    const find = () => this.#list.find(h => h.id === id)
    const from = find().at
    let begun = false
    this.focus(id)
    return {
      at: () => find()?.at,
      move: to => {
        if (!begun) this.#doing.begin(id)
        begun = true
        find()?.set([from[0] + to[0] - at[0], from[1] + to[1] - at[1]])
        this.#doing.moved()
      },
      drop: () => this.#doing.settled(),
      cancel: () => { if (begun) this.#doing.revert() },
    }
  }

  #update(handle) {
    let element = this.#made.get(handle.id)
    if (!element) {
      element = draw(this.#group, 'g', { id: 'handle-' + handle.id, class: handle.line ? 'handle line' : 'handle', tabindex: 0, role: 'slider' })
      if (handle.line) {
        draw(element, 'polyline', { class: 'halo' })
        draw(element, 'polyline', { class: 'ink' })
        draw(element, 'rect', { class: 'grip', x: -13, y: -5, width: 26, height: 10, rx: 5 })
      } else {
        draw(element, 'circle', { class: 'halo' })
        draw(element, 'circle', { class: 'ink' })
        draw(element, 'circle', { class: 'dot', r: 2 })
      }
      element.addEventListener('keydown', e => this.#key(e, handle.id))
      element.addEventListener('focus', () => this.#view.reveal(this.#list.find(h => h.id === handle.id).at))
      this.#made.set(handle.id, element)
    }
    const [x, y] = this.#view.toPane(handle.at)
    if (handle.line) {
      const line = corners(handle.line.map(p => this.#view.toPane(p)))
      element.children[0].setAttribute('points', line)
      element.children[1].setAttribute('points', line)
      element.children[2].setAttribute('transform', `translate(${x.toFixed(1)} ${y.toFixed(1)})`)
    } else {
      element.setAttribute('transform', `translate(${x.toFixed(1)} ${y.toFixed(1)})`)
      for (const circle of [element.children[0], element.children[1]]) circle.setAttribute('r', handle.room * this.#view.scale < 50 ? 5 : 9)
    }
    set(element, {
      'aria-label': handle.label, 'aria-valuetext': handle.value, 'aria-valuenow': handle.now, 'aria-valuemin': handle.least, 'aria-valuemax': handle.most,
      'aria-orientation': handle.line ? 'vertical' : null, 'data-held': handle.held ? '' : null, 'data-out': handle.out ? '' : null,
    })
  }

  #key(e, id) {
    if (e.ctrlKey || e.metaKey || e.altKey) return
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key]
    const handle = this.#list.find(h => h.id === id)
    if (way && (!handle.line || way[0] === 0)) {
      this.#doing.begin(id + ' by keys')
      handle.nudge(way[0], way[1], e.shiftKey)
      this.#doing.moved()
      const moved = this.#list.find(h => h.id === id)
      if (moved) {
        this.#view.reveal(moved.at)
        this.#view.loupe.flash(moved.at)
      }
    } else if (e.key === 'Enter' || e.key === 'Escape') {
      this.#doing.leave(id)
    } else if (!way) {
      return
    }
    e.preventDefault()
    e.stopPropagation()
  }
}

function awayFromLine(line, [x, y]) {
  let least = Infinity
  for (let i = 1; i < line.length; i++) {
    const [ax, ay] = line[i - 1], [bx, by] = line[i]
    const length = (bx - ax) ** 2 + (by - ay) ** 2
    const along = length === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length))
    least = Math.min(least, Math.hypot(x - ax - along * (bx - ax), y - ay - along * (by - ay)))
  }
  return least
}

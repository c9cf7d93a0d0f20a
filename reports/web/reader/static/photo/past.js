// Undo: the marks and cuts before each change.

const most = 200 // steps
const together = 2000 // ms within which repeated keys are one step

export class Past {
  #doc
  #button
  #states = [] // as JSON, the latest last
  #what = ''
  #at = 0

  constructor(doc, button) {
    this.#doc = doc
    this.#button = button
  }

  get #now() { return JSON.stringify({ picks: this.#doc.picks, surface_mm: this.#doc.surface_mm, surface_bend: this.#doc.surface_bend, cuts: this.#doc.cuts }) }

  /** A change begins. Repeated changes whose name ends in "by keys" are one step. */
  begin(what) {
    const goesOn = what.endsWith('by keys') && what === this.#what && performance.now() - this.#at < together
    if (!goesOn && this.#states.at(-1) !== this.#now) this.#states.push(this.#now)
    if (this.#states.length > most) this.#states.shift()
    this.#what = what
    this.#at = performance.now()
    this.#button.disabled = false
  }

  /** Undoes the last step, and reports whether there was one. */
  back() {
    if (this.#states.length === 0) return false
    Object.assign(this.#doc, JSON.parse(this.#states.pop()))
    this.#what = ''
    this.#button.disabled = this.#states.length === 0
    return true
  }
}

// What panecore found on the photo by itself: marks to be looked at, confirmed or moved.

import { sendPatiently } from './send.js'

const steps = ['ruler', 'card', 'strip', 'surface']
const nothing = { ruler: null, cards: [], strip: null, surface: null }
const key = step => step === 'card' ? 'cards' : step

export class Found {
  /** How the marks were found; empty: there is nothing to say. */
  said = ''

  #doc // { tank, station, picks, confirmed }
  #address
  #picks = null // null: not looked for yet
  #sightings = {}
  #asking = new AbortController()

  constructor(doc, address) {
    this.#doc = doc
    this.#address = address
  }

  /** Whether no mark is the keeper's: there are none, or all are as found. */
  get untouched() { return steps.every(step => this.#same(step, nothing) || this.#same(step, this.#picks ?? nothing)) }

  /** Whether marks were found and others are there. */
  get differ() { return this.#picks !== null && (this.#picks.ruler ?? this.#picks.strip) !== null && !steps.every(step => this.#same(step, this.#picks)) }

  #same(step, picks) { return JSON.stringify(this.#doc.picks[key(step)]) === JSON.stringify(picks[key(step)]) }

  /** Looks for marks, and returns the answer; false: it failed; null: a newer question is on its way. */
  async look(onWait, failed) {
    this.#asking.abort()
    const asking = this.#asking = new AbortController()
    const of = new URLSearchParams({ tank: this.#doc.tank, station: this.#doc.station })
    try {
      const { status, answer } = await sendPatiently(`${this.#address}/found?${of}`, undefined, onWait, asking.signal)
      if (asking.signal.aborted) return null
      if (status === 200) return answer
      failed(answer.error)
      return false
    } catch {
      if (asking.signal.aborted) return null
      failed('')
      return false
    }
  }

  /** Learns what was found, and returns whether it may take the place of what is marked. */
  learn(answer) {
    const untouched = this.untouched
    this.#answer = answer
    this.said = answer.said
    this.#sightings = answer.sightings
    this.#picks = { ...nothing, ...answer.picks }
    return untouched && !steps.every(step => this.#same(step, this.#picks))
  }

  #answer = null

  /** Takes what was found for the marks. */
  take() {
    Object.assign(this.#doc.picks, structuredClone(this.#picks))
    this.#doc.confirmed = []
    const { tank, station } = this.#answer
    if (this.#doc.tank === '' && tank !== '') Object.assign(this.#doc, { tank, station })
  }

  /** Whether a mark is as it was found, 'found' or 'doubtful', or the keeper's: ''. */
  state(step) {
    if (this.#picks === null || this.#same(step, nothing) || !this.#same(step, this.#picks) || this.#doc.confirmed.includes(step)) return ''
    return this.#sightings[step]?.doubtful ? 'doubtful' : 'found'
  }

  /** Writes what was found into the steps. */
  write() {
    for (const place of document.querySelectorAll('[data-found]')) {
      const { note } = this.#sightings[place.dataset.found] ?? {}
      place.textContent = note ? note + '.' : ''
      place.hidden = !note || (this.#picks !== null && !this.#same(place.dataset.found, this.#picks))
    }
  }
}

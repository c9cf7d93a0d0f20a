// The photo is read again after each change: one question at a time, then the latest.

import { send } from './send.js'

const pause = 90 // ms in which changes are collected
const patience = 1500 // ms after which a question is given up for a newer one

export class Reader {
  #address
  #question
  #answered // (status, answer, question) => void
  #lost // () => void
  #place // that the answers change: busy until the last has come
  #timer = 0
  #asking = null // { stop, since } of the question on its way
  #stale = false

  /** question() returns what to send; answered() gets it back with the answer. */
  constructor(address, place, question, answered, lost) {
    this.#address = address
    this.#place = place
    this.#question = question
    this.#answered = answered
    this.#lost = lost
  }

  /** Whether an answer is still to come. */
  get waits() { return this.#stale || this.#asking !== null || this.#timer !== 0 }

  /** Something has changed. */
  changed() {
    if (this.#asking) {
      this.#stale = true
      if (performance.now() - this.#asking.since > patience) this.#asking.stop.abort()
      return
    }
    if (this.#timer === 0) this.#timer = setTimeout(() => this.#ask(), pause)
    this.#showWaits()
  }

  #showWaits() { this.#place.setAttribute('aria-busy', this.waits) }

  /** Stops asking. */
  stop() {
    clearTimeout(this.#timer)
    this.#timer = 0
    this.#stale = false
    this.#asking?.stop.abort()
    this.#showWaits()
  }

  async #ask() {
    this.#timer = 0
    this.#stale = false
    const asking = this.#asking = { stop: new AbortController(), since: performance.now() }
    const giveUp = setTimeout(() => { if (this.#stale) asking.stop.abort() }, patience) // a network may have lost it
    const question = structuredClone(this.#question())
    const { status, answer } = await send(this.#address, question, asking.stop.signal).catch(() => ({}))
    clearTimeout(giveUp)
    this.#asking = null
    if (status === 202) this.#timer = setTimeout(() => this.#ask(), 1000)
    if (status) this.#answered(status, answer, question)
    else if (!asking.stop.signal.aborted) this.#lost()
    if (this.#stale) {
      clearTimeout(this.#timer)
      this.#ask()
    }
    this.#showWaits()
  }
}

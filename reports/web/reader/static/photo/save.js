// What is noted besides the layers, and saving the reading.

import { Asked } from './asked.js'
import { knownAs, offerKnown } from './place.js'
import { send } from './send.js'

export class Save {
  #doc // { tank, station, date, lit, signs, note }
  #address
  #doing // { question(), noted(), moved(), open(), stop(), fault(field, text), gone(answer), stale(answer), lost() }
  #form = document.getElementById('save-form')
  #fault = document.getElementById('save-fault')
  #replace = document.getElementById('save-replace')
  #asked = new Asked(answer => this.#save(false, answer))
  #known = this.#form.querySelector('.known')
  tanks = []
  #saving = false
  #buttons = document.querySelectorAll('#save-go, #photo-save')

  constructor(doc, address, doing) {
    this.#doc = doc
    this.#address = address
    this.#doing = doing
    this.#form.addEventListener('submit', e => {
      e.preventDefault()
      this.#save(false)
    })
    this.#form.addEventListener('input', () => this.#noted()) // so that a reload within a word keeps it
    this.#form.addEventListener('change', e => this.#noted(e.target.name))
    this.#replace.addEventListener('click', () => this.#save(true))
    this.#known.querySelector('button').addEventListener('click', e => {
      const field = this.#form.elements.station
      field.value = e.currentTarget.dataset.place
      field.focus()
      this.#noted('station')
    })
  }

  /** The name of the chosen tank; empty: none. */
  get tankName() { return this.tanks.find(tank => tank.id === this.#doc.tank)?.name ?? '' }

  /** Offers the tanks to choose from. What was typed stays. */
  offer(tanks) {
    this.tanks = tanks
    const choice = this.#form.elements.tank
    choice.replaceChildren(choice.options[0], ...tanks.map(tank => new Option(tank.name, tank.id)))
    choice.value = this.#doc.tank
    document.getElementById('save-no-tank').hidden = tanks.length > 0
    this.#stations()
  }

  /** Shows what is noted. */
  show() {
    const fields = this.#form.elements, doc = this.#doc
    fields.station.value = doc.station
    fields.date.value = doc.date
    fields.lit.value = { true: 'yes', false: 'no' }[doc.lit] ?? ''
    for (const box of this.#form.querySelectorAll('[name="sign"]')) box.checked = doc.signs.includes(box.value)
    fields.note.value = doc.note
  }

  #stations() {
    const tank = this.tanks.find(tank => tank.id === this.#doc.tank)
    const known = tank?.stations ?? []
    document.getElementById('save-stations').replaceChildren(...known.map(name => new Option(name, name)))
    offerKnown(this.#known, knownAs(this.#doc.station, known))
  }

  #noted(name) {
    this.#take()
    this.#doing.noted()
    if (name === 'tank' || name === 'station') this.#doing.moved()
  }

  /** Reads the fields. */
  #take() {
    const fields = this.#form.elements, doc = this.#doc
    const before = doc.tank
    doc.tank = fields.tank.value
    if (doc.tank !== before && fields.station.value === '') {
      fields.station.value = this.tanks.find(tank => tank.id === doc.tank)?.usual ?? ''
    }
    doc.station = fields.station.value.trim()
    doc.date = fields.date.value
    doc.lit = { yes: true, no: false }[fields.lit.value] ?? null
    doc.signs = [...this.#form.querySelectorAll('[name="sign"]:checked')].map(box => box.value)
    doc.note = fields.note.value.trim()
    this.#replace.hidden = true
    this.#fault.hidden = true
    this.#asked.hide()
    this.#stations()
  }

  /** Saves; answer is that to the question about this reading, if there was one. */
  async #save(replace, answer = this.#asked.given) {
    if (this.#saving) return
    this.#take()
    this.#saving = true
    this.#doing.stop()
    for (const button of this.#buttons) button.disabled = true
    try {
      const reply = await send(this.#address + '/save', { ...this.#doing.question(), replace, ...answer })
      this.#answered(reply.status, reply.answer)
    } catch {
      this.#doing.lost()
    } finally {
      this.#saving = false
      for (const button of this.#buttons) button.disabled = false
    }
  }

  #answered(status, answer) {
    if (status === 200) return location.assign(answer.to)
    if (status === 404) return this.#doing.gone(answer)
    if (answer.stale) return this.#doing.stale(answer)
    this.#doing.open()
    if (answer.field && this.#doing.fault(answer.field, answer.refused)) return this.#form.elements[answer.field]?.focus?.()
    if (answer.question) return this.#asked.show(answer)
    const why = answer.refused || answer.error || answer.waiting
    if (!why) return this.#doing.lost()
    this.#fault.textContent = why
    this.#fault.hidden = false
    this.#replace.hidden = status !== 409
    this.#fault.focus() // not a button: Enter pressed twice would answer unread
  }
}

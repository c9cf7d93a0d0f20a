// A layer as the colour of the tank's substrate when it was laid.

import { send } from './send.js'

const $ = id => document.getElementById(id)

export class Native {
  #address
  #doing // { question(), told(text), failed(text), set() }
  #layer = 0

  constructor(address, doing) {
    this.#address = address
    this.#doing = doing
    $('native-answers').addEventListener('click', e => {
      const button = e.target.closest('button')
      if (!button) return
      this.hide()
      if (button.value !== '') this.set(this.#layer, button.value)
    })
  }

  hide() { $('native-asked').hidden = true }

  /** Sets the substrate to a layer's colour, or asks first. */
  async set(layer, answer = '') {
    this.hide()
    this.#layer = layer
    const reply = await send(this.#address, { ...this.#doing.question(), layer, answer }).catch(() => ({ answer: {} }))
    if (reply.status === 200) {
      this.#doing.told(reply.answer.said)
      this.#doing.set()
    } else if (reply.answer.question) this.#ask(reply.answer)
    else this.#doing.failed(reply.answer.refused || reply.answer.error || reply.answer.waiting || '')
  }

  #ask({ question, answers }) {
    $('native-question').textContent = question
    const made = [...(answers ?? []), { answer: '', label: $('native-asked').dataset.no }].map(({ answer, label }) => {
      const button = document.createElement('button')
      button.type = 'button'
      button.value = answer
      button.textContent = label
      return button
    })
    $('native-answers').replaceChildren(...made)
    $('native-asked').hidden = false
    $('native-asked').scrollIntoView({ block: 'nearest' })
    $('native-asked').focus()
  }
}

// Questions about what was found on the photo, one at a time, before its numbers count.

export class Questions {
  #place
  #list = []
  #answered // { yes(question), no(question) }

  constructor(place, answered) {
    this.#place = place
    this.#answered = answered
    place.addEventListener('click', e => {
      const answer = e.target.closest('button')?.dataset.answer
      if (answer) this.#answered[answer](this.#list[0])
    })
  }

  /** Whether there is one. */
  get open() { return this.#list.length > 0 }

  /** Shows the first of them: { about, text, yes, no }, where yes may be missing. */
  show(list) {
    this.#list = list
    this.#place.hidden = list.length === 0
    if (list.length === 0) return
    const [{ text, yes, no }] = list
    const words = this.#place.querySelector('p')
    if (words.textContent !== text) words.textContent = text // announced only once
    for (const [answer, label] of Object.entries({ yes, no })) {
      const button = this.#place.querySelector(`[data-answer="${answer}"]`)
      button.textContent = label ?? ''
      button.hidden = label === undefined
    }
  }
}

// The question about a reading before it is saved, and its answer.

export class Asked {
  /** The last answer as it is sent. The server uses it only for the reading that the question
   *  was about, so it can go with every save. */
  given = {}
  #place = document.getElementById('save-asked')
  #answers = document.getElementById('save-answers')
  #answered // (given) => void

  constructor(answered) {
    this.#answered = answered
  }

  /** Shows a question: { asked, question, check, answers: [{ answer, label }] }. */
  show({ asked, question, check, answers }) {
    document.getElementById('save-question').textContent = question
    document.getElementById('save-check').textContent = check
    this.#answers.replaceChildren(...answers.map(({ answer, label }) => {
      const button = document.createElement('button')
      button.type = 'button'
      button.value = answer
      button.textContent = label
      button.addEventListener('click', () => {
        this.given = { asked, answer }
        this.#answered(this.given)
      })
      return button
    }))
    this.#place.hidden = false
    this.#place.focus() // not a button: Enter pressed twice would answer unread
  }

  hide() {
    this.#place.hidden = true
  }
}

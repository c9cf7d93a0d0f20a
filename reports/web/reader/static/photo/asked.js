// The question that a reading raises before it is saved, and what is answered to it.

export class Asked {
  /** What was answered last, as it is sent. The server takes it for the reading that it was
   *  asked about only, so it may be sent along with any. */
  given = {}
  #place = document.getElementById('save-asked')
  #answers = document.getElementById('save-answers')
  #answered // told what is answered

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
    this.#place.focus() // never a button: Enter pressed twice would answer what nobody has read
  }

  hide() {
    this.#place.hidden = true
  }
}

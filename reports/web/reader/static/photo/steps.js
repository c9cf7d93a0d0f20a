// The steps next to the photo: one is open, those that are done have a tick.

export const order = ['ruler', 'card', 'strip', 'surface', 'layers', 'save']

export class Steps {
  current = ''
  #opened // (step) => void
  #steps = new Map([...document.querySelectorAll('#photo-steps .step')].map(step => [step.dataset.step, step]))

  constructor(opened) {
    this.#opened = opened
    for (const [name, step] of this.#steps) {
      step.querySelector('.step-name').addEventListener('click', () => this.open(name))
    }
    new ResizeObserver(() => this.#stacked()).observe(document.querySelector('.stand'))
  }

  /** Keeps scrolled-to steps clear of the photo where the photo stays above them, and reports
   *  whether it does. */
  #stacked() {
    const stand = document.querySelector('.stand')
    const stacked = getComputedStyle(stand).position === 'sticky' && stand.getBoundingClientRect().right > stand.nextElementSibling.getBoundingClientRect().left
    document.documentElement.style.scrollPaddingTop = stacked ? stand.offsetHeight + 'px' : ''
    return stacked
  }

  open(name) {
    const changed = name !== this.current
    this.current = name
    for (const [each, step] of this.#steps) {
      const now = each === name
      step.classList.toggle('open', now)
      if (now) step.setAttribute('aria-current', 'step')
      else step.removeAttribute('aria-current')
      step.querySelector('.step-name').setAttribute('aria-expanded', now)
      step.querySelector('.step-body').hidden = !now
    }
    if (changed) {
      this.#opened(name)
      const step = this.#steps.get(name)
      const above = step.getBoundingClientRect().top < 0 // where 'nearest' leaves a step that is higher than the window
      step.scrollIntoView({ block: above || this.#stacked() ? 'start' : 'nearest' })
    }
  }

  /** Opens the next step and focuses its heading. */
  next() {
    this.open(order[order.indexOf(this.current) + 1])
    this.focus()
  }

  focus() { this.#steps.get(this.current).querySelector('.step-name').focus() }

  /** Shows whether a step is done and, in a word, what it holds. */
  holds(name, done, words) {
    const step = this.#steps.get(name)
    step.classList.toggle('done', done)
    step.querySelector('.step-holds').textContent = words
    step.querySelector('.step-done').textContent = done ? ', ' + step.parentElement.dataset.done : ''
  }
}

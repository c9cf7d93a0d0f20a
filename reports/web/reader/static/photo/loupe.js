// An enlarged round part of the photo next to what is being moved.

const side = 132 // pixels of the screen
const away = 84 // pixels from its middle to what is moved

export class Loupe {
  #canvas
  #picture
  #view
  #until = 0

  constructor(canvas, picture, view) {
    this.#canvas = canvas
    this.#picture = picture
    this.#view = view
  }

  /** Shows the photo around a place. */
  show([x, y]) {
    const view = this.#view, canvas = this.#canvas
    const sharp = window.devicePixelRatio || 1
    canvas.width = canvas.height = Math.round(side * sharp)
    canvas.hidden = false
    const [left, top] = view.toPane([x, y])
    const up = top - away > side / 2 ? -away : away
    canvas.style.left = Math.min(Math.max(left - side / 2, 0), Math.max(0, view.width - side)) + 'px'
    canvas.style.top = Math.min(Math.max(top + up - side / 2, 0), Math.max(0, view.height - side)) + 'px'
    const zoom = Math.max(2.5 * view.scale, 1) * sharp
    const part = canvas.width / zoom // pixels of the photo across
    const shown = this.#picture.naturalWidth / view.size[0]
    const pen = canvas.getContext('2d')
    pen.fillStyle = '#777'
    pen.fillRect(0, 0, canvas.width, canvas.width)
    pen.drawImage(this.#picture, (x - part / 2) * shown, (y - part / 2) * shown, part * shown, part * shown, 0, 0, canvas.width, canvas.width)
    const middle = canvas.width / 2
    for (const [colour, width] of [['#000a', 3], ['#fff', 1]]) {
      pen.strokeStyle = colour
      pen.lineWidth = width * sharp
      pen.beginPath()
      for (const [from, to] of [[-0.5, -0.08], [0.08, 0.5]]) {
        pen.moveTo(middle + from * canvas.width, middle)
        pen.lineTo(middle + to * canvas.width, middle)
        pen.moveTo(middle, middle + from * canvas.width)
        pen.lineTo(middle, middle + to * canvas.width)
      }
      pen.stroke()
    }
  }

  /** Shows it for a moment, after a key. */
  flash(at) {
    this.show(at)
    clearTimeout(this.#until)
    this.#until = setTimeout(() => this.hide(), 1200)
  }

  hide() {
    clearTimeout(this.#until)
    this.#canvas.hidden = true
  }
}

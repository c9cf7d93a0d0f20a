// Helpers for drawing.

const space = 'http://www.w3.org/2000/svg'

/** Adds an element to a drawing. */
export function draw(parent, name, attributes = {}) {
  const element = document.createElementNS(space, name)
  set(element, attributes)
  parent.append(element)
  return element
}

/** Sets attributes; null removes one. */
export function set(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null) element.removeAttribute(name)
    else element.setAttribute(name, value)
  }
}

/** The points of a polyline as its attribute. */
export const corners = points => points.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(' ')

/** Replaces names in braces by values. */
export const fill = (text, values) => text.replace(/\{(\w+)\}/g, (whole, name) => name in values ? values[name] : whole)

export const clamp = (value, low, high) => Math.min(Math.max(value, low), Math.max(low, high))

export const tenth = value => Math.round(value * 10) / 10

/** Moves places on a line, in their order, until they are pitch apart and between low and high,
 *  by the least sum of squares, as the pictures of the reports do. */
export function apart(wanted, pitch, low, high) {
  const pools = []
  wanted.forEach((place, i) => {
    pools.push({ sum: place - i * pitch, count: 1 })
    for (let n = pools.length - 1; n > 0 && pools[n - 1].sum / pools[n - 1].count > pools[n].sum / pools[n].count; n--) {
      const last = pools.pop()
      pools[n - 1].sum += last.sum
      pools[n - 1].count += last.count
    }
  })
  high -= (wanted.length - 1) * pitch
  const places = []
  for (const { sum, count } of pools) {
    const at = clamp(sum / count, low, high)
    for (let k = 0; k < count; k++) places.push(at + places.length * pitch)
  }
  return places
}

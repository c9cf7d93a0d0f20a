// Reading a photo: this joins the view, the marks, the layers and the steps.

import { View } from './photo/view.js'
import { Handles } from './photo/handles.js'
import { Marks } from './photo/marks.js'
import { Drawing } from './photo/drawing.js'
import { Layers } from './photo/layers.js'
import { Reader } from './photo/read.js'
import { Past } from './photo/past.js'
import { Steps, order } from './photo/steps.js'
import { showCards } from './photo/cards.js'
import { writeWords } from './photo/words.js'
import { Save } from './photo/save.js'
import { Found } from './photo/found.js'
import { Bends } from './photo/bends.js'
import { Brush } from './photo/brush.js'
import { Native } from './photo/native.js'
import { Questions } from './photo/questions.js'
import { knows, send, sendPatiently } from './photo/send.js'
import { draw, fill } from './photo/svg.js'

const $ = id => document.getElementById(id)
const root = $('photo')
const address = root.dataset.address
const texts = $('photo-texts').dataset
const messages = root.dataset

/** Everything that a keeper has marked, changed and noted. length may be typed before the ruler is marked. */
const doc = { tank: '', station: '', date: '', picks: { ruler: null, cards: [], strip: null, surface: null, hidden: [] }, surface_mm: 0, surface_bend: [], cuts: [], lit: null, signs: [], note: '', confirmed: [], length: '' }

const view = new View($('photo-pane'), $('photo-picture'), $('photo-loupe'))
const groups = Object.fromEntries(['painted', 'marks', 'found', 'handles', 'names'].map(name => [name, draw($('photo-svg'), 'g', { class: name })]))
const handles = new Handles(view, groups.handles, { begin, moved: changed, settled, revert, leave })
const hints = new Found(doc, address)
const marks = new Marks(view, groups.marks, doc, texts, { begin, moved: changed, placed, tooSmall: () => say(messages.drag), sure: step => hints.state(step), surface: () => layers.surfaceRow })
const layers = new Layers(new Drawing(view, groups.found, groups.names), doc, texts, Number(messages.thinnestMm), { begin, edited: changed, laid: i => native.set(i), fresh: () => foundBy === marked() })
const past = new Past(doc, $('photo-back'))
const steps = new Steps(opened)
const reader = new Reader(address + '/read', root.querySelector('.stand'), question, answered, () => fault(messages.lost))
const save = new Save(doc, address, { question, noted: () => { showSteps(); reader.changed() }, moved: look, open: () => steps.open('save'), stop: () => reader.stop(), fault: fieldFault, gone, stale, lost: () => fault(messages.lost) })
const brush = new Brush(view, groups.painted, doc, { begin, moved: changed, turned: () => turned(bends) })
const bends = new Bends(layers, texts, { begin, moved: changed, turned: () => turned(brush), held: show })
const native = new Native(address + '/native', { question, told: say, failed: text => fault(text || messages.lost), set: () => { fault(''); reader.changed() } })
const questions = new Questions($('photo-asked'), { yes: confirmed, no: ({ about }) => about === 'water' ? confirm('water') : (steps.open(about), steps.focus()) })

// Questions and answers

function question() {
  const { ruler, cards, strip, surface, hidden } = doc.picks
  return {
    tank: doc.tank, station: doc.station, date: doc.date, note: doc.note, signs: doc.signs, surface_mm: doc.surface_mm,
    picks: { ...(ruler && { ruler }), ...(cards.length > 0 && { cards }), ...(strip && { strip }), ...(strip && surface !== null && { surface }), ...(hidden.length > 0 && { hidden }) },
    ...(doc.surface_bend.length > 0 && { surface_bend: doc.surface_bend }),
    ...(doc.cuts.length > 0 && { cuts: doc.cuts }),
    ...(doc.lit !== null && { lit: doc.lit }),
    ...(doc.confirmed.length > 0 && { confirmed: doc.confirmed }),
  }
}

let found = null // what was read last
let foundBy = '' // the marks it was read by
let waited = '' // why nothing could be read
let refused = null // the last answer, if it was a refusal

function answered(status, answer, asked) {
  if (status === 404) return gone(answer)
  if (answer.stale) return stale(answer)
  if (status === 202) return say(waited = answer.waiting)
  if (waited !== '') say(waited = '')
  if (status !== 200 && !answer.refused) return fault(answer.error || messages.lost) // what was read stays
  fault('')
  for (const place of document.querySelectorAll('.field-fault')) place.textContent = ''
  if (answer.read) {
    if (doc.cuts.length > 0 && doc.cuts.length !== answer.read.layers.length) return // the next answer has them
    found = answer
    foundBy = marked(asked.picks)
    layers.take(answer, asked)
  }
  questions.show(answer.asks ?? [])
  refused = answer.refused ? answer : null
  refusal()
  if (!answer.read) layers.take(found = null)
  show()
  write()
}

/** Says why nothing was read: at the field, in the layers' step, or above the steps. */
function refusal() {
  if (!refused) return
  fault('')
  const atField = refused.field && fieldFault(refused.field, refused.refused)
  if (steps.current === 'layers') fault('')
  else if (!atField) fault(refused.refused)
}

/** Shows a fault at its field, and reports whether there is one. */
function fieldFault(field, text) {
  const place = document.querySelector(`[data-field="${field}"]`)
  if (!place) return false
  place.textContent = text
  const step = place.closest('.step')
  if (step && step.dataset.step !== steps.current) fault(text)
  return true
}

/** The photo was saved or thrown away, or panecore has forgotten it. */
function gone({ error, to }) {
  reader.stop()
  $('photo-gone-why').textContent = `panecore says: ${error}.`
  $('photo-gone-to').hidden = !to
  $('photo-gone-to').href = to ?? '/photo'
  $('photo-stale').hidden = true
  root.querySelector('.stand').hidden = root.querySelector('.guide').hidden = true
  $('photo-gone').hidden = false
  $('photo-gone').scrollIntoView()
}

let newest = '' // the count of another tab's state

/** Another tab has changed the marks since they were loaded here. */
function stale(answer) {
  newest = answer.stale
  const told = !$('photo-stale').hidden
  $('photo-stale').hidden = false
  if (!told) $('photo-stale').scrollIntoView({ block: 'nearest' }) // the focus stays: somebody may be typing
}

$('photo-stale-load').addEventListener('click', () => location.reload())
$('photo-stale-mine').addEventListener('click', () => {
  knows(newest)
  $('photo-stale').hidden = true
  reader.changed()
  steps.focus()
})

/** Asks whether another tab has changed or saved the photo meanwhile. */
async function latest() {
  if (!$('photo-gone').hidden) return
  const { status, answer } = await send(address + '/latest').catch(() => ({}))
  if (status === 404) gone(answer)
  else if (answer?.stale) stale(answer)
}

function say(text) { $('photo-said').textContent = text }

function fault(text) {
  $('photo-fault').textContent = text
  $('photo-fault').hidden = text === ''
}

// Changes and undo

function begin(what) { past.begin(what) }

function revert() {
  if (!past.back()) return
  shown = marked()
  changed()
  fields()
}

const marked = (picks = doc.picks) => JSON.stringify([picks.ruler, picks.strip, picks.surface, picks.hidden ?? []])
let shown = marked() // the marks that the cuts belong to

/** Something was moved or changed: it is drawn and read again. */
function changed() {
  if (doc.cuts.length > 0 && shown !== marked()) {
    doc.cuts = []
    doc.surface_mm = 0
    doc.surface_bend = []
    say(messages.anew)
  }
  shown = marked()
  if (refused?.field) refused = null // it was about the former value
  show()
  showSteps()
  reader.changed()
}

/** One way of marking begins or ends, and with it another. */
function turned(other) {
  other.turn(false)
  show()
}

function settled() {
  show()
  write()
}

/** The keeper has said yes to a question about what was found. */
function confirmed(question) {
  if (question.surface === undefined) return confirm(question.about)
  begin('surface')
  doc.picks.surface = question.surface
  marks.surfaceKnown = true
  changed()
}

/** What was found counts from now on as seen by the keeper. */
function confirm(about) {
  if (!doc.confirmed.includes(about)) doc.confirmed.push(about)
  show()
  showSteps()
  reader.changed()
}

/** A step's mark was made. */
function placed(step) {
  say('')
  changed()
  fields()
  if (step === 'ruler' && doc.picks.ruler) $('ruler-length').focus({ preventScroll: true })
  if (step === 'strip') steps.open('surface')
}

/** The focus goes from a handle back to the steps. */
function leave(id) {
  view.loupe.hide()
  if (id.startsWith('ruler') && doc.picks.ruler) $('ruler-length').focus()
  else if (id.startsWith('bend')) $('bend-out').focus()
  else if (id.startsWith('edge')) $('layers-list').querySelectorAll('select')[Math.max(0, Number(id.slice(5)) - 1)]?.focus()
  else $(steps.current + '-next')?.focus()
}

// What is shown

/** Draws marks, layers and handles. */
function show() {
  const step = steps.current
  marks.draw(step, found !== null)
  brush.draw()
  layers.named = !['ruler', 'card', 'strip'].includes(step)
  layers.draw()
  handles.show(step !== 'layers' ? marks.handles(step) : bends.on ? bends.handles() : layers.handles())
}

/** Writes what the answer says. */
function write() {
  showSteps()
  writeWords(found && found.words, refused?.refused ?? '', !view.dragging && !reader.waits)
  bends.write()
  $('layers-by-hand').href = doc.tank ? `/tank/${encodeURIComponent(doc.tank)}/read?${new URLSearchParams({ station: doc.station })}` : '/'
  $('layers-anew').hidden = doc.cuts.length === 0
}

const isLength = /^\s*[\d.,]*[1-9][\d.,]*\s*(mm|cm|in|")\s*$/i // as panecore reads it

/** Shows what each step holds. */
function showSteps() {
  const { ruler, cards, strip, surface } = doc.picks
  steps.holds('ruler', isLength.test(ruler?.length ?? ''), (ruler?.length ?? '').replace(/(\d)([a-z])/, '$1 $2'))
  steps.holds('card', cards.length > 0, cards.length === 0 ? texts.optional : cards.length > 1 ? String(cards.length) : cards[0].reflectance ?? '')
  steps.holds('strip', Boolean(strip), strip ? `${Math.round(strip[2])} × ${Math.round(strip[3])}` : '')
  steps.holds('surface', Boolean(strip) && marks.surfaceKnown, '')
  steps.holds('layers', found !== null && marks.surfaceKnown, found ? String(found.read.layers.length) : '')
  steps.holds('save', false, [doc.tank, doc.station].filter(Boolean).join(', '))
  $('ruler-anew').hidden = !ruler
  $('ruler-place').hidden = Boolean(ruler)
  $('card-more').hidden = cards.length === 0 || cards.length >= Number(messages.mostCards) || marks.another
  $('card-place').hidden = !marks.wants('card')
  $('strip-anew').hidden = !strip
  $('strip-place').hidden = Boolean(strip)
  $('surface-place').hidden = !strip
  $('ruler-next').disabled = !ruler?.length
  $('strip-next').disabled = $('surface-next').disabled = !strip
  $('layers-next').disabled = found === null
  $('photo-save').hidden = found === null || questions.open
  $('photo-save').textContent = fill(texts.save, { place: [save.tankName, doc.station, doc.date].filter(Boolean).join(', ') })
  hints.write()
  $('photo-last').hidden = !hints.differ
}

/** Puts what is marked into the fields of the steps. */
function fields() {
  const length = doc.picks.ruler?.length ?? doc.length
  const [, number, unit] = length.match(/^\s*([\d.,]*)\s*(mm|cm|in)\s*$/) ?? [null, length, $('ruler-unit').value]
  if (document.activeElement !== $('ruler-length')) $('ruler-length').value = number
  $('ruler-unit').value = unit
  showCards(doc.picks.cards, texts.cardLabel, {
    changed: (i, reflectance) => {
      begin('reflectance')
      doc.picks.cards[i].reflectance = reflectance
      changed()
    },
    removed: i => {
      begin('card out')
      doc.picks.cards.splice(i, 1)
      fields()
      changed()
      steps.focus()
    },
  })
}

function opened() {
  marks.first = null
  marks.another = false
  layers.chosen = -1
  view.loupe.hide()
  say('')
  refusal()
  show()
  showSteps()
}

// Pointers on the photo

view.onchange = show
view.touch = {
  grab: (at, pointer) => {
    if (steps.current === 'layers' && brush.on) return brush.grab(at)
    const held = handles.grab(at, pointer) ?? marks.grab(steps.current, at, pointer, handles)
    return held && steps.current === 'surface' ? { ...held, tap: at => marks.click('surface', at) } : held
  },
  over: (at, pointer) => {
    if (steps.current === 'layers' && brush.on) return 'cell'
    const near = handles.near(at, pointer)
    if (near) return near.line ? 'ns-resize' : 'move'
    return marks.wants(steps.current) || steps.current === 'surface' ? 'crosshair' : ''
  },
  click: at => {
    if (steps.current === 'layers' && bends.on) bends.pick(at)
    else if (steps.current === 'layers') layers.choose(layers.at(at)?.layer ?? -1, true)
    else marks.click(steps.current, at)
  },
  twice: at => {
    const there = steps.current === 'layers' && !bends.on && layers.at(at)
    if (there) layers.split(there.layer, there.mm)
  },
}
$('photo-in').addEventListener('click', () => view.zoom(1.5))
$('photo-out').addEventListener('click', () => view.zoom(1 / 1.5))
$('photo-whole').addEventListener('click', () => view.whole())
$('photo-back').addEventListener('click', () => {
  say(messages.back)
  revert()
})
document.addEventListener('keydown', e => {
  if ((e.ctrlKey || e.metaKey) && !e.shiftKey && e.key === 'z' && !e.target.closest('input, textarea')) {
    e.preventDefault()
    revert()
  }
})

// The steps

for (const step of ['ruler', 'card', 'strip', 'surface', 'layers']) {
  $(step + '-next').addEventListener('click', () => {
    if (step === 'surface') marks.surfaceKnown = true
    if (hints.state(step) === 'doubtful') confirm(step)
    if (step === 'ruler') rulerDone()
    else steps.next()
  })
}

/** The ruler's step ends only with a length that panecore accepts. */
function rulerDone() {
  if (isLength.test(doc.picks.ruler?.length ?? '') && $('fault-length').textContent === '') steps.next()
  else $('ruler-length').focus()
}

for (const step of ['ruler', 'card', 'strip', 'surface']) {
  $(step + '-place').addEventListener('click', () => {
    const first = marks.place(step)
    changed()
    fields()
    handles.focus(first)
  })
}
for (const kind of ['input', 'change']) {
  $('ruler-length').addEventListener(kind, () => lengthTyped())
  $('ruler-unit').addEventListener(kind, () => lengthTyped())
}
$('ruler-length').addEventListener('keydown', e => { if (e.key === 'Enter' && doc.picks.ruler?.length) rulerDone() })
$('ruler-anew').addEventListener('click', () => {
  begin('ruler anew')
  doc.length = doc.picks.ruler.length
  doc.picks.ruler = marks.first = null
  changed()
  $('ruler-place').focus() // the pressed button is gone
})
$('strip-anew').addEventListener('click', () => {
  begin('strip anew')
  doc.picks.strip = doc.picks.surface = null
  changed()
  $('strip-place').focus()
})
$('card-more').addEventListener('click', () => {
  marks.another = true
  showSteps()
  show()
  $('card-place').focus()
})
$('layers-anew').addEventListener('click', () => layers.anew())

/** The length may be typed before the points are marked. A bare number is in the unit next to it. */
function lengthTyped() {
  const typed = $('ruler-length').value.trim()
  const length = /^[\d.,]+$/.test(typed) ? typed + $('ruler-unit').value : typed
  if (length === (doc.picks.ruler?.length ?? doc.length)) return
  doc.length = length
  $('fault-length').textContent = ''
  if (!doc.picks.ruler) return
  begin('length by keys')
  doc.picks.ruler.length = length
  delete doc.picks.ruler.plane // a tag's, of another scale
  changed()
}

// What the picture shows by itself

/** Looks for marks, and takes them if the keeper has made none. */
async function look() {
  root.setAttribute('aria-busy', 'true')
  say(messages.looking)
  const answer = await hints.look(say, why => fault(why || messages.lost))
  if (answer === null) return // a newer question is on its way
  if ($('photo-said').textContent === messages.looking) say(state.again ? messages.again : '')
  if (answer && marks.first === null) {
    const free = hints.untouched
    if (hints.learn(answer)) takeFound()
    else if (free) say(hints.said)
  }
  reader.changed()
  showSteps()
  root.setAttribute('aria-busy', 'false')
}

/** Takes what was found for the marks. */
function takeFound() {
  hints.take()
  if (doc.tank !== '') save.offer(save.tanks)
  save.show()
  marks.surfaceKnown = doc.picks.strip !== null
  changed()
  fields()
  if (steps.current !== 'save') steps.open(firstStep()) // where something may be being typed
  say(hints.said)
}

const firstStep = () => order.find(step => step === 'layers' || (step === 'ruler' && !doc.picks.ruler?.length) || (step === 'strip' && !doc.picks.strip))

$('photo-last-take').addEventListener('click', () => {
  begin('found marks')
  takeFound()
  steps.focus()
})
for (const kind of ['dragover', 'drop']) document.addEventListener(kind, e => e.preventDefault()) // else a dropped file would replace the page
document.addEventListener('visibilitychange', () => { if (!document.hidden && doc.tank === '') offerTanks() }) // a tank may have been added in another tab

async function offerTanks() {
  const { status, answer } = await send(address + '/state').catch(() => ({}))
  if (status === 200) save.offer(answer.tanks)
}

// Start

/** The photo can't be shown: says why instead of "Opening the photo". */
function unopened(why) {
  root.setAttribute('aria-busy', 'false')
  $('photo-wait').hidden = true
  fault(why || messages.unopened)
}

const { status, answer: state } = await sendPatiently(address + '/state' + location.search, undefined, text => { $('photo-wait').textContent = text }).catch(() => ({}))
if (status === 404) gone(state)
else if (status !== 200) unopened(state?.error)
else {
  const { picks, ...rest } = state.state
  knows(state.count)
  Object.assign(doc, rest, { surface_bend: rest.surface_bend ?? [], cuts: rest.cuts ?? [], signs: rest.signs ?? [], lit: rest.lit ?? null, note: rest.note ?? '', confirmed: rest.confirmed ?? [] })
  Object.assign(doc.picks, picks)
  marks.surfaceKnown = doc.picks.strip !== null
  shown = marked()
  view.show(state.width, state.height)
  $('photo-picture').addEventListener('load', () => { $('photo-wait').hidden = true })
  $('photo-picture').addEventListener('error', () => unopened())
  $('photo-picture').src = address + '/screen.jpg'
  save.offer(state.tanks)
  save.show()
  fields()
  steps.open(firstStep())
  document.addEventListener('visibilitychange', () => { if (!document.hidden) latest() })
  window.addEventListener('focus', latest)
  look()
}

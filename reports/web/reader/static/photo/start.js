// Choosing a photo, by a button, by dropping or pasting, or with the camera, and sending it.

import { knownAs, offerKnown } from './place.js'
import { sendFile, sendPatiently } from './send.js'

const form = document.getElementById('photo-start')
const tank = document.getElementById('photo-tank')
const station = document.getElementById('photo-station')
const known = form.querySelector('.known')
const status = document.getElementById('photo-status')
const progress = document.getElementById('photo-progress')
const fault = document.getElementById('photo-fault')
let sending = false

/** Offers the places of the chosen tank, and fills in the usual one. */
function offerStations() {
  const chosen = tank.selectedOptions[0].dataset
  station.setAttribute('list', chosen.list)
  if (station.value === '' || station.value === station.dataset.put) {
    station.value = station.dataset.put = chosen.usual
  }
  stationTyped()
}

/** Offers a place that the tank has with other capital letters. */
function stationTyped() {
  offerKnown(known, knownAs(station.value, [...station.list?.options ?? []].map(option => option.value)))
}

function say(text, isFault) {
  status.textContent = isFault ? '' : text
  fault.textContent = isFault ? text : ''
  fault.hidden = !isFault
  if (isFault) progress.hidden = true
}

/** Whether the browser can read a file: sending one that it can't looks like a lost server. */
const readable = file => file.slice(0, 1).arrayBuffer().then(() => true, () => false)

async function take(file) {
  if (sending) return
  if (!file) return say(status.dataset.none, true)
  if (file.size > Number(form.dataset.mostMb) * 2 ** 20) return say(status.dataset.large, true)
  sending = true
  form.setAttribute('aria-busy', 'true')
  try {
    if (!await readable(file)) return say(status.dataset.unreadable, true)
    say(status.dataset.sending)
    progress.hidden = false
    let { status: code, answer } = await sendFile('/photo', file, share => {
      progress.value = share
      if (share === 1) say(status.dataset.opening)
    })
    const address = answer.address
    if (code === 202) ({ status: code, answer } = await sendPatiently(address + '/state', undefined, say))
    if (code !== 200) return say(answer.error || status.dataset.lost, true)
    say(status.dataset.opened)
    location.assign(address + '?' + new URLSearchParams({ tank: tank.value, station: station.value }))
  } catch {
    say(status.dataset.lost, true)
  } finally {
    sending = false
    form.removeAttribute('aria-busy')
    for (const input of form.querySelectorAll('input[type=file]')) input.value = ''
  }
}

tank.addEventListener('change', offerStations)
station.addEventListener('input', stationTyped)
known.querySelector('button').addEventListener('click', e => {
  station.value = e.currentTarget.dataset.place
  station.focus()
  stationTyped()
})
form.addEventListener('submit', e => e.preventDefault())
form.addEventListener('change', e => { if (e.target.type === 'file' && e.target.files.length > 0) take(e.target.files[0]) })

let over = 0 // elements that a dragged file is over
for (const kind of ['dragenter', 'dragover', 'dragleave', 'drop']) {
  document.addEventListener(kind, e => {
    if (!e.dataTransfer?.types.includes('Files')) return
    e.preventDefault()
    if (kind === 'dragenter') over++
    if (kind === 'dragleave') over--
    if (kind === 'drop') {
      over = 0
      take(e.dataTransfer.files[0])
    }
    document.body.classList.toggle('dropping', over > 0)
  })
}
document.addEventListener('paste', e => { if (e.clipboardData?.files.length > 0) take(e.clipboardData.files[0]) })
offerStations()

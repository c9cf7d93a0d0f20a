// A photo is chosen, dropped, pasted or taken, and sent.

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

/** The places of the tank that is chosen are offered; the usual one is put in. */
function offerStations() {
  const chosen = tank.selectedOptions[0].dataset
  station.setAttribute('list', chosen.list)
  if (station.value === '' || station.value === station.dataset.put) {
    station.value = station.dataset.put = chosen.usual
  }
  stationTyped()
}

/** A place that the tank has in other letters is offered. */
function stationTyped() {
  offerKnown(known, knownAs(station.value, [...station.list?.options ?? []].map(option => option.value)))
}

function told(text, isFault) {
  status.textContent = isFault ? '' : text
  fault.textContent = isFault ? text : ''
  fault.hidden = !isFault
  if (isFault) progress.hidden = true
}

/** Whether the browser gets at a file at all: sending one that it can't looks like a server that is gone. */
const readable = file => file.slice(0, 1).arrayBuffer().then(() => true, () => false)

async function take(file) {
  if (sending) return
  if (!file) return told(status.dataset.none, true)
  if (file.size > Number(form.dataset.mostMb) * 2 ** 20) return told(status.dataset.large, true)
  sending = true
  form.setAttribute('aria-busy', 'true')
  try {
    if (!await readable(file)) return told(status.dataset.unreadable, true)
    told(status.dataset.sending)
    progress.hidden = false
    let { status: code, answer } = await sendFile('/photo', file, share => {
      progress.value = share
      if (share === 1) told(status.dataset.opening)
    })
    const address = answer.address
    if (code === 202) ({ status: code, answer } = await sendPatiently(address + '/state', undefined, told))
    if (code !== 200) return told(answer.error || status.dataset.lost, true)
    told(status.dataset.opened)
    location.assign(address + '?' + new URLSearchParams({ tank: tank.value, station: station.value }))
  } catch {
    told(status.dataset.lost, true)
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

let over = 0 // how many elements a dragged file is over
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

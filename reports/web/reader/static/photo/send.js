// How the scripts talk to panecore.

// This tab's name, and the count of the draft's state that it knows: panecore takes no change from a
// tab that does not know the latest one.
const tab = [...crypto.getRandomValues(new Uint32Array(4))].join('-')
let known = ''

/** This tab knows the state of that count. */
export function knows(count) { known = String(count) }

const proof = document.querySelector('meta[name="form"]').content

/** Asks panecore for JSON; with a body, sends it that as JSON. An answer in plain words is an error. */
export async function send(path, body, signal) {
  const posts = body !== undefined
  const response = await fetch(path, {
    method: posts ? 'POST' : 'GET',
    headers: { Accept: 'application/json', 'X-Panecore-Form': proof, 'X-Panecore-Tab': tab, 'X-Panecore-Count': known, ...(posts && { 'Content-Type': 'application/json' }) },
    body: posts ? JSON.stringify(body) : undefined,
    signal,
  })
  if (response.headers.has('X-Panecore-Count')) knows(response.headers.get('X-Panecore-Count'))
  const isJSON = response.headers.get('Content-Type')?.startsWith('application/json')
  return { status: response.status, answer: isJSON ? await response.json() : { error: await response.text() } }
}

/** Asks again every second while panecore says that the request must wait. */
export async function sendPatiently(path, body, onWait, signal) {
  for (;;) {
    const { status, answer } = await send(path, body, signal)
    if (status !== 202) return { status, answer }
    onWait(answer.waiting)
    await new Promise(done => setTimeout(done, 1000))
  }
}

/** Sends a file, and calls onProgress with the share that was sent, 0 to 1. */
export function sendFile(path, file, onProgress) {
  return new Promise((done, failed) => {
    const request = new XMLHttpRequest()
    request.open('POST', path)
    request.setRequestHeader('Accept', 'application/json')
    request.setRequestHeader('X-Panecore-Form', proof)
    request.setRequestHeader('Content-Type', 'application/octet-stream')
    request.responseType = 'json'
    request.upload.onprogress = e => { if (e.lengthComputable) onProgress(e.loaded / e.total) }
    request.onload = () => done({ status: request.status, answer: request.response || {} })
    request.onerror = request.onabort = failed
    request.send(file)
  })
}

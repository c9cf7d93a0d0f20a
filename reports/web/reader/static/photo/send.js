// How the scripts talk to panecore.

const proof = document.querySelector('meta[name="form"]').content

/** Asks panecore for JSON; with a body, sends it that as JSON. An answer in plain words is an error. */
export async function send(path, body, signal) {
  const posts = body !== undefined
  const response = await fetch(path, {
    method: posts ? 'POST' : 'GET',
    headers: { Accept: 'application/json', 'X-Panecore-Form': proof, ...(posts && { 'Content-Type': 'application/json' }) },
    body: posts ? JSON.stringify(body) : undefined,
    signal,
  })
  const isJSON = response.headers.get('Content-Type')?.startsWith('application/json')
  return { status: response.status, answer: isJSON ? await response.json() : { error: await response.text() } }
}

/** Asks again every second while panecore says that the request must wait. */
export async function sendPatiently(path, body, onWait) {
  for (;;) {
    const { status, answer } = await send(path, body)
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

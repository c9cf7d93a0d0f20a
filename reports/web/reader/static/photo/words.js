// What panecore says about a reading.

const $ = id => document.getElementById(id)

function text(name, content) {
  const element = document.createElement(name)
  element.textContent = content
  return element
}

/** Writes the words of a reading; null: there is none, for the reason refused (may be empty).
 *  They are announced once nothing moves. */
export function writeWords(words, refused, still) {
  $('layers-none').hidden = words !== null || refused !== ''
  $('layers-refused').hidden = refused === ''
  if ($('layers-why').textContent !== refused) $('layers-why').textContent = refused // announced only once
  $('layers-found').hidden = words === null
  if (words === null) {
    $('photo-sum').textContent = ''
    return
  }
  const sum = words.unsure ? `${words.said}. ${words.unsure}` : words.said
  if (still && $('photo-sum').textContent !== sum) $('photo-sum').textContent = sum // announced only once
  $('photo-sum').classList.toggle('unsure', words.unsure !== '')
  for (const [id, line] of [['layers-unsure', words.unsure], ['layers-taught', words.taught]]) {
    $(id).textContent = line
    $(id).hidden = line === ''
  }
  $('layers-numbers').replaceChildren(...words.numbers.flatMap(n => {
    const value = text('dd', n.value)
    if (n.basis) value.append(text('small', n.basis))
    return [text('dt', n.name), value]
  }))
  for (const [id, list] of [['layers-warnings', words.warnings], ['layers-helps', words.helps]]) {
    $(id).hidden = list.length === 0
    $(id).querySelector('ul').replaceChildren(...list.map(line => text('li', line)))
  }
}

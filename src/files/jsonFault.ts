/** The first place where a text stops being JSON. */
export interface JsonFault {
  readonly reason: string
  /** The text ends where more must follow. */
  readonly truncated: boolean
  readonly line: number
  readonly column: number
}

export interface RepeatedKey {
  readonly key: string
  readonly line: number
  readonly column: number
}

class Fault extends Error {
  readonly at: number
  constructor(reason: string, at: number) {
    super(reason)
    this.at = at
  }
}

const space = /[ \t\n\r]*/y
const numberForm = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y
const wordForm = /[A-Za-z]+/y
/** What a number or an escape can look like at the end of a file that was cut off. */
const cutNumber = /^-?(?:[0-9]+(?:\.[0-9]*)?(?:[eE][+-]?)?)?$/
const cutEscape = /^\\(?:u[0-9a-fA-F]{0,3})?$/
const escapeForm = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y

function match(form: RegExp, text: string, at: number): number {
  form.lastIndex = at
  return form.exec(text)?.[0].length ?? 0
}

function endOfString(text: string, start: number): number {
  let at = start + 1
  for (;;) {
    if (at >= text.length) throw new Fault('a text in quotation marks is not closed', text.length)
    const code = text.charCodeAt(at)
    if (code === 0x22) return at + 1
    if (code < 0x20) throw new Fault('a line break or control character inside a text in quotation marks', at)
    if (code !== 0x5c) {
      at++
      continue
    }
    const length = match(escapeForm, text, at)
    if (length === 0) {
      const isCut = cutEscape.test(text.slice(at, at + 7))
      throw new Fault('a backslash that begins no known escape', isCut ? text.length : at)
    }
    at += length
  }
}

function endOfScalar(text: string, at: number): number {
  const char = text[at]
  if (char === '"') return endOfString(text, at)
  const digits = match(numberForm, text, at)
  if (at + digits < text.length && text.length - at < 400 && cutNumber.test(text.slice(at))) {
    throw new Fault('a number is cut off', text.length)
  }
  if (digits > 0) return at + digits
  const letters = match(wordForm, text, at)
  const word = text.slice(at, at + letters)
  if (word === 'true' || word === 'false' || word === 'null') return at + letters
  if (letters > 0 && at + letters === text.length && /^(t(ru?)?|f(a(ls?)?)?|n(ul?)?)$/.test(word)) {
    throw new Fault('a value is cut off', text.length)
  }
  if (letters > 0) throw new Fault(`the word ${word.slice(0, 20)} is no value`, at)
  throw new Fault(`a value is expected, ${JSON.stringify(char)} stands here`, at)
}

/**
 * Walks a text by the grammar of JSON (RFC 8259) with a stack of its own, so that depth costs no recursion.
 * Throws at the first fault; hands each key to `onKey` with the number of the object it stands in.
 */
function walk(text: string, onKey: (object: number, key: string, at: number) => void): void {
  const open: { readonly close: '}' | ']'; readonly object: number }[] = []
  let objects = 0
  let at = 0
  const skip = () => (at += match(space, text, at))
  const need = (what: string) => {
    skip()
    if (at >= text.length) throw new Fault(`${what} is expected, the file ends here`, text.length)
  }
  const readKey = () => {
    need('a key')
    if (text[at] !== '"') throw new Fault('a key in quotation marks is expected', at)
    const end = endOfString(text, at)
    onKey(open[open.length - 1].object, JSON.parse(text.slice(at, end)) as string, at)
    at = end
    need('a colon')
    if (text[at] !== ':') throw new Fault('a colon is expected after the key', at)
    at++
  }
  for (;;) {
    need('a value')
    const char = text[at]
    let complete = true
    if (char === '{' || char === '[') {
      open.push({ close: char === '{' ? '}' : ']', object: objects++ })
      at++
      need(char === '{' ? 'a key or }' : 'a value or ]')
      if (text[at] !== open[open.length - 1].close) {
        complete = false
        if (char === '{') readKey()
      }
    } else {
      at = endOfScalar(text, at)
    }
    while (complete) {
      const inner = open[open.length - 1]
      if (!inner) {
        skip()
        if (at < text.length) throw new Fault('something follows after the end of the document', at)
        return
      }
      need(`a comma or ${inner.close}`)
      if (text[at] === inner.close) {
        open.pop()
        at++
      } else if (text[at] === ',') {
        at++
        if (inner.close === '}') readKey()
        complete = false
      } else {
        throw new Fault(`a comma or ${inner.close} is expected`, at)
      }
    }
  }
}

function placeOf(text: string, at: number): { line: number; column: number } {
  let line = 1
  let start = 0
  for (;;) {
    const next = text.indexOf('\n', start)
    if (next < 0 || next >= at) return { line, column: at - start + 1 }
    line++
    start = next + 1
  }
}

/** Where and why a text is not JSON, in words that do not depend on the browser; null where it is. */
export function findJsonFault(text: string): JsonFault | null {
  try {
    walk(text, () => undefined)
    return null
  } catch (error) {
    if (!(error instanceof Fault)) throw error
    return { reason: error.message, truncated: error.at >= text.length, ...placeOf(text, error.at) }
  }
}

/** The first key that an object has twice: JSON.parse would keep the second and drop the first unseen. */
export function findRepeatedKey(text: string): RepeatedKey | null {
  const seen = new Map<number, Set<string>>()
  let repeated: RepeatedKey | null = null
  walk(text, (object, key, at) => {
    const keys = seen.get(object) ?? new Set()
    if (keys.has(key) && !repeated) repeated = { key, ...placeOf(text, at) }
    seen.set(object, keys.add(key))
  })
  return repeated
}

/**
 * Finds an item by the letters typed one after another. Letters further apart than `pauseMs` start anew; the
 * same letter again steps through the items that begin with it. The clock is handed in.
 */
export class TypeAhead {
  readonly #pauseMs: number
  #letters = ''
  #lastMs = -Infinity

  constructor(pauseMs = 700) {
    this.#pauseMs = pauseMs
  }

  /** The index to go to, or null when none begins with the letters. `textOf` is asked for at most all items. */
  find(
    letter: string,
    nowMs: number,
    from: number,
    count: number,
    textOf: (index: number) => string,
  ): number | null {
    this.#letters = nowMs - this.#lastMs > this.#pauseMs ? letter : this.#letters + letter
    this.#lastMs = nowMs
    const isRepeat = [...this.#letters].every((each) => each === this.#letters[0])
    const wanted = (isRepeat ? this.#letters[0] : this.#letters).toLowerCase()
    const start = isRepeat ? from + 1 : Math.max(from, 0)
    for (let step = 0; step < count; step++) {
      const index = (start + step) % count
      if (textOf(index).toLowerCase().startsWith(wanted)) return index
    }
    return null
  }
}

/** Whether a key types a letter, and does not move, act or call a command. */
export function isLetter({ key, ctrlKey, metaKey, altKey }: KeyboardEvent): boolean {
  return [...key].length === 1 && key !== ' ' && !ctrlKey && !metaKey && !altKey
}

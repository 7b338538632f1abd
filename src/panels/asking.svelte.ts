/**
 * A question that is put again whenever what it depends on changes. The last answer stays until the next one
 * is there; whoever shows it compares it with what was asked. Make it while a component is being made.
 */
export class Asking<T> {
  #answer = $state.raw<T | null>(null)

  /** @param ask puts the question, or gives null when there is nothing to ask; what it reads is followed */
  constructor(ask: () => Promise<T | null> | null) {
    $effect(() => {
      let isNewest = true
      void ask()?.then((answer) => {
        if (isNewest && answer !== null) this.#answer = answer
      })
      return () => {
        isNewest = false
      }
    })
  }

  get answer(): T | null {
    return this.#answer
  }
}

import type { Attachment } from 'svelte/attachments'

/**
 * A question that is put again whenever what it depends on changes. The last answer stays until the next one
 * is there; whoever shows it compares it with what was asked. Put `follow` on the element that shows it.
 */
export class Asking<T> {
  #answer = $state.raw<T | null>(null)
  #isWaiting = $state(false)

  get answer(): T | null {
    return this.#answer
  }

  get isWaiting(): boolean {
    return this.#isWaiting
  }

  /** @param ask puts the question, or gives null when there is nothing to ask; what it reads is followed */
  follow(ask: () => Promise<T | null> | null): Attachment {
    return () => {
      const asked = ask()
      let isNewest = true
      this.#isWaiting = asked !== null
      void asked?.then((answer) => {
        if (!isNewest) return
        this.#isWaiting = false
        if (answer !== null) this.#answer = answer
      })
      return () => {
        isNewest = false
      }
    }
  }
}

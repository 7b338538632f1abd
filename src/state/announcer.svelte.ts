/** One sentence at a time for the status line and for screen readers; the newest replaces the one before. */
export class Announcer {
  #sentence = $state('')

  get sentence(): string {
    return this.#sentence
  }

  say(sentence: string): void {
    this.#sentence = sentence
  }
}

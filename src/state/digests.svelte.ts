import { SvelteMap } from 'svelte/reactivity'

/** Digests of texts, each made once: what is asked for and not known yet is null, and comes by itself. */
export class Digests {
  readonly #sha256: (text: string) => Promise<string | null>
  readonly #known = new SvelteMap<string, string>()
  // nothing on the screen depends on what was asked
  // eslint-disable-next-line svelte/prefer-svelte-reactivity
  readonly #asked = new Set<string>()

  /** @param sha256 64 small hexadecimal digits of the text's UTF-8 bytes; null where the browser makes none */
  constructor(sha256: (text: string) => Promise<string | null>) {
    this.#sha256 = sha256
  }

  /** As `signedState` asks; who reads it in a component is told when it is known. */
  readonly of = (text: string): string | null => {
    const known = this.#known.get(text)
    if (known === undefined && !this.#asked.has(text)) {
      this.#asked.add(text)
      void this.make(text)
    }
    return known ?? null
  }

  /** The digest now; null where the browser makes none. */
  async make(text: string): Promise<string | null> {
    const digest = await this.#sha256(text)
    if (digest !== null) this.#known.set(text, digest)
    return digest
  }
}

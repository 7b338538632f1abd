/**
 * A short name that no other in the list has, made of what a thing is called: `2 high × 10, portrait` gives
 * `type-2-high-10-portrait`, with the word where a letter has to begin, and a number at the end where it is taken.
 */
export function freeSlug(name: string, word: string, taken: Iterable<string>): string {
  const used = new Set(taken)
  const plain = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase()
  const base = (/^[a-z]/.test(plain) ? plain : plain === '' ? word : `${word}-${plain}`)
    .slice(0, 34)
    .replace(/-+$/, '')
  if (!used.has(base)) return base
  for (let n = 2; ; n++) if (!used.has(`${base}-${n}`)) return `${base}-${n}`
}

/**
 * The word of a list that takes the fewest changes to reach (a letter put in, left out, replaced, or two
 * neighbours swapped: optimal string alignment, Damerau 1964), or null where none is close: more than a
 * third of its letters, and more than one.
 */
export function nearestWord(given: string, known: readonly string[]): string | null {
  let best: string | null = null
  let least = Infinity
  for (const word of known) {
    const changes = changesBetween(given, word)
    if (changes < least && changes <= Math.max(1, Math.floor(word.length / 3))) {
      best = word
      least = changes
    }
  }
  return best
}

function changesBetween(a: string, b: string): number {
  const rows = Array.from({ length: a.length + 1 }, (_, i) => [i])
  for (let j = 0; j <= b.length; j++) rows[0][j] = j
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      const replaced = rows[i - 1][j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)
      let least = Math.min(rows[i - 1][j] + 1, rows[i][j - 1] + 1, replaced)
      const isSwap = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]
      if (isSwap) least = Math.min(least, rows[i - 2][j - 2] + 1)
      rows[i][j] = least
    }
  }
  return rows[a.length][b.length]
}

/**
 * Replaces what stands between the two marks of a name in a Markdown page, `<!-- name -->` and
 * `<!-- /name -->`, each on a line of its own; the marks stay. Throws where the page lacks them.
 */
export function replaceBetween(page: string, name: string, text: string): string {
  const open = `<!-- ${name} -->`
  const close = `<!-- /${name} -->`
  const from = page.indexOf(open)
  const to = page.indexOf(close)
  if (from < 0 || to < from) throw new Error(`the page has no place for ${name}`)
  return `${page.slice(0, from + open.length)}\n\n${text.trim()}\n\n${page.slice(to)}`
}

const mostLetters = 60
// What some file system forbids, halves of letters, and marks that turn the direction of writing or show nothing.
const forbidden = /[\p{Cc}\p{Cf}\p{Cs}<>:"/\\|?*]+/gu
const reserved = /^(con|prn|aux|nul|com\d|lpt\d)$/i

/** A file name for a site that every usual file system takes: `Warehouse Roof 2.json`. */
export function siteFileName(name: string): string {
  const words = name.replace(forbidden, ' ').replace(/\s+/g, ' ').trim()
  const short = Array.from(words)
    .slice(0, mostLetters)
    .join('')
    .replace(/^[. ]+|[. ]+$/g, '')
  return `${short === '' || reserved.test(short) ? `site ${short}`.trim() : short}.json`
}

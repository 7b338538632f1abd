/** Text that stands in a document as text: marks of the language are named, and characters that XML forbids go. */
export function escapedXml(text: string): string {
  return text
    .replace(/[^\P{Cc}\t\n\r]|[\ufffe\uffff\p{Cs}]/gu, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;')
}

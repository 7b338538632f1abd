/**
 * The label that follows: the last one that ends in a number, counted up past those that are taken, with its zeros
 * kept ("Row 3" → "Row 4", "N-09" → "N-10"). Empty where no label ends in a number: what has no label is called by
 * its own number. O(labels).
 */
export function nextLabel(labels: readonly string[]): string {
  for (let k = labels.length - 1; k >= 0; k--) {
    const found = /^(.*?)(\d{1,9})$/.exec(labels[k].trim())
    if (!found) continue
    const [, before, digits] = found
    const taken = new Set(labels)
    let number = Number(digits) + 1
    const written = () => before + String(number).padStart(digits.length, '0')
    while (taken.has(written())) number++
    return written()
  }
  return ''
}

/**
 * Wilson's 95 % interval for a rate of which `hits` out of `tries` were seen (E. B. Wilson 1927, "Probable
 * inference, the law of succession, and statistical inference", JASA 22, 209–212). Unknown without tries.
 */
export function wilsonInterval(hits: number, tries: number): { readonly low: number; readonly high: number } {
  if (tries === 0) return { low: 0, high: 1 }
  const z = 1.959964
  const share = hits / tries
  const middle = share + (z * z) / (2 * tries)
  const half = z * Math.sqrt((share * (1 - share)) / tries + (z * z) / (4 * tries * tries))
  const scale = 1 + (z * z) / tries
  // Rounding must not push an end past the share that was seen.
  const low = Math.max(0, Math.min(share, (middle - half) / scale))
  const high = Math.min(1, Math.max(share, (middle + half) / scale))
  return { low, high }
}

/** Distance in metres between a part that is touched and the ground or other part that the body touches besides. */
export const armReachM = {
  /** IEEE Std 80: touch voltage is that between a part and the ground one metre away. */
  ieee80: 1,
  /** IEC 60364-4-41 annex B: within arm's reach, two parts can be touched at once. */
  iec60364: 2.5,
} as const

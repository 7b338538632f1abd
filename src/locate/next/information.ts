/** Entropy of a distribution in nats; what weighs nothing adds nothing. */
export function entropyNats(weights: ArrayLike<number>): number {
  let sum = 0
  for (let c = 0; c < weights.length; c++) if (weights[c] > 0) sum -= weights[c] * Math.log(weights[c])
  return Math.max(0, sum)
}

/**
 * What an outcome says about the class on average, in nats:
 *
 *   I(C; K) = Σ_c Σ_k P(c, k) ln [ P(c, k) / (P(c) P(k)) ]
 *
 * `joint[c × outcomes + k]` adds up to 1. Never below 0, never above the entropy of the classes. O(classes ×
 * outcomes). Source: Lindley (1956), "On a measure of the information provided by an experiment".
 */
export function informationNats(joint: ArrayLike<number>, classes: number, outcomes: number): number {
  const ofClass = new Float64Array(classes)
  const ofOutcome = new Float64Array(outcomes)
  for (let c = 0, at = 0; c < classes; c++) {
    for (let k = 0; k < outcomes; k++, at++) {
      ofClass[c] += joint[at]
      ofOutcome[k] += joint[at]
    }
  }
  let sum = 0
  for (let c = 0, at = 0; c < classes; c++) {
    for (let k = 0; k < outcomes; k++, at++) {
      const p = joint[at]
      if (p > 0) sum += p * Math.log(p / (ofClass[c] * ofOutcome[k]))
    }
  }
  return Math.min(Math.max(0, sum), entropyNats(ofClass))
}

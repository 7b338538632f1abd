/**
 * The rules of a drill: how often a test is bad, what it costs, and how points are made. Figures of ours, to be changed
 * here; docs/training.md says each. Minutes of readings are those of `walk/effort.ts`.
 */
export const drillRules = {
  /** Share of contacts that are poor, whatever the surface; seated afresh they are sound. */
  poorShare: 0.05,
  /** Reading once more without touching the clips. */
  againMin: 0.5,
  /** A joint that is hidden moves a reading across it by at least so many standard deviations of one sound reading. */
  shownTimes: 8,
  /** Ohms that a raised joint gains, at most. */
  mostAddedOhm: 20,
  /** Share of hidden joints that are open; the others are raised. */
  openShare: 0.5,
  points: {
    found: 100,
    perReading: -1,
    perMinute: -0.5,
    perWrongCall: -15,
    perBadTestFound: 5,
    perAsked: -5,
  },
} as const

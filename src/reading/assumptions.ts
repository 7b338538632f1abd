/**
 * What is assumed about leads, clips and instruments where the record does not say. Judgement from memory,
 * low confidence; docs/model.md lists each with its reason.
 */
export const assumptions = {
  contact: {
    /** Every two-wire reading crosses two clips: median and ln-spread of what they add together. */
    medianOhm: 0.003,
    lnSpread: 0.8,
    /** Chance that a contact is poor, by what the clip met; a second try with fresh seating has its own. */
    poorOnBare: 0.03,
    poorOnCoated: 0.2,
    poorOnPierced: 0.03,
    poorAgain: 0.05,
    /** Four-wire clips, and the probes of an electrode test: the contact drops out unless it fails altogether. */
    poorFourWire: 0.01,
    /** With less test current than the method asks for, films are not broken through: so many times as often, at most. */
    poorLowCurrentTimes: 2,
    poorLowCurrentMost: 0.4,
    /** Of the poor contacts: over range, or above 10 Ω, or log-normal about a median. */
    poorOverRange: 0.2,
    poorHigh: 0.2,
    poorHighFromOhm: 10,
    poorHighToOhm: 1000,
    poorMedianOhm: 0.05,
    poorLnSpread: 1.5,
  },
  /** Instruments with less test current than this do not get through films and are not counted. */
  leastTestCurrentA: 0.01,
  /** What a bond test is asked to drive; below this share of the instrument's own current it counts as low, too. */
  askedTestCurrentA: 0.2,
  lowCurrentShare: 0.5,
  /** A set-up in which the lead breaks or its far end comes off for good: over range from there on. */
  brokenLead: 0.01,
  /** One reading with a clip that has fallen off. */
  fallenClip: 0.003,
  /** Both clips on one part, neighbour table, leads nulled too far. */
  falseLow: 0.01,
  /** With a clip on a bolt head, which passes by the joint that the bolt makes. */
  falseLowOnBoltHead: 0.1,
  lead: {
    /** Left after nulling: this share of the lead's own ohms, and this much more, as standard deviations. */
    nulledShare: 0.045,
    nulledOhm: 0.0035,
    /** Not nulled: the lead's ohms are in the reading, known to this share. */
    unknownShare: 0.06,
    /** The lead warms or cools against its temperature when nulled: standard deviation per hour. */
    driftKelvinPerHour: 5,
    /** After so many hours it drifts no further: leads end up as warm as the day, not warmer. */
    mostDriftHours: 4,
    /** Copper's resistance changes by this share per kelvin. */
    perKelvin: 0.00393,
  },
  /** How far the level of a whole joint kind may lie from the catalogue, as standard deviation of the ln. */
  kindLevelLnSd: 0.4,
  /** The same for wires and members, whose ohms follow from material and size: lay, tolerance, temperature. */
  metalLevelLnSd: 0.08,
  /** How far soil as a whole may lie from the stated resistivity; season and uncounted coupling included. */
  soilLevelLnSd: 0.8,
  /**
   * What someone sees who looks at a joint, and with a torque check on top: chance to find it bad when it is open, when
   * it is raised, and when nothing is wrong with it.
   */
  look: { findsOpen: 0.8, findsRaised: 0.5, falseAlarm: 0.02 },
  retorque: { findsOpen: 0.9, findsRaised: 0.7, falseAlarm: 0.02 },
} as const

/** How far the level of a joint kind may lie from what the drawing says, as standard deviation of the ln. */
export function levelLnSd(kind: string): number {
  if (kind === 'earthPath') return assumptions.soilLevelLnSd
  return kind === 'wire' || kind === 'memberBody' ? assumptions.metalLevelLnSd : assumptions.kindLevelLnSd
}

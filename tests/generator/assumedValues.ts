/**
 * What the generator takes a site, its contacts, leads and instruments to be. These figures are the
 * generator's own: the program that is tested never reads them, and nothing here is read from it. Judgement
 * from memory, low confidence, as the joint catalogue says of its own.
 */

/** Contact of a sound joint: median in ohm and standard deviation of its natural logarithm. */
export const soundJoints: Readonly<
  Record<string, { readonly medianOhm: number; readonly lnSpread: number }>
> = {
  frameClamp: { medianOhm: 0.001, lnSpread: 0.8 },
  frameLink: { medianOhm: 0.0005, lnSpread: 0.7 },
  splice: { medianOhm: 0.0003, lnSpread: 0.8 },
  bracket: { medianOhm: 0.0005, lnSpread: 0.8 },
  jumper: { medianOhm: 0.0008, lnSpread: 0.4 },
  layInLug: { medianOhm: 0.0005, lnSpread: 0.7 },
  crimpLug: { medianOhm: 0.00005, lnSpread: 0.4 },
  rodClamp: { medianOhm: 0.0003, lnSpread: 0.8 },
  weld: { medianOhm: 0.00003, lnSpread: 0.4 },
  incidental: { medianOhm: 0.01, lnSpread: 2.0 },
}

/** Metal follows its drawn size to within this, as standard deviation of the natural logarithm. */
export const metalLnSpread: Readonly<Record<string, number>> = { wire: 0.05, memberBody: 0.1 }

/** Earth paths scatter about a level that the whole site shares: drier or wetter by up to the season's factor. */
export const soil = { lnSpread: 0.5, seasonFactor: 2 } as const

/** A raised joint gains ohms, log-uniform from the larger of its own median and `leastOhm`. */
export const raised = { leastOhm: 0.001, mostOhm: 1000 } as const

export const contact = {
  /** What the two clips of every two-wire reading add together. */
  medianOhm: 0.003,
  lnSpread: 0.8,
  /** Chance of a poor contact by the surface that the clip met, and of a second try after seating it afresh. */
  poorRate: { bare: 0.03, pierced: 0.03, coated: 0.2 },
  poorAgainRate: 0.05,
  /** Four-wire clips lose the reading altogether, or nothing. */
  poorFourWireRate: 0.01,
  /** Of the poor ones this share is high: half of them over range, half log-uniform above 10 ohm. */
  highShare: 0.4,
  highFromOhm: 10,
  highToOhm: 1000,
  /** The rest. */
  poorMedianOhm: 0.05,
  poorLnSpread: 1.5,
} as const

/** Both clips on one part, or a neighbour's: the reading shows contact and lead alone. */
export const falseLowRate = 0.01

/** What nulling leaves, with a sign of its own for each nulling: this share of the lead, and this much more. */
export const nulled = { shareFrom: 0.03, shareTo: 0.06, ohmFrom: 0.002, ohmTo: 0.005 } as const

/** A lead in the open warms or cools by up to this many kelvin in an hour. */
export const mostDriftKelvinPerHour = 8

/** Copper at 20 °C. */
export const copper = { resistivityOhmM: 1.724e-8, perKelvin: 0.00393 } as const

/** One person with one lead. */
export const pace = {
  sameReferenceS: 90,
  moveReferenceS: 240,
  nullingS: 60,
  voltsS: 30,
  reseatingS: 120,
  walkMPerS: 1,
} as const

/**
 * What the benchmark takes arrays, crews and leads to be, on top of the generator's contacts and instruments
 * (tests/generator/assumedValues.ts). Judgement; nothing here is read from the program that is tested, and the
 * program reads nothing of it.
 */
export const assumed = {
  /** Chance that nothing is bad; else one, two or three joints are, with equal chances. */
  healthyShare: 0.3,
  mostFaults: 3,
  openShare: 0.5,
  /**
   * This share of the bad joints is drawn among those that carry at least `crossedFrom` of the current of some
   * reading, the rest among all: a choice of the benchmark, so that there is something to find.
   */
  crossedShare: 0.5,
  crossedFrom: 0.5,
  /** A raised joint gains ohms, log-uniform from the larger of its median and the least, up to the most. */
  leastAddedOhm: 0.001,
  mostAddedOhm: 1000,
  /** Frames that a single clamp holds; the others have two to four. */
  oneClampShare: 0.4,
  /** How far the joints of a kind lie from the catalogue as a whole: standard deviation of the ln. */
  kindLevelLnSd: 0.3,
  /** Each place for a bond that nobody drew, and each drawn joint, differs at a rate of up to this. */
  mostAsBuiltRate: 0.02,
  /** A joint of another make: its ohms by a factor anywhere between 1/3 and 3, in the ln. */
  otherMakeFactor: 3,
  /** Two readings after one another are written down each for the other. */
  swappedRate: 0.01,
  /** Per set-up: the lead breaks at one of its readings and shows over range until the set-up is moved. */
  brokenLeadRate: 0.01,
  /** Per set-up: nobody nulls. */
  notNulledRate: 0.08,
  /** Per set-up: nulled over a bad short of so many ohms, which every reading then lacks. */
  overNulledRate: 0.04,
  overNulledFromOhm: 0.02,
  overNulledToOhm: 0.3,
  /** A frame is met on its anodised face rather than through it. */
  coatedFrameRate: 0.15,
  /** What a tester finds odd: so much on the display, or over range; read again with this chance. */
  repeatAboveOhm: 1,
  repeatRate: 0.7,
  /** Chance that a look finds a bad joint, and that a look with a wrench does; a sound one is never taken for bad. */
  look: { findsOpen: 0.8, findsRaised: 0.4 },
  torqueCheck: { findsOpen: 0.95, findsRaised: 0.9 },
} as const

/** Bad joints per kind in a new array: what fault locations are drawn by. */
export const defectRates: Readonly<Record<string, number>> = {
  frameClamp: 0.003,
  frameLink: 0.003,
  splice: 0.002,
  bracket: 0.002,
  jumper: 0.007,
  layInLug: 0.007,
  crimpLug: 0.001,
  rodClamp: 0.005,
  weld: 0.0005,
  wire: 0.0002,
}

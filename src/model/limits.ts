/** Bounds that a site file must keep, checked before anything is expanded. Each says why it is there. */
export const limits = {
  /** Reading and parsing stay within seconds and a few hundred megabytes. */
  fileBytes: 64 * 1024 * 1024,
  /** Beyond this a site is refused; the count is computed before any part or joint exists. */
  joints: 5_000_000,
  /** Frames that nothing bonds are parts without joints, so parts have a bound of their own. */
  parts: 5_000_000,
  /** JSON values and nesting of a file, counted before it is parsed: a site nests some ten deep. */
  fileValues: 8_000_000,
  fileDepth: 64,
  /** Modules high and across in one table: above any table built, low enough to keep the arithmetic exact. */
  modulesHigh: 12,
  modulesAcross: 400,
  longMembers: 32,
  posts: 200,
  rows: 20_000,
  tablesPerRow: 100_000,
  /** Drawn items of one sort (conductors, electrodes, enclosures, joints that differ …). */
  items: 100_000,
  pointsPerPath: 10_000,
  recordEntries: 1_000_000,
  /** A photo as it is kept, made smaller before: some 1600 pixels across show a clamp and its label. */
  photoBytes: 600_000,
  /** A site with its photos as one file: some thousand photos, and what a tablet holds in memory at once. */
  packBytes: 512 * 1024 * 1024,
  packEntries: 5000,
  textLength: 10_000,
  nameLength: 200,
  /** A site is a few kilometres wide; metres beyond this are a mistyped unit. */
  coordinateM: 100_000,
  /** Readings above this are written as over range. */
  readingOhm: 1e9,
} as const

export interface PeerResult {
  readonly peer: string
  readonly unknowns: number
  readonly analyseS: number
  readonly factorS: number
  readonly solveS: number
  /** Resistance between the last unknown and the reference. */
  readonly checkOhm: number
}

/** Reads the JSON line that a peer prints last. Throws where a number is missing or none. */
export function readPeerLine(printed: string): PeerResult {
  const lines = printed.trim().split('\n')
  const said = JSON.parse(lines[lines.length - 1]) as Record<string, unknown>
  const number = (key: string): number => {
    const value = said[key]
    if (typeof value === 'number' && Number.isFinite(value)) return value
    throw new Error(`the peer gives no number for ${key}: ${lines[lines.length - 1]}`)
  }
  return {
    peer: String(said['peer']),
    unknowns: number('n'),
    analyseS: number('analyse_s'),
    factorS: number('factor_s'),
    solveS: number('solve_s'),
    checkOhm: number('check_ohm'),
  }
}

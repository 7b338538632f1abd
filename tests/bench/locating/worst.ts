import { methodNames } from './evaluate.ts'
import type { Row } from './results.ts'

/** Scenarios where the program's log score lies furthest above the best of the others', a line each. */
export function worstLines(rows: readonly Row[], count: number): string[] {
  const others = Object.keys(methodNames).filter((name) => !name.startsWith('engine'))
  const worse = rows
    .map((row) => {
      const best = Math.min(
        ...others.flatMap((name) => (name in row.methods ? [row.methods[name].logScore] : [])),
      )
      return { row, by: row.methods['engine'].logScore - best }
    })
    .sort((a, b) => b.by - a.by)
  return worse.slice(0, count).map(({ row, by }) => {
    const { methods, ...facts } = row
    const scores = Object.entries(methods).map(([name, { logScore }]) => `${name} ${logScore.toFixed(2)}`)
    const { nothing, firstStated, firstSeen } = methods['engine']
    return (
      `${facts.seed} ${facts.family}: ${facts.faults} bad, ${facts.visible} to see; worse by ${by.toFixed(2)}; ` +
      `nothing ${nothing.toFixed(3)}, first ${firstStated.toFixed(3)} ${firstSeen ? 'right' : 'wrong'}; ${scores.join(', ')}`
    )
  })
}

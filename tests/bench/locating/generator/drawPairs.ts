import type { RandomStream } from '../../../../src/base/random.ts'
import { farEnd, nearEnd, type Shape } from './drawDrawing.ts'
import type { Family } from './families.ts'

/** Two points; pairs after one another with the same first point share a set-up. */
export interface Pair {
  readonly from: string
  readonly to: string
}

/** A first test: from the bar to every row, then along each row from its middle, to members and frames by lot. */
export function drawPairs({ tie }: Family, shape: Shape, random: RandomStream): Pair[] {
  const { rows, tables, across, high } = shape
  const frame = () => `F${1 + random.integer(high)}.${1 + random.integer(across)}`
  const rowNumbers = Array.from({ length: rows }, (_, r) => r + 1)
  const fromBar = ['E1', ...rowNumbers.map(nearEnd)]
  if (tie !== 'oneEnd') fromBar.push(...rowNumbers.map((row) => farEnd(row, shape)))
  const middle = Math.ceil(tables / 2)
  const alongRows = rowNumbers.flatMap((row) => {
    const from = `R${row}/T${middle}/L1.${1 + Math.floor(across / 2)}`
    return Array.from({ length: tables }, (_, t) => t + 1).flatMap((table) => {
      const frames = [frame(), frame(), frame()]
      const member = table === middle ? [] : [`L1.${table < middle ? 1 : across + 1}`]
      return [...new Set([...member, ...frames])].map((part) => ({ from, to: `R${row}/T${table}/${part}` }))
    })
  })
  return [...fromBar.map((to) => ({ from: 'B1', to })), ...alongRows]
}

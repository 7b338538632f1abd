import type { Palette } from './palette.ts'

/** Volts from which on a part or a lost joint takes the next colour: the same for every fault, so that two can be compared. */
export const voltSteps = [1, 10, 50, 120, 500] as const

export const voltInks = [
  'volt1',
  'volt2',
  'volt3',
  'volt4',
  'volt5',
] as const satisfies readonly (keyof Palette)[]

/** The same steps for the ground: greys, so that they are not taken for those of the parts above it. */
export const groundInks = [
  'ground1',
  'ground2',
  'ground3',
  'ground4',
  'ground5',
] as const satisfies readonly (keyof Palette)[]

/** 0 below the first step, else how many steps are reached. */
export function voltClass(volt: number): number {
  const size = Math.abs(volt)
  let reached = 0
  while (reached < voltSteps.length && size >= voltSteps[reached]) reached++
  return reached
}

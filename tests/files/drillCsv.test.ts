import { expect, it } from 'vitest'
import { drillCsv } from '../../src/files/drillCsv.ts'
import type { DrillSheet } from '../../src/model/drill.ts'

const sheet: DrillSheet = {
  at: '2026-05-12T09:00:00Z',
  site: 'Larkmoor Field, north',
  trainee: '=HYPERLINK("x")',
  trainer: '@Trainer',
  seed: 7,
  by: 'seed',
  kit: '+tester',
  isFound: true,
  joint: '-jumper',
  readings: 4,
  minutes: 12.5,
  wrongCalls: 1,
  badTests: 0,
  asked: { suspects: 2, next: null },
  points: 75,
}

it('no name becomes a formula, numbers stay numbers, one line a drill', () => {
  const [head, line, end] = drillCsv([sheet]).split('\r\n')
  expect(head.split(',')).toHaveLength(16)
  expect(line).toBe(
    `2026-05-12T09:00:00Z,"Larkmoor Field, north","'=HYPERLINK(""x"")",'@Trainer,7,seed,'+tester,true,'-jumper,4,12.5,1,0,2,,75`,
  )
  expect(end).toBe('')
  expect(drillCsv([])).toBe(`${head}\r\n`)
})

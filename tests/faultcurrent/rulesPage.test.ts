import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { bodyCurves } from '../../src/faultcurrent/body/bodyTables.ts'
import { en50522Volts } from '../../src/faultcurrent/body/en50522.ts'
import { fuseGates } from '../../src/faultcurrent/devices/fuseGates.ts'
import { faultRules, type RuleSource } from '../../src/model/faultRules.ts'
import { sureNames } from '../../src/text/criteriaText.ts'

const page = readFileSync(new URL('../../docs/fault-rules.md', import.meta.url), 'utf8')

/** Cells of every row of every table of the page. */
const rows = page
  .split('\n')
  .filter((line) => line.startsWith('|'))
  .map((line) =>
    line
      .split('|')
      .slice(1, -1)
      .map((cell) => cell.trim()),
  )

describe('the page of rules', () => {
  it('has the source, edition, clause and sureness of every rule', () => {
    const listed = rows.filter(([first]) => /^`\w+`$/.test(first))
    const expected = Object.entries<RuleSource>(faultRules).map(
      ([rule, { source, edition, clause, sureness }]) => [
        `\`${rule}\``,
        source,
        edition || '–',
        clause || '–',
        sureNames[sureness],
      ],
    )
    expect(listed).toEqual(expected)
  })

  it('has every row of the body’s tables', () => {
    const { dryAlternating, wetAlternating, dryDirect } = bodyCurves
    const cell = (curves: typeof dryAlternating, i: number) =>
      [curves[5], curves[50], curves[95]].map((curve) => curve[i][1]).join(' / ')
    dryAlternating[50].forEach(([volt], i) => {
      expect(rows).toContainEqual([
        String(volt),
        cell(dryAlternating, i),
        cell(wetAlternating, i),
        cell(dryDirect, i),
      ])
    })
  })

  it('has the gates of every gG link, and the volts of both editions of EN 50522', () => {
    for (const [ratedA, gates] of fuseGates)
      expect(rows).toContainEqual([ratedA, ...(Object.values(gates) as number[])].map(String))
    for (const edition of [2010, 2022] as const)
      expect(page).toContain(`${en50522Volts[edition].map(([, volt]) => volt).join(', ')} V`)
  })
})

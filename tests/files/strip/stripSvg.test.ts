import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { layLabels } from '../../../src/files/strip/layLabels.ts'
import { layStrip } from '../../../src/files/strip/layStrip.ts'
import { stripSvg } from '../../../src/files/strip/stripSvg.ts'
import type { ComparedReading, ComparisonGroup } from '../../../src/model/comparison.ts'

const reading = (k: number, readOhm: number | null, standing: ComparedReading['standing'] = 'alike') =>
  ({
    entry: `entry ${k}`,
    readOhm,
    atLeastOhm: 200,
    ratio: (readOhm ?? 200) / 0.02,
    standing,
  }) as ComparedReading

function groupOf(
  readings: readonly ComparedReading[],
  levels: Partial<Pick<ComparisonGroup, 'investigate' | 'reject'>> = {},
): ComparisonGroup {
  return { readings, middleOhm: 0.02, investigate: null, reject: null, ...levels } as ComparisonGroup
}

const numberOf = (entry: string) => Number(entry.split(' ')[1])
const draw = (group: ComparisonGroup) => stripSvg(group, { widthPx: 700, numberOf })
const textsOf = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text]) => text)

describe('names beside a plot', () => {
  const label = fc.record({
    x: fc.double({ min: 0, max: 500, noNaN: true }),
    text: fc.string({ maxLength: 30 }),
  })

  it('never lie over each other, and no line of one crosses another', () => {
    fc.assert(
      fc.property(fc.array(label, { maxLength: 14 }), (labels) => {
        const laid = layLabels(labels, 700, 11)
        expect(laid).toHaveLength(labels.length)
        const endOf = ({ x, text }: { x: number; text: string }) =>
          Math.min(700, x + 6 + text.length * 11 * 0.58)
        for (const [k, one] of laid.entries())
          for (const other of laid.slice(k + 1)) {
            const [low, high] = one.lane < other.lane ? [one, other] : [other, one]
            if (low.lane === high.lane)
              expect(low.label.x >= endOf(high.label) || high.label.x >= endOf(low.label)).toBe(true)
            else expect(high.label.x > low.label.x && high.label.x < endOf(low.label)).toBe(false)
          }
      }),
    )
  })
})

describe('a plot on paper', () => {
  it('names what stands out with its number and value, the levels and the middle, and no reading that is like its peers', () => {
    const group = groupOf(
      [reading(1, 0.018), reading(2, 0.022), reading(3, 0.35, 'high'), reading(4, null, 'watch')],
      {
        investigate: { lowOhm: 0.1, highOhm: 0.1 },
        reject: { lowOhm: 1, highOhm: 1.2 },
      },
    )
    const texts = textsOf(draw(group))
    expect(texts).toEqual(
      expect.arrayContaining([
        'No. 3: 350 mΩ',
        'No. 4: over range (more than 200 Ω)',
        'investigate above 100 mΩ',
        'reject above 1 Ω to 1.2 Ω',
        'middle 20 mΩ',
      ]),
    )
    expect(texts.join(' ')).not.toMatch(/No\. [12]:/)
  })

  it('has one mark for every reading, and each standing has a shape of its own', () => {
    const readings = [
      reading(1, 0.018),
      reading(2, 0.03, 'watch'),
      reading(3, 0.35, 'high'),
      reading(4, null),
    ]
    const svg = draw(groupOf(readings))
    expect(svg.match(/<path /g)).toHaveLength(readings.length)
    const { marks } = layStrip(groupOf(readings), 510, 92)
    expect(marks.map(({ shape }) => shape)).toEqual(['dot', 'diamond', 'triangle', 'arrow'])
  })

  it('is in black, white and grey alone', () => {
    const svg = draw(
      groupOf([reading(1, 0.018), reading(2, 0.35, 'high')], { investigate: { lowOhm: 0.1, highOhm: 0.1 } }),
    )
    for (const [, ink] of svg.matchAll(/#([0-9a-f]{3})\b/g)) expect(new Set(ink).size).toBe(1)
  })

  it('takes readings of nothing and groups of nothing but zeros', () => {
    for (const ohms of [
      [0, 0, 0],
      [0, 0.02, 0.03],
    ]) {
      const svg = draw({ ...groupOf(ohms.map((ohm, k) => reading(k + 1, ohm))), middleOhm: ohms[1] })
      expect(svg).not.toMatch(/NaN|Infinity|undefined/)
      expect(svg.match(/<path /g)).toHaveLength(3)
    }
  })

  it('puts higher ohms further to the right, by the ratio', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-5, max: 100, noNaN: true }),
        fc.double({ min: 1.3, max: 50, noNaN: true }),
        (ohm, times) => {
          const { ticks, marks } = layStrip(groupOf([reading(1, ohm), reading(2, ohm * times)]), 500, 92)
          expect(marks[0].x).toBeLessThanOrEqual(marks[1].x)
          expect(ticks.every(({ x }) => x >= 0 && x <= 500)).toBe(true)
        },
      ),
    )
  })
})

import { describe, expect, it } from 'vitest'
import { buildGeometry } from '../../src/canvas/geometry.ts'
import { legendOf } from '../../src/canvas/legend.ts'
import type { LegendKey } from '../../src/canvas/legendTypes.ts'
import { levels, type Level } from '../../src/canvas/lod.ts'
import type { BasePaint } from '../../src/canvas/basePaint.ts'
import { palettes, suspectColour } from '../../src/canvas/palette.ts'
import { drawingOf, indexOf } from '../layout/smallDrawings.ts'
import { demoIndex } from './demoIndex.ts'

const bare: BasePaint = { palette: palettes.dark, marks: { suspects: [], currentPerAmpere: null } }
const field = buildGeometry(demoIndex('field'))
const keysOf = (level: Level, paint = bare, geometry = field): LegendKey[] =>
  legendOf(level, paint, geometry).map(({ key }) => key)

describe('the legend', () => {
  it('names what each level shows, and nothing it does not', () => {
    const always: LegendKey[] = ['conductor', 'enclosure', 'earthBar', 'rod']
    expect(keysOf('tables')).toEqual(['aisle', 'table', ...always])
    expect(keysOf('frames')).toEqual(['aisle', 'module', ...always])
    const [conductor, ...symbols] = always
    const members: LegendKey[] = ['aisle', 'module', 'longMember', 'crossMember', 'post']
    expect(keysOf('members')).toEqual([...members, 'jumper', conductor, 'conductorEnd', ...symbols])
    expect(keysOf('joints')).toEqual([
      ...members,
      'joint',
      'splice',
      'jumper',
      conductor,
      'conductorEnd',
      ...symbols,
    ])
  })

  it('leaves out what the site has not', () => {
    const roof = buildGeometry(demoIndex('roof'))
    expect(keysOf('joints', bare, roof)).not.toContain('post')
    expect(keysOf('joints', bare, roof)).not.toContain('crossMember')
    const empty = buildGeometry(indexOf(drawingOf({})))
    for (const level of levels) expect(keysOf(level, bare, empty)).toEqual([])
  })

  it('draws what is alike in colour unlike in form, and a missing joint as a cross', () => {
    const entries = legendOf('joints', bare, { ...field, missingJoints: Int32Array.of(7) })
    const lineOf = (key: LegendKey) => {
      const { swatch } = entries.find((entry) => entry.key === key)!
      return swatch.shape === 'line' ? { ...swatch, colour: '', rim: null, widthPx: 0 } : null
    }
    expect(lineOf('jumper')).not.toEqual(lineOf('conductor'))
    expect(lineOf('longMember')).not.toEqual(lineOf('crossMember'))
    expect(lineOf('jumper')).toMatchObject({ isDouble: true })
    expect(lineOf('crossMember')).toMatchObject({ isDashed: true })
    expect(entries.find(({ key }) => key === 'missingJoint')?.swatch.shape).toBe('cross')
    expect(keysOf('joints')).not.toContain('missingJoint')
  })

  it('shows degrees of suspicion and current as they are painted', () => {
    const marks = {
      suspects: [{ joint: 0, probability: 0.3, rank: 1, isPicked: false }],
      currentPerAmpere: new Float32Array(1),
    }
    const entries = legendOf('tables', { ...bare, marks }, field)
    const suspect = entries.find(({ key }) => key === 'suspect')!
    for (const { value, swatch } of suspect.steps) {
      expect(swatch).toMatchObject({ shape: 'dot', colour: suspectColour(palettes.dark, value) })
    }
    const sizes = suspect.steps.map(({ swatch }) => (swatch.shape === 'dot' ? swatch.sizePx : 0))
    expect(sizes).toEqual([...sizes].sort((a, b) => a - b))
    const current = entries.find(({ key }) => key === 'current')!
    expect(current.scale).toEqual({ form: 'squareRoot', leastShown: 0.005 })
    expect(current.steps.map(({ swatch }) => (swatch.shape === 'line' ? swatch.widthPx : 0))).toEqual([
      1 + 6 * Math.sqrt(0.01),
      1 + 6 * Math.sqrt(0.1),
      1 + 6 * Math.sqrt(0.5),
      7,
    ])
  })
})

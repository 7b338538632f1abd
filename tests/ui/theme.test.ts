import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

const css = readFileSync(fileURLToPath(new URL('../../src/app/theme.css', import.meta.url)), 'utf8')

/** The custom properties of a rule of theme.css; the rule is found by the text before its brace. */
function propertiesOf(selector: string): Map<string, string> {
  const start = css.indexOf(`${selector} {`)
  expect(start, selector).toBeGreaterThanOrEqual(0)
  const body = css.slice(start, css.indexOf('}', start))
  return new Map([...body.matchAll(/(--[\w-]+):\s*([^;]+);/g)].map(([, name, value]) => [name, value]))
}

const base = propertiesOf(':root')
const sunlight = propertiesOf(":root[data-theme='sunlight']")

/** #rrggbb of a property in a theme. */
function colourOf(theme: 'light' | 'dark' | 'sunlight', name: string): string {
  const value = (theme === 'sunlight' ? sunlight.get(name) : undefined) ?? base.get(name) ?? ''
  const pair = /^light-dark\((#[\da-f]+), (#[\da-f]+)\)$/.exec(value)
  const colour = pair ? pair[theme === 'dark' ? 2 : 1] : value
  expect(colour, `${name} in ${theme}`).toMatch(/^#[\da-f]{6}$/)
  return colour
}

/** Relative luminance and contrast ratio as WCAG 2.2 defines them. */
function luminance(colour: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const c = Number.parseInt(colour.slice(at, at + 2), 16) / 255
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}

function contrast(a: string, b: string): number {
  const [dark, bright] = [luminance(a), luminance(b)].sort((x, y) => x - y)
  return (bright + 0.05) / (dark + 0.05)
}

const grounds = ['--ground', '--surface', '--surface-raised', '--hover', '--chosen']
const textPairs: [string, string][] = [
  ...grounds.flatMap((ground): [string, string][] => [
    ['--ink', ground],
    ['--ink-soft', ground],
    ['--accent', ground],
  ]),
  ...grounds.slice(0, 4).map((ground): [string, string] => ['--warm', ground]),
  ['--warm', '--warm-soft'],
  ['--ink', '--warm-soft'],
  ['--accent-ink', '--accent'],
  ['--warm-ink', '--warm'],
  ['--caution-ink', '--caution'],
  ['--ground', '--ink'],
]
const shapePairs: [string, string][] = [
  ...[...grounds, '--caution', '--warm-soft'].map((ground): [string, string] => ['--focus', ground]),
  ...grounds.slice(0, 4).map((ground): [string, string] => ['--line-strong', ground]),
]

describe.each(['light', 'dark', 'sunlight'] as const)('contrast, %s', (theme) => {
  const least = theme === 'sunlight' ? 7 : 4.5

  it.each(textPairs)('%s on %s can be read', (ink, ground) => {
    expect(contrast(colourOf(theme, ink), colourOf(theme, ground))).toBeGreaterThanOrEqual(least)
  })

  it.each(shapePairs)('%s on %s can be seen', (line, ground) => {
    expect(contrast(colourOf(theme, line), colourOf(theme, ground))).toBeGreaterThanOrEqual(3)
  })
})

describe('themes', () => {
  it('the measure of contrast is right at its ends', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6)
    expect(contrast('#777777', '#777777')).toBe(1)
    expect(contrast('#767676', '#ffffff')).toBeGreaterThan(4.5)
    expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5)
  })

  it('sunlight and forced colours each give every colour anew', () => {
    const colours = [...base].filter(([, value]) => value.startsWith('light-dark(')).map(([name]) => name)
    expect(colours.length).toBeGreaterThan(15)
    const forced = propertiesOf('  :root[data-theme]')
    expect(colours.filter((name) => !sunlight.has(name))).toEqual([])
    expect(colours.filter((name) => !forced.has(name))).toEqual([])
    expect([...forced.values()].join()).not.toMatch(/#|light-dark/)
  })

  it('only suspicion is warm', () => {
    for (const theme of ['light', 'dark', 'sunlight'] as const)
      for (const name of base.keys()) {
        if (!base.get(name)?.startsWith('light-dark(#') || name.startsWith('--warm') || name === '--shade')
          continue
        const [r, , b] = [1, 3, 5].map((at) => Number.parseInt(colourOf(theme, name).slice(at, at + 2), 16))
        expect(r - b, `${name} in ${theme}`).toBeLessThan(20)
      }
  })
})

import { calibrationOf, methodFigures } from './figures.ts'
import { contactFactors } from './generator/families.ts'
import { figureText, shareText, table } from './markdown.ts'
import type { Row } from './results.ts'

type Part = readonly [name: string, rows: readonly Row[]]

/** Thirds of the scenarios by how far the catalogue is off, either way. */
function byCatalogueError(rows: readonly Row[]): Part[] {
  const off = ({ catalogueLnError: ln }: Row) => Math.abs(ln)
  const sorted = rows.toSorted((a, b) => off(a) - off(b))
  const factor = (row: Row) => Math.exp(off(row)).toFixed(2)
  return [0, 1, 2].flatMap((third): Part[] => {
    const part = sorted.slice(
      Math.floor((third * sorted.length) / 3),
      Math.floor(((third + 1) * sorted.length) / 3),
    )
    if (part.length === 0) return []
    return [[`catalogue off by a factor of ${factor(part[0])} to ${factor(part[part.length - 1])}`, part]]
  })
}

function conditionTable(parts: readonly Part[]): string {
  const lines = parts
    .filter(([, part]) => part.length > 0)
    .map(([name, part]) => {
      const f = methodFigures(part, 'engine')
      return [
        name,
        String(f.scenarios),
        shareText(f.first),
        shareText(f.healthy),
        figureText(f.logScore),
        figureText(methodFigures(part, 'gaussian').logScore),
        figureText(calibrationOf(part, 'engine'), 3),
      ]
    })
  return table(
    [
      'condition',
      'scenarios',
      'first group',
      'nothing to see, called sound',
      'log score',
      'independent Gaussian Bayes’ log score',
      'calibration error',
    ],
    lines,
  )
}

/** What the program does under which conditions; contacts by the families that are there for them. */
export function conditionsReport(rows: readonly Row[], contactRows: readonly Row[]): Record<string, string> {
  if (rows.length === 0) return {}
  const kits = [...new Set(rows.map(({ kit }) => kit))].sort()
  const parts: Part[] = [
    ...[1, 2, 3, 4].map((c): Part => [`${c} clamps a frame`, rows.filter((r) => r.clampsPerFrame === c)]),
    ['posts in soil', rows.filter((r) => r.inSoil)],
    ['no soil but the rod', rows.filter((r) => !r.inSoil)],
    ...[0, 1, 2, 3].map((v): Part => [`${v} bad joints to see`, rows.filter((r) => r.visible === v)]),
    ...kits.map((kit): Part => [`kit ${kit}`, rows.filter((r) => r.kit === kit)]),
    ...byCatalogueError(rows),
  ]
  const contacts = contactFactors.map((factor): Part => {
    const part = contactRows.filter(({ contactFactor }) => contactFactor === factor)
    return [factor === 1 ? 'poor contacts as frequent as assumed' : `poor contacts × ${factor}`, part]
  })
  const conditions = conditionTable(parts)
  return contactRows.length === 0 ? { conditions } : { conditions, contacts: conditionTable(contacts) }
}

import { uuid } from '../../model/exampleSite.ts'
import { newSite } from '../../../src/model/newSite.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { rowOf, typeOf } from '../../layout/smallDrawings.ts'

/** A new site with the plain table type (3.4 m along, 2 m up) and what is given. */
export function siteWith(drawn: Partial<Drawing> = {}): Site {
  const site = newSite({ id: uuid(1), revision: uuid(2), name: 'test', units: 'metric' })
  return { ...site, drawing: { ...site.drawing, tableTypes: [typeOf({})], ...drawn } }
}

/**
 * Two rows of three tables eastwards (10.8 m long, 2 m up), 6 m apart; an enclosure, a bar, a rod, and a conductor from
 * bar to rod by a bend.
 */
export function smallSite(): Site {
  const runs = [{ firstTable: 1, count: 3, type: 'plain' }]
  const rods = { form: 'rod', lengthM: 2, diameterM: 0.02, measuredOhm: null } as const
  const site = siteWith({
    rows: [
      rowOf({ id: 1, label: 'Row 1', runs, nextTable: 4 }),
      rowOf({ id: 2, label: 'Row 2', runs, nextTable: 4, originM: { x: 0, y: 6 } }),
    ],
    enclosures: [{ id: 1, label: 'Box 1', atM: { x: 20, y: 1 }, widthM: 2, depthM: 1, bearingDeg: 0 }],
    earthBars: [{ id: 1, label: '', atM: { x: 20, y: -5 } }],
    electrodes: [{ id: 1, label: 'G 1', ...rods, atM: { x: 30, y: -5 } }],
    conductors: [
      {
        id: 1,
        label: '',
        material: 'copper',
        areaMm2: 16,
        size: null,
        closed: false,
        points: [
          { id: 1, atM: { x: 20, y: -5 }, landing: { part: 'B1', kind: 'crimpLug' } },
          { id: 2, atM: { x: 25, y: -8 }, landing: null },
          { id: 3, atM: { x: 30, y: -5 }, landing: { part: 'G1', kind: 'rodClamp' } },
        ],
        nextPoint: 4,
        lengthM: null,
      },
    ],
    aisles: [
      {
        id: 1,
        pathM: [
          { x: -5, y: 4 },
          { x: 40, y: 4 },
        ],
      },
    ],
    obstacles: [
      {
        id: 1,
        name: 'Shed',
        outlineM: [
          { x: 40, y: 10 },
          { x: 44, y: 10 },
          { x: 44, y: 13 },
        ],
      },
    ],
  })
  const nextIds = {
    ...site.drawing.nextIds,
    row: 3,
    enclosure: 2,
    earthBar: 2,
    electrode: 2,
    conductor: 2,
    aisle: 2,
    obstacle: 2,
  }
  return { ...site, drawing: { ...site.drawing, nextIds } }
}

import type { DrawnItem } from '../../model/drawnItem.ts'
import { removeConductor, canRemoveConductor } from '../../model/edits/conductors.ts'
import type { Edit } from '../../model/edits/edit.ts'
import {
  canRemoveEarthBar,
  canRemoveElectrode,
  canRemoveEnclosure,
  removeEarthBar,
  removeElectrode,
  removeEnclosure,
} from '../../model/edits/equipment.ts'
import { canRemoveRows, removeRows } from '../../model/edits/rows.ts'
import {
  canRemoveAisle,
  canRemoveObstacle,
  removeAisle,
  removeObstacle,
} from '../../model/edits/surroundings.ts'
import type { Problem } from '../../model/problem.ts'
import type { Site } from '../../model/schema/site.ts'
import { removalLabel } from '../../text/formText.ts'
import type { NameBook } from '../../text/places.ts'
import type { Change } from './change.ts'

type OneRemoval = readonly [can: (site: Site) => true | Problem, edit: Edit]

/** One after the other, as one step: it can be made when each can, in the site that those before have left. */
export function removalOf(book: NameBook, items: readonly DrawnItem[]): Change {
  const steps = items.map(oneRemoval)
  return {
    label: removalLabel(book, items),
    edit: (site) => steps.reduce((left, [, edit]) => edit(left), site),
    can: (site) => {
      let left = site
      for (const [can, edit] of steps) {
        const able = can(left)
        if (able !== true) return able
        left = edit(left)
      }
      return true
    },
  }
}

function oneRemoval({ sort, id }: DrawnItem): OneRemoval {
  switch (sort) {
    case 'row':
      return [(site) => canRemoveRows(site, { rows: [id] }), removeRows({ rows: [id] })]
    case 'enclosure':
      return [(site) => canRemoveEnclosure(site, { id }), removeEnclosure({ id })]
    case 'earthBar':
      return [(site) => canRemoveEarthBar(site, { id }), removeEarthBar({ id })]
    case 'electrode':
      return [(site) => canRemoveElectrode(site, { id }), removeElectrode({ id })]
    case 'conductor':
      return [(site) => canRemoveConductor(site, { id }), removeConductor({ id })]
    case 'aisle':
      return [(site) => canRemoveAisle(site, { id }), removeAisle({ id })]
    case 'obstacle':
      return [(site) => canRemoveObstacle(site, { id }), removeObstacle({ id })]
  }
}

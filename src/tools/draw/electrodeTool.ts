import { addElectrode } from '../../model/edits/equipment.ts'
import type { DrawContext, DrawDone } from './drawTool.ts'
import { nextLabel } from './nextLabel.ts'
import type { PathPoint, PathRules } from './pathMachine.ts'
import { pathTool } from './pathTool.ts'

const single: PathRules = { least: 1, most: 1, closes: false, lands: false }
const strip: PathRules = { least: 2, most: null, closes: false, lands: false }
const ring: PathRules = { least: 3, most: null, closes: true, lands: false }

/** A rod or a plate by one tap; a strip point by point; a ring is a strip that comes back to its first point. */
export const electrodeTool = pathTool(({ making }) => {
  if (making.electrode === 'ring') return ring
  return making.electrode === 'strip' ? strip : single
}, drawn)

function drawn(points: readonly PathPoint[], { drawing, making }: DrawContext): DrawDone {
  const label = nextLabel(drawing.electrodes.map((electrode) => electrode.label))
  const base = { label, measuredOhm: null }
  const pathM = points.map(({ atM }) => atM)
  const electrode = () => {
    switch (making.electrode) {
      case 'rod':
        return addElectrode({ ...base, form: 'rod', atM: pathM[0], ...making.rod })
      case 'plate':
        return addElectrode({ ...base, form: 'plate', atM: pathM[0], ...making.plate })
      case 'strip':
      case 'ring': {
        const closed = making.electrode === 'ring'
        return addElectrode({ ...base, form: 'strip', pathM, closed, ...making.strip })
      }
    }
  }
  return { kind: 'edit', edit: electrode(), what: { deed: 'drawItem', sort: 'electrode' }, choose: 'added' }
}

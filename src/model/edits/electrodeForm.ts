import { byId } from '../queries/byId.ts'
import type { Electrode } from '../schema/equipment.ts'
import type { PointM } from '../schema/primitives.ts'
import { asEdit, commitDrawing, notThere } from './edit.ts'

type OfForm<F extends Electrode['form']> = Omit<
  Extract<Electrode, { form: F }>,
  'id' | 'label' | 'measuredOhm'
>

/** What makes an electrode one of its form: its sizes and where it lies. */
export type ElectrodeShape = OfForm<'rod'> | OfForm<'plate'> | OfForm<'strip'>

export interface ReshapeElectrode {
  readonly id: number
  readonly shape: ElectrodeShape
}

/** Makes an electrode one of another form. Its id, label and measured ohms stay, and what lands on it. */
export const { can: canReshapeElectrode, edit: reshapeElectrode } = asEdit<ReshapeElectrode>(
  (site, { id, shape }) => {
    const old = byId(site.drawing.electrodes).get(id)
    if (!old) return notThere('electrode', id)
    const { label, measuredOhm } = old
    const electrode: Electrode = { id, label, measuredOhm, ...shape }
    const electrodes = site.drawing.electrodes.map((each) => (each === old ? electrode : each))
    return commitDrawing(site, { electrodes })
  },
)

export const electrodeForms = ['rod', 'plate', 'strip', 'ring'] as const
/** What an electrode is called by its form; a ring is a strip that comes back to its beginning. */
export type ElectrodeForm = (typeof electrodeForms)[number]

export function formOfElectrode(electrode: Electrode): ElectrodeForm {
  return electrode.form === 'strip' && electrode.closed ? 'ring' : electrode.form
}

/** Sizes that a new form begins with where the old one has none: common practice, meant to be changed. */
const first = { rodM: 2.4, rodDiameterM: 0.016, plateM2: 0.5, depthM: 0.8, stripDiameterM: 0.01, stripM: 5 }

/** The same electrode in another form: it stays where it begins, and keeps the sizes that both forms have. */
export function shapeAs(electrode: Electrode, form: ElectrodeForm): ElectrodeShape {
  const atM = electrode.form === 'strip' ? electrode.pathM[0] : electrode.atM
  const depthM = electrode.form === 'rod' ? first.depthM : electrode.depthM
  switch (form) {
    case 'rod':
      return { form, atM, lengthM: first.rodM, diameterM: first.rodDiameterM }
    case 'plate':
      return { form, atM, areaM2: first.plateM2, depthM }
    case 'strip':
    case 'ring': {
      const closed = form === 'ring'
      const diameterM = electrode.form === 'strip' ? electrode.diameterM : first.stripDiameterM
      const pathM = electrode.form === 'strip' ? electrode.pathM : firstPath(atM, closed)
      return { form: 'strip', pathM, closed, diameterM, depthM }
    }
  }
}

function firstPath({ x, y }: PointM, isClosed: boolean): readonly PointM[] {
  const { stripM } = first
  const line = [
    { x, y },
    { x: x + stripM, y },
  ]
  return isClosed ? [...line, { x: x + stripM, y: y + stripM }, { x, y: y + stripM }] : line
}

/** The sizes of an electrode with some of them changed; its form stays. */
export function withSizes(electrode: Electrode, changes: Partial<ElectrodeShape>): ElectrodeShape {
  const { id: _id, label: _label, measuredOhm: _measuredOhm, ...shape } = electrode
  return { ...shape, ...changes } as ElectrodeShape
}

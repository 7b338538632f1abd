import { describe, expect, it } from 'vitest'
import {
  canReshapeElectrode,
  electrodeForms,
  formOfElectrode,
  reshapeElectrode,
  shapeAs,
} from '../../../src/model/edits/electrodeForm.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { exampleSite } from '../exampleSite.ts'

const site = deepFreeze(exampleSite())

describe('reshapeElectrode', () => {
  it('makes every electrode one of every form; id, label and ohms stay, and so does where it begins', () => {
    for (const electrode of site.drawing.electrodes) {
      for (const form of electrodeForms) {
        const args = { id: electrode.id, shape: shapeAs(electrode, form) }
        expect(canReshapeElectrode(site, args)).toBe(true)
        const made = reshapeElectrode(args)(site).drawing.electrodes.find(({ id }) => id === electrode.id)!
        expect(formOfElectrode(made)).toBe(form)
        const { label, measuredOhm } = electrode
        expect(made).toMatchObject({ label, measuredOhm })
        const begins = (each: typeof made) => (each.form === 'strip' ? each.pathM[0] : each.atM)
        expect(begins(made)).toEqual(begins(electrode))
      }
    }
  })

  it('keeps the path and thickness of a strip that becomes a ring, and the depth of a plate that becomes a strip', () => {
    const [, plate, ring] = site.drawing.electrodes
    expect(shapeAs(ring, 'strip')).toMatchObject({ pathM: 'pathM' in ring && ring.pathM, diameterM: 0.01 })
    expect(shapeAs(plate, 'strip')).toMatchObject({ depthM: 1 })
  })

  it('refuses sizes that a file could not hold, and one that is not there', () => {
    const shape = { form: 'rod', atM: { x: 0, y: 0 }, lengthM: -1, diameterM: 0.016 } as const
    expect(canReshapeElectrode(site, { id: 1, shape })).toMatchObject({ code: 'value.outOfRange' })
    expect(reshapeElectrode({ id: 1, shape })(site)).toBe(site)
    expect(canReshapeElectrode(site, { id: 9, shape })).toMatchObject({ code: 'edit.notThere' })
  })
})

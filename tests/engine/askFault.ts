import type { FaultDrive, FaultInput } from '../../src/model/faultAnswers.ts'
import { finish } from '../../src/engine/progress.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { jointIndexOf } from '../../src/layout/jointIndex.ts'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { parseJointAddress, parsePartAddress } from '../../src/model/address.ts'
import { smallSite } from './smallSite.ts'

export const site = smallSite()
const made = indexSite(site.drawing)
if (!made.ok) throw new Error('the site can be indexed')
const index = made.value
export const jointNumber = (text: string) => jointIndexOf(index, parseJointAddress(text)!)
export const partNumber = (text: string) => partIndexOf(index, parsePartAddress(text)!)

export const ac: Extract<FaultDrive, { form: 'ac' }> = {
  form: 'ac',
  source: {
    id: 'mains',
    form: 'ac',
    name: 'Mains',
    phaseV: 230,
    frequencyHz: 50,
    sourceOhm: 0.4,
    returnPart: 'E1',
  },
  conductorOhm: 0.25,
}
export const asked: FaultInput = {
  countIncidental: true,
  asBuilt: false,
  at: 'E3',
  drive: ac,
  altered: [],
  person: null,
}

export function ask(input: Partial<FaultInput>, cache = emptySiteCache()) {
  const result = finish(run('faultCurrent', { ...asked, ...input }, site, cache))
  if (!result.ok) throw new Error(JSON.stringify(result.error))
  return result.value
}

export function problemsOf(input: Partial<FaultInput>) {
  const result = finish(run('faultCurrent', { ...asked, ...input }, site, emptySiteCache()))
  return result.ok ? [] : result.error.map(({ code, facts }) => ({ code, facts }))
}

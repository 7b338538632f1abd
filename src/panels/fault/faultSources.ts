import {
  addDevice,
  addSource,
  canAddDevice,
  canAddSource,
  canChangeDevice,
  canChangeSource,
  canRemoveDevice,
  canRemoveSource,
  changeDevice,
  changeSource,
  removeDevice,
  removeSource,
} from '../../model/edits/faults.ts'
import type { Edit } from '../../model/edits/edit.ts'
import { freeSlug } from '../../model/freeSlug.ts'
import type { FaultSource, ProtectiveDevice } from '../../model/schema/faults.ts'
import type { Site } from '../../model/schema/site.ts'
import type { AppState } from '../../state/appState.ts'
import { sourceTexts } from '../../text/faultSourceText.ts'
import { changeOf, makeChange, type Change } from '../draw/change.ts'

/** A source to begin with; its figures are those of a common string and of a common low-voltage supply. */
export function starterSource(site: Site, form: FaultSource['form']): FaultSource {
  const { sources } = site.drawing
  const taken = sources.map(({ id }) => id)
  const name = freeName(
    form === 'ac' ? sourceTexts.acName : sourceTexts.pvName,
    sources.map((source) => source.name),
  )
  const id = freeSlug(name, 'source', taken)
  if (form === 'ac') {
    return { id, form, name, phaseV: 230, frequencyHz: 50, sourceOhm: 0.2, returnPart: null }
  }
  return {
    id,
    form,
    name,
    openCircuitV: 900,
    shortCircuitA: 14,
    modulesInSeries: 20,
    stringsInParallel: 8,
    referencing: 'transformerless',
  }
}

function starterDevice(site: Site, source: FaultSource | null): ProtectiveDevice {
  const { devices } = site.drawing
  const name = freeName(
    sourceTexts.deviceName,
    devices.map((device) => device.name),
  )
  const id = freeSlug(
    name,
    'device',
    devices.map((device) => device.id),
  )
  const protects = source?.id ?? null
  const [characteristic, ratedA] = source?.form === 'ac' ? ['gG', 32] : ['gPV', 20]
  return { id, name, form: 'fuse', characteristic, ratedA, protects, note: '' }
}

function freeName(name: string, taken: readonly string[]): string {
  if (!taken.includes(name)) return name
  for (let n = 2; ; n++) if (!taken.includes(`${name} ${n}`)) return `${name} ${n}`
}

/** A device of its own comes with it: without any, nothing would ever notice or end its fault. */
export function addStarter(app: AppState, form: FaultSource['form']): string | null {
  const { site } = app.session
  if (!site) return null
  const source = starterSource(site, form)
  const first: Edit = addSource(source)
  const device = starterDevice(site, source)
  const change: Change = {
    can: (before) => {
      const can = canAddSource(before, source)
      return can === true ? canAddDevice(first(before), device) : can
    },
    edit: (before) => addDevice(device)(first(before)),
    label: sourceTexts.addSource(source.name),
  }
  const trouble = makeChange(app, change)
  if (trouble === null) app.faultDesk.set({ source: source.id })
  return trouble
}

export function editSource(app: AppState, source: FaultSource, changes: Partial<FaultSource>): string | null {
  const label = sourceTexts.changeSource(source.name)
  return makeChange(app, changeOf(canChangeSource, changeSource, { id: source.id, changes }, label))
}

/** Takes a source away, with the devices that protect nothing else, as one step. */
export function dropSource(app: AppState, source: FaultSource): string | null {
  const { site } = app.session
  const own = site?.drawing.devices.filter(({ protects }) => protects === source.id) ?? []
  const bare: Edit = (before) => own.reduce((next, { id }) => removeDevice({ id })(next), before)
  const args = { id: source.id }
  return makeChange(app, {
    can: (before) => canRemoveSource(bare(before), args),
    edit: (before) => removeSource(args)(bare(before)),
    label: sourceTexts.removeSource(source.name),
  })
}

export function addStarterDevice(app: AppState): string | null {
  const { site } = app.session
  if (!site) return null
  const device = starterDevice(site, app.faultDesk.source)
  return makeChange(app, changeOf(canAddDevice, addDevice, device, sourceTexts.addDevice(device.name)))
}

export function editDevice(
  app: AppState,
  device: ProtectiveDevice,
  changes: Partial<Omit<ProtectiveDevice, 'id'>>,
): string | null {
  const label = sourceTexts.changeDevice(device.name)
  return makeChange(app, changeOf(canChangeDevice, changeDevice, { id: device.id, changes }, label))
}

export function dropDevice(app: AppState, { id, name }: ProtectiveDevice): string | null {
  return makeChange(app, changeOf(canRemoveDevice, removeDevice, { id }, sourceTexts.removeDevice(name)))
}

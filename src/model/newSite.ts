import { defaultJointKinds } from './jointCatalogue.ts'
import type { NextIds, SiteFacts } from './schema/drawing.ts'
import type { Access, Criterion } from './schema/planning.ts'
import { partKind } from './schema/planning.ts'
import type { Site } from './schema/site.ts'
import { siteFormat, siteVersion } from './schema/site.ts'

/** Anodised frames insulate a probe; every other part is taken as bare metal until someone says otherwise. */
export const defaultAccess: readonly Access[] = partKind.options.map((part) => ({
  part,
  reachable: true,
  surface: part === 'frame' ? 'coated' : 'bare',
}))

export const defaultCriteria: readonly Criterion[] = [
  {
    id: 'pathToEarthBar',
    name: 'Path to the earth bar',
    scope: 'pathToEarthBar',
    quantity: 'bondingPath',
    investigateAboveOhm: 0.5,
    rejectAboveOhm: null,
    addConductor: true,
    testCurrentA: null,
    source: 'Common practice: what the conductors on the path come to, plus 0.5 ohm for the joints.',
    edition: '',
    clause: '',
    againstPairs: false,
  },
  {
    id: 'neighbours',
    name: 'Neighbouring metal',
    scope: 'neighbours',
    quantity: 'bondingPath',
    investigateAboveOhm: 0.1,
    rejectAboveOhm: null,
    addConductor: false,
    testCurrentA: null,
    source: 'Common practice: read against its peers; 0.1 ohm where a contract gives nothing.',
    edition: '',
    clause: '',
    againstPairs: false,
  },
]

const firstIds: NextIds = {
  row: 1,
  enclosure: 1,
  earthBar: 1,
  electrode: 1,
  conductor: 1,
  extraJoint: 1,
  asBuilt: 1,
  aisle: 1,
  obstacle: 1,
}

export interface NewSite {
  readonly id: string
  /** The first drawing revision: a UUID, given from outside like the site's own. */
  readonly revision: string
  readonly name: string
  readonly units: SiteFacts['units']
}

/** An empty site that validates: default catalogue, access, criteria and facts, nothing drawn or recorded. */
export function newSite({ id, revision, name, units }: NewSite): Site {
  return {
    format: siteFormat,
    version: siteVersion,
    id,
    name,
    drawing: {
      revision,
      parent: null,
      facts: {
        units,
        soilOhmM: 100,
        soilSource: 'assumed',
        ambientC: 20,
        anchor: null,
        drawingRevision: '',
        mostVolts: 10,
        note: '',
      },
      nextIds: firstIds,
      jointKinds: defaultJointKinds,
      tableTypes: [],
      rows: [],
      enclosures: [],
      earthBars: [],
      electrodes: [],
      conductors: [],
      extraJoints: [],
      differingJoints: [],
      asBuilt: [],
      access: defaultAccess,
      aisles: [],
      obstacles: [],
      criteria: defaultCriteria,
      plans: [],
      sources: [],
      devices: [],
      lessons: [],
    },
    record: [],
  }
}

import { randomStream } from '../../src/base/random.ts'
import { jointAddressAt } from '../../src/layout/jointIndex.ts'
import { noBatches } from '../../src/locate/batches.ts'
import { leastShift, noTail, visibleChoices } from '../../src/locate/choices.ts'
import { describeMeasurement, type Measurement } from '../../src/locate/evidence.ts'
import type { Candidates, LevelModel } from '../../src/locate/levelModel.ts'
import { modelLevels } from '../../src/locate/levels.ts'
import { emptyLocateCache } from '../../src/locate/locateCache.ts'
import { noLooks } from '../../src/locate/lookOdds.ts'
import { countedObservations, observe } from '../../src/locate/observations.ts'
import { rankJoints, type Ranking } from '../../src/locate/rank.ts'
import { openSetNetwork } from '../../src/locate/sets/openSetNetwork.ts'
import { searchSets, setInputsOf } from '../../src/locate/sets/searchSets.ts'
import { usualLimits, type SearchLimits } from '../../src/locate/sets/searchRegion.ts'
import { noParting, type SetInputs } from '../../src/locate/sets/setInputs.ts'
import { summarise, type SetRanking } from '../../src/locate/sets/setRanking.ts'
import { writeJointAddress } from '../../src/model/address.ts'
import type { Site } from '../../src/model/schema/site.ts'
import type { PreparedNetwork } from '../../src/network/prepare.ts'
import { drawnNetwork } from '../generator/drawnNetwork.ts'
import { drawTruth, type Planted } from '../generator/drawTruth.ts'
import { takeVisit } from '../generator/takeVisit.ts'
import { longLead, twoWireKit } from '../generator/testKits.ts'
import { finish, prepare } from './rowSite.ts'

/** The readings of a site as the rankings see them. */
export interface Read {
  readonly prepared: PreparedNetwork
  readonly measurement: Measurement
  readonly models: readonly LevelModel[]
  readonly candidates: Candidates
  readonly ranking: Ranking
  readonly inputs: SetInputs
  nameOf(edge: number): string
}

/** `keep`: candidates by name that are left in, in the order in which they come. */
export function readSite(site: Site, prepared = prepare(site), keep?: readonly string[]): Read {
  const { network } = prepared
  const nameOf = (edge: number) => writeJointAddress(jointAddressAt(network.index, network.jointOfEdge[edge]))
  const observed = observe(site, network)
  const { observations } = countedObservations(observed, prepared)
  const measurement = describeMeasurement(observations, observed.intervals)
  const cache = emptyLocateCache()
  const all = finish(modelLevels(prepared, observations, measurement.ownSdOhm, leastShift, cache))
  const names = Array.from(all.candidates.edge, nameOf)
  const places = keep ? keep.map((name) => names.indexOf(name)) : names.map((_, k) => k)
  if (places.includes(-1)) throw new Error(`${String(keep)} are not all among ${names.join(' ')}`)
  const candidates = { edge: Int32Array.from(places, (k) => all.candidates.edge[k]) }
  const n = observations.length
  const models = all.levels.map((level): LevelModel => ({
    ...level,
    squared: Float64Array.from(places.flatMap((k) => [...level.squared.subarray(k * n, k * n + n)])),
    loopS: Float64Array.from(places, (k) => level.loopS[k]),
  }))
  const centre = models.find(({ lnSoil }) => lnSoil === 0)
  if (!centre) throw new Error('no level of the stated soil')
  const choices = visibleChoices(network, candidates, centre, measurement, noLooks, undefined, noTail)
  const ranking = finish(rankJoints(choices, candidates, models, measurement))
  const sets = finish(openSetNetwork(prepared, cache, models, candidates, observations))
  const batches = noBatches(choices)
  const inputs = setInputsOf(
    candidates,
    models,
    measurement,
    ranking,
    sets,
    choices,
    batches,
    noParting(places.length),
  )
  return { prepared, measurement, models, candidates, ranking, inputs, nameOf }
}

export function setsIn({ inputs, ranking }: Read, limits: Partial<SearchLimits> = {}): SetRanking {
  return summarise(inputs, finish(searchSets(inputs, ranking, { ...usualLimits, ...limits })), 1)
}

/** The plan of a site measured anew, by an instrument and a crew drawn from the seed, with these joints bad. */
export function measuredAnew(site: Site, planted: Planted, seed: number): Site {
  const random = randomStream(seed)
  const record = takeVisit({
    truth: drawTruth(drawnNetwork(site.drawing), random, planted),
    plan: site.drawing.plans[0],
    kit: { ...twoWireKit, serial: 'A-1' },
    lead: longLead,
    random,
    about: {
      startsAt: '2026-05-12T06:30:00Z',
      party: [],
      purpose: '',
      weather: 'dry',
      ambientC: 16,
      isolation: '',
      inverter: 'unknown',
      isolators: 'unknown',
      lockOut: '',
    },
    contacts: 'atRate',
  })
  return { ...site, record }
}

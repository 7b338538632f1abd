import type { LocateAnswer } from '../../src/model/answers.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { locate } from '../../src/locate/locate.ts'
import { prepareNetwork, type PreparedNetwork } from '../../src/network/prepare.ts'
import { drawnNetwork } from './drawnNetwork.ts'

export function runToEnd<T>(job: Generator<unknown, T>): T {
  let step = job.next()
  while (!step.done) step = job.next()
  return step.value
}

export function preparedOf(site: Site): PreparedNetwork {
  return runToEnd(prepareNetwork(drawnNetwork(site.drawing)))
}

export function locateIn(site: Site, prepared: PreparedNetwork = preparedOf(site)): LocateAnswer {
  return runToEnd(locate(site, prepared))
}

import type { Scenario } from './generator/drawScenario.ts'
import type { TypedSite } from './typedSite.ts'

/**
 * By how much the catalogue is off in what the readings cross: ln of the contacts' share of all readings with the
 * level of each kind as it was drawn, to the same with the catalogue's levels. 0 where no reading crosses a contact.
 */
export function catalogueLnError({ possible, levels }: Scenario, { prepared, readings }: TypedSite): number {
  const { network } = prepared
  const levelOf = new Map(possible.network.kinds.map(({ id }, k) => [id, levels[k]]))
  let [stated, real] = [0, 0]
  for (let e = 0; e < network.edgeCount; e++) {
    if (network.defectRate[e] === 0 || network.isEarthPath[e] === 1) continue
    const contactOhm = network.medianOhm[e] - network.fixedOhm[e]
    const crossed = readings.reduce((sum, { squared }) => sum + squared[e], 0) * contactOhm
    stated += crossed
    real += crossed * (levelOf.get(network.kinds[network.kind[e]].id) ?? 1)
  }
  return stated > 0 && real > 0 ? Math.log(real / stated) : 0
}

import { present } from '../../../../src/base/assert.ts'
import { copper, nulled, soil } from '../../../generator/assumedValues.ts'
import { contactMeanOhm, type TypedReading, type TypedSite } from '../typedSite.ts'

export interface Expected {
  readonly meanOhm: number
  readonly sdOhm: number
}

/**
 * What a reading should be if nothing is bad, each reading by itself: median network, sound clips, what is left
 * of the lead; the standard deviation holds instrument, clips, lead and the scatter of sound joints.
 */
export function expectedReading({ site, prepared }: TypedSite, reading: TypedReading): Expected {
  const { network } = prepared
  const isTwoWire = reading.kit.method === 'twoWire'
  let variance = reading.ownSdOhm ** 2
  for (let e = 0; e < network.edgeCount; e++) {
    const contactOhm = network.medianOhm[e] - (network.isEarthPath[e] === 1 ? 0 : network.fixedOhm[e])
    const spread = network.isEarthPath[e] === 1 ? soil.lnSpread : network.lnSpread[e]
    variance += (reading.squared[e] * contactOhm * spread) ** 2
  }
  let meanOhm = reading.networkOhm + (isTwoWire ? contactMeanOhm : 0)
  if (isTwoWire) {
    const lead = present(
      site.record.flatMap((e) => (e.entry === 'visit' ? e.leads : []))[0],
      'a two-wire reading has a lead',
    )
    const ownOhm = (copper.resistivityOhmM * lead.lengthM) / (lead.areaMm2 * 1e-6)
    const left = 0.5 * (nulled.shareFrom + nulled.shareTo) * ownOhm
    if (!reading.isNulled) meanOhm += ownOhm
    variance += left ** 2
  }
  return { meanOhm, sdOhm: Math.sqrt(variance) }
}

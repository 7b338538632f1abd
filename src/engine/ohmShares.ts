import { present } from '../base/assert.ts'
import type { OhmShare } from '../model/answers.ts'
import type { Network } from '../network/compile.ts'
import { memberOhmPerM } from '../network/conductorOhm.ts'
import { jointMedianOhm } from '../network/earthPath.ts'
import { earthPathKind } from '../network/jointOhm.ts'
import type { DrawnJoint, OwnOhm } from './drawnJoint.ts'

/**
 * What the median ohms of a joint were computed from: contact (catalogue or entered) and, in series with it, the
 * metal or soil that the joint has of its own. They add up to the median. Follows `network/jointOhm.ts`.
 */
export function ohmShares(
  network: Network,
  edge: number,
  { given, own, kind }: DrawnJoint,
): readonly OhmShare[] {
  const medianOhm = jointMedianOhm(network, edge)
  const fixedOhm = network.fixedOhm[edge]
  const isWhole = kind === 'wire' || kind === 'memberBody' || kind === earthPathKind
  if (isWhole) return [given ? { form: 'given', ...given } : ownShare(network, own, medianOhm)]
  const row = present(
    network.index.drawing.jointKinds.find(({ id }) => id === kind),
    `joint kind ${kind} is in the catalogue`,
  )
  const contact: OhmShare = given
    ? { form: 'given', ...given }
    : {
        form: 'catalogue',
        ohm: present(row.medianOhm, `joint kind ${kind} has a median`),
        kind,
        source: row.source,
      }
  return fixedOhm > 0 ? [contact, ownShare(network, own, fixedOhm)] : [contact]
}

function ownShare({ index }: Network, own: OwnOhm | null, ohm: number): OhmShare {
  const { ambientC, soilOhmM, soilSource } = index.drawing.facts
  const made = present(own, 'a joint with ohms of its own is made of something')
  switch (made.form) {
    case 'metal': {
      const { material, areaMm2 } = made
      const ohmPerM = memberOhmPerM({ materialId: material, areaMm2 }, ambientC)
      return { form: 'metal', ohm, material, areaMm2, lengthM: ohm / ohmPerM, temperatureC: ambientC }
    }
    case 'soil':
      return { form: 'soil', ohm, of: made.of, soilOhmM, soilSource }
    case 'given':
      return { form: 'given', ohm, by: made.by }
  }
}

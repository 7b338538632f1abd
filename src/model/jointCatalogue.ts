import type { JointKind } from './schema/jointKind.ts'

const judgement = 'Judgement from memory, low confidence; edit it to what your own readings show.'

const kind = (
  id: string,
  name: string,
  medianOhm: number | null,
  lnSpread: number,
  defectRate: number,
  purpose: JointKind['purpose'] = 'relied',
  source: string = judgement,
): JointKind => ({ id, name, purpose, medianOhm, lnSpread, defectRate, source })

/** The catalogue that a new site starts from. Medians in ohm, spreads as standard deviation of the natural log. */
export const defaultJointKinds: readonly JointKind[] = [
  kind('frameClamp', 'pierced frame clamp', 0.001, 0.8, 0.003),
  kind('frameLink', 'frame link', 0.0005, 0.7, 0.003),
  kind('splice', 'bonded splice', 0.0003, 0.8, 0.002),
  kind('bracket', 'galvanised bolted bracket', 0.0005, 0.8, 0.002),
  kind('jumper', 'jumper with its lugs', 0.0008, 0.4, 0.007),
  kind('layInLug', 'lay-in lug on frame', 0.0005, 0.7, 0.007),
  kind('crimpLug', 'crimp lug', 0.00005, 0.4, 0.001),
  kind('rodClamp', 'rod clamp', 0.0003, 0.8, 0.005),
  kind('weld', 'exothermic weld', 0.00003, 0.4, 0.0005),
  kind('incidental', 'incidental contact', 0.01, 2.0, 0.2, 'incidental'),
  kind('wire', 'conductor between its landings', null, 0.05, 0.0002),
  kind('memberBody', 'solid metal of a long member', null, 0.1, 0),
  kind('earthPath', 'earth path through soil', null, 0.5, 0, 'incidental'),
]

/** Kinds whose ohms follow from material, size and length, or from soil. A site's catalogue must hold them. */
export const computedKinds = ['wire', 'memberBody', 'earthPath'] as const

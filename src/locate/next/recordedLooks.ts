import { jointIndexOf } from '../../layout/jointIndex.ts'
import { parseJointAddress } from '../../model/address.ts'
import { effectiveRecord } from '../../model/record/effectiveRecord.ts'
import type { Site } from '../../model/schema/site.ts'
import type { Network } from '../../network/compile.ts'

/** Joints that someone has looked at, and those whose torque was found or set: not to be sent there again for that. */
export interface RecordedLooks {
  readonly look: ReadonlySet<number>
  readonly retorque: ReadonlySet<number>
}

export function recordedLooks({ record }: Site, { index, edgeOfJoint }: Network): RecordedLooks {
  const look = new Set<number>()
  const retorque = new Set<number>()
  for (const { entry, withdrawnBy } of effectiveRecord(record)) {
    if (entry.entry !== 'look' || withdrawnBy !== null) continue
    const address = parseJointAddress(entry.joint)
    const joint = address ? jointIndexOf(index, address) : -1
    if (joint < 0 || edgeOfJoint[joint] < 0) continue
    look.add(edgeOfJoint[joint])
    if (entry.torqueFoundNm !== null || entry.torqueSetNm !== null) retorque.add(edgeOfJoint[joint])
  }
  return { look, retorque }
}

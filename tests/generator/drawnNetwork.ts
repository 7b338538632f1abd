import { assert } from '../../src/base/assert.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import { compileNetwork, type Network } from '../../src/network/compile.ts'

/** The bond network of a drawing as it was meant to be, at its ambient temperature. */
export function drawnNetwork(drawing: Drawing): Network {
  const index = indexSite(drawing)
  assert(index.ok, 'the drawing has problems')
  const job = compileNetwork(drawing, index.value, { countIncidental: true, asBuilt: false })
  let step = job.next()
  while (!step.done) step = job.next()
  assert(step.value.ok, 'the drawing does not compile')
  return step.value.value
}

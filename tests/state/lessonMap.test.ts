import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { basisOf } from '../../src/engine/basis.ts'
import type { EngineClient, Outcome } from '../../src/engine/client.ts'
import { finish } from '../../src/engine/progress.ts'
import type { RequestName, Requests } from '../../src/engine/requests.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { openSite } from '../../src/files/openSite.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { FaultDesk } from '../../src/state/faultDesk.svelte.ts'
import { faultMarks } from '../../src/state/faultMarks.ts'
import type { Session } from '../../src/state/session.svelte.ts'
import { shippedLessons } from '../../src/text/lessons/shippedLessons.ts'

function demo(file: string): Site {
  const read = openSite(readFileSync(new URL(`../../demo-data/${file}`, import.meta.url)), file)
  if (!read.ok) throw new Error(`${file} opens`)
  return read.value
}

function engineOf(site: Site): EngineClient {
  const cache = emptySiteCache()
  const ask = async <N extends RequestName>(name: N, input: Requests[N][0]): Promise<Outcome<N>> => {
    await Promise.resolve()
    const result = finish(run(name, input, site, cache))
    return result.ok
      ? { status: 'done', answer: result.value, basis: basisOf(site) }
      : { status: 'problem', problems: result.error }
  }
  return { ask, cancel: () => undefined } as unknown as EngineClient
}

describe.each(shippedLessons.map((lesson) => [lesson.id, lesson] as const))('lesson %s', (_, lesson) => {
  const site = demo(lesson.demo)
  const indexed = indexSite(site.drawing, new WeakMap())
  if (!indexed.ok) throw new Error('the demo can be indexed')
  const index = indexed.value
  const desk = new FaultDesk({ site } as Session, engineOf(site))

  it.each(Object.entries(lesson.setups))('has its fault on the map: %s', async (__, { fault }) => {
    const { hasGround = false } = lesson
    desk.show(fault, hasGround)
    expect(desk.ground.isOn).toBe(hasGround)
    await desk.refresh()
    expect(desk.problems).toEqual([])
    const marks = faultMarks(index, desk)!
    expect(marks.partV).not.toBeNull()
    expect(marks.currentA).not.toBeNull()
    expect(marks.mostA).toBeGreaterThan(0)
    expect(marks.altered).toHaveLength(fault.altered.length)
    expect(marks.person === null).toBe(fault.person === null)
    const isDouble = fault.drive.form === 'pv' && fault.drive.second !== null
    expect(marks.second !== null).toBe(isDouble)
    // another site was opened for it: the lesson's fault is asked for on that, too
    desk.leave()
    expect(desk.question).not.toBeNull()
    expect(desk.ground.isOn).toBe(hasGround)
    desk.show(null)
    expect(desk.ground.isOn).toBe(false)
    expect(faultMarks(index, desk)).toBeNull()
  })
})

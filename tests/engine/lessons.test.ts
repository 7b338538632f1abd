import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { finish } from '../../src/engine/progress.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache, type SiteCache } from '../../src/engine/siteCache.ts'
import { openSite } from '../../src/files/openSite.ts'
import { doesHold, type LessonInput } from '../../src/model/lessons.ts'
import { deviceSchema, lessonSchema, sourceSchema } from '../../src/model/schema/faults.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { fillFigures, noFigure } from '../../src/text/lessons/fillFigures.ts'
import { lessonTextsOf } from '../../src/text/lessons/lessonTextsOf.ts'
import { wordsIn } from '../../src/text/lessons/lessonWords.ts'
import { shippedLessons } from '../../src/text/lessons/shippedLessons.ts'

const opened = new Map<string, { readonly site: Site; readonly cache: SiteCache }>()

function demo(file: string) {
  let known = opened.get(file)
  if (!known) {
    const read = openSite(readFileSync(new URL(`../../demo-data/${file}`, import.meta.url)), file)
    if (!read.ok) throw new Error(`${file} opens`)
    opened.set(file, (known = { site: read.value, cache: emptySiteCache() }))
  }
  return known
}

function valuesOf(input: LessonInput, { site, cache }: { site: Site; cache: SiteCache }) {
  const result = finish(run('lesson', { setups: input.setups, figures: input.figures }, site, cache))
  if (!result.ok) throw new Error(JSON.stringify(result.error))
  return result.value.values
}

const textsOf = lessonTextsOf

describe('the lessons that are shipped', () => {
  it('are six or more, each under a name of its own', () => {
    expect(shippedLessons.length).toBeGreaterThanOrEqual(6)
    expect(new Set(shippedLessons.map(({ id }) => id)).size).toBe(shippedLessons.length)
  })
})

describe.each(shippedLessons.map((lesson) => [lesson.id, lesson] as const))('lesson %s', (_, lesson) => {
  const at = demo(lesson.demo)

  it('fits into a site file, and its sources and devices would too', () => {
    const { id, title, steps } = lesson
    const kept = { id, title, steps: steps.map(({ text, about }) => ({ text, about })) }
    expect(lessonSchema.safeParse(kept).error).toBeUndefined()
    for (const { fault, devices } of Object.values(lesson.setups)) {
      expect(sourceSchema.safeParse(fault.drive.source).error).toBeUndefined()
      for (const device of devices) expect(deviceSchema.safeParse(device).error).toBeUndefined()
    }
    expect(lesson.learns).not.toBe('')
  })

  it('explains the words that it uses, and says at each step what to look at', () => {
    const words = wordsIn(textsOf(lesson))
    expect(words.map(({ word }) => word)).toContain('Bond')
    for (const { see } of lesson.steps) expect(see.length).toBeGreaterThan(20)
    // what explains a word uses none that is not explained beside it
    const explained = new Set(words.map(({ word }) => word))
    const more = wordsIn(words.map(({ means }) => means)).map(({ word }) => word)
    expect(more.filter((word) => !explained.has(word))).toEqual([])
  })

  it('is on the demo site that it says', () => {
    expect(at.site.id).toBe(lesson.site)
  })

  it('has a figure for everything in braces, with a value, and uses all that it asks for', () => {
    const values = valuesOf(lesson, at)
    const texts = textsOf(lesson)
    const named = texts.flatMap((text) => [...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => name))
    expect(named.filter((name) => !(name in lesson.figures))).toEqual([])
    for (const text of texts) {
      const filled = fillFigures(text, lesson, values)
      expect(filled).not.toContain(noFigure)
      expect(filled).not.toMatch(/[{}]|NaN|undefined/)
    }
    const claimed = lesson.steps.flatMap(({ question }) => question?.claims.map(({ figure }) => figure) ?? [])
    const ofRatios = Object.values(lesson.figures).flatMap((each) =>
      each.of === 'ratio' ? [each.top, each.bottom] : [],
    )
    const used = new Set([...named, ...claimed, ...ofRatios])
    expect(Object.keys(lesson.figures).filter((name) => !used.has(name))).toEqual([])
  })

  it('has a right answer to every question, and the engine says so', () => {
    const values = valuesOf(lesson, at)
    const questions = lesson.steps.flatMap(({ question }) => question ?? [])
    expect(questions.length).toBeGreaterThan(0)
    for (const { choices, right, claims } of questions) {
      expect(choices.length).toBeGreaterThan(1)
      expect(choices[right]).toBeDefined()
      expect(claims.length).toBeGreaterThan(0)
      for (const claim of claims)
        expect([claim, values[claim.figure], doesHold(claim, values)]).toEqual([
          claim,
          values[claim.figure],
          true,
        ])
    }
  })

  it('shows parts and joints that are drawn, and set-ups that it has', () => {
    const { site, cache } = at
    for (const { about, beside = [], setup } of lesson.steps) {
      if (setup !== null) expect(Object.keys(lesson.setups)).toContain(setup)
      for (const place of about === null ? [] : [about, ...beside]) {
        const asked = { countIncidental: true, asBuilt: true }
        const found = place.includes('~')
          ? finish(run('inspectJoint', { ...asked, joint: place }, site, cache))
          : finish(run('inspectPart', { ...asked, part: place }, site, cache))
        expect([place, found.ok]).toEqual([place, true])
      }
    }
  })
})

describe('figures of a lesson', () => {
  const [lesson] = shippedLessons
  const at = demo(lesson.demo)

  it('change with the site: nothing of a text is fixed', () => {
    const { facts } = at.site.drawing
    const wetter = { ...at.site, drawing: { ...at.site.drawing, facts: { ...facts, soilOhmM: 1 } } }
    const [dry, wet] = [at, { site: wetter, cache: emptySiteCache() }].map((each) => valuesOf(lesson, each))
    expect(wet.soil).toBeGreaterThan(dry.soil as number)
    const claim = lesson.steps.flatMap(({ question }) => question?.claims ?? [])[0]
    expect(doesHold(claim, dry)).toBe(true)
    expect(doesHold(claim, wet)).toBe(false)
  })

  it('are those of a fault asked by itself', () => {
    const { fault } = lesson.setups.fault
    const alone = finish(run('faultCurrent', fault, at.site, at.cache))
    if (!alone.ok) throw new Error('the fault is answered')
    const values = valuesOf(lesson, at)
    expect(values.all).toBe(alone.value.faultA)
    expect(values.soil).toBe(alone.value.throughEarthA)
    expect((values.soilShare as number) * alone.value.faultA).toBeCloseTo(alone.value.throughEarthA, 12)
  })

  it('tell what they are asked of and is not drawn', () => {
    const wrong = { of: 'jointA', in: 'fault', joint: 'R9/T1+T2~1' } as const
    const result = finish(run('lesson', { setups: lesson.setups, figures: { wrong } }, at.site, at.cache))
    expect(result.ok ? [] : result.error.map(({ code }) => code)).toEqual(['reference.noSuchJoint'])
  })
})

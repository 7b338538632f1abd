import { describe, expect, it } from 'vitest'
import type { NetworkNote } from '../../src/model/answers.ts'
import { fullCautions, shortCaution } from '../../src/text/cautions.ts'
import { describeNote, describeUncountedAsBuilt } from '../../src/text/notes.ts'
import { describePath } from '../../src/text/pathText.ts'
import { wordsFor } from '../../src/text/words.ts'

describe('notes', () => {
  const notes: { readonly [N in NetworkNote['note']]: readonly [Extract<NetworkNote, { note: N }>, RegExp] } =
    {
      uniformSoil: [{ note: 'uniformSoil' }, /share soil that counts as one throughout.*Layers/],
      memberSnap: [{ note: 'memberSnap', largestM: 0.4 }, /nearest one, by up to 400 mm/],
      partsAsPoints: [{ note: 'partsAsPoints' }, /one potential each/],
      incidentalNotCounted: [
        { note: 'incidentalNotCounted', joints: 1 },
        /^1 incidental contact is not counted/,
      ],
      asBuiltCounted: [{ note: 'asBuiltCounted', differences: 3 }, /^3 as-built differences are counted in/],
    }

  it.each(Object.values(notes))('%j', (note, says) => {
    expect(describeNote(note, 'metric')).toMatch(says)
    expect(describeNote(note, 'metric')).toMatch(/\.$/)
  })

  it('in the words and units of a US site', () => {
    expect(describeNote({ note: 'memberSnap', largestM: 0.3048 }, 'us')).toContain('12 in')
  })

  it('as-built differences that are not counted are told', () => {
    expect(describeUncountedAsBuilt(1)).toMatch(/^1 as-built difference is on file and not counted in/)
  })
})

describe('paths', () => {
  it('soil is never called a bond', () => {
    const words = wordsFor('metric')
    expect(describePath('metal', words)).toBe('Metal joins the two.')
    expect(describePath('soilOnly', words)).toMatch(
      /^No metal path.*not bonded together, whatever a meter reads/,
    )
    expect(describePath('none', words)).toMatch(/^No path/)
    expect(describePath('soilOnly', wordsFor('us'))).toContain('remote ground')
  })
})

describe('cautions', () => {
  const all = (units: 'metric' | 'us') => fullCautions(units).join('\n')

  it.each([
    /test dead/i,
    /lock(ed)? out/,
    /daylight stay live/,
    /not bonded may stand at string voltage/,
    /measure volts.*before you measure ohms/i,
    /qualified persons/,
    /Local code/,
    /procedures of the site/,
    /lead for inspection, not proof of safety/,
  ])('the full form says %s', (said) => {
    expect(all('metric')).toMatch(said)
    expect(all('us')).toMatch(said)
  })

  it('the short form says what matters most', () => {
    for (const said of [
      'lead for inspection',
      'Test dead',
      'volts before ohms',
      'qualified persons',
      'local code',
    ])
      expect(shortCaution()).toContain(said)
  })

  it('nothing says safe', () => {
    expect(`${all('metric')} ${all('us')} ${shortCaution()}`).not.toMatch(/\bsafe\b|\bsafely\b/i)
  })

  it('a US site reads of ground', () => {
    expect(all('us')).toContain('grounding electrode conductor (GEC)')
    expect(all('us')).not.toMatch(/\bearth/)
  })
})

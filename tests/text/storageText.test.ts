import { describe, expect, it } from 'vitest'
import { limits } from '../../src/model/limits.ts'
import { nameText } from '../../src/model/schema/primitives.ts'
import { formatInstant } from '../../src/text/instants.ts'
import { fileErrorReason, recoveredName } from '../../src/text/storageText.ts'

describe('names of recovered copies', () => {
  it('say what they are', () => {
    expect(recoveredName('North field')).toBe('North field, recovered')
  })

  it('stay within the length of a name, and never cut a letter in two', () => {
    for (let lead = 0; lead < 2; lead++) {
      const name = recoveredName('x'.repeat(lead) + '𛀀'.repeat(limits.nameLength / 2 - lead))
      expect(nameText.parse(name)).toMatch(/, recovered$/)
      expect(() => encodeURIComponent(name)).not.toThrow()
    }
  })
})

describe('instants', () => {
  it('are told to the minute, in their own zone; what is none comes as it is, made printable', () => {
    expect(formatInstant('2031-05-04T08:05:59-09:30')).toBe('2031-05-04 08:05')
    expect(formatInstant('some\ntime')).toBe('some time')
  })
})

describe('reasons of the browser', () => {
  it('are words, whatever the name', () => {
    expect(fileErrorReason('NotAllowedError', 'The request is not allowed')).toBe('permission was refused')
    expect(fileErrorReason('constructor', 'its own words')).toBe('its own words')
    expect(fileErrorReason('', '')).toBe('no reason was given')
  })
})

import { describe, expect, it } from 'vitest'
import { migrate, migrations } from '../../src/files/migrations/chain.ts'
import { siteVersion } from '../../src/model/schema/site.ts'

describe('migrations', () => {
  it('lead from the first version to the one the program knows', () => {
    expect(migrations.length + 1).toBe(siteVersion)
  })

  const steps = [
    (document: object) => ({ ...document, second: true }),
    (document: object) => ({ ...document, third: 'second' in document }),
  ]

  it('are run in order from the version of the document on, each counting it up', () => {
    expect(migrate({ version: 1, kept: 5 }, 1, steps)).toEqual({
      version: 3,
      kept: 5,
      second: true,
      third: true,
    })
    expect(migrate({ version: 2 }, 2, steps)).toEqual({ version: 3, third: false })
    const newest = { version: 3 }
    expect(migrate(newest, 3, steps)).toBe(newest)
  })

  it('are not asked for from a version that does not exist', () => {
    expect(() => migrate({}, 4, steps)).toThrow('no migration starts at version 4')
    expect(() => migrate({}, 0, steps)).toThrow('no migration starts at version 0')
  })
})

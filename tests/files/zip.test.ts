import { crc32 as nodeCrc32, deflateRawSync } from 'node:zlib'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { crc32, isZip, readZip, writeZip } from '../../src/files/zip.ts'

const bytesOf = (text: string) => new TextEncoder().encode(text)
const pieces = [
  { name: 'site.json', bytes: bytesOf('{"a": 1}') },
  { name: 'photos/ü.jpg', bytes: new Uint8Array([0xff, 0xd8, 0xff, 0]) },
]
const reasonOf = (bytes: Uint8Array<ArrayBuffer>, most = 10) => {
  const read = readZip(bytes, most)
  return read.ok ? 'none' : (read.error.facts as { reason: string }).reason
}

describe('a ZIP file', () => {
  it('gives back what was put in, by name and in order', () => {
    const read = readZip(writeZip(pieces), 10)
    expect(read.ok && read.value.map(({ name, packed, method }) => [name, [...packed], method])).toEqual(
      pieces.map(({ name, bytes }) => [name, [...bytes], 0]),
    )
    expect(isZip(writeZip(pieces))).toBe(true)
    expect(isZip(bytesOf('{}'))).toBe(false)
  })

  it('has the checksum of an independent implementation', () => {
    expect(crc32(bytesOf('123456789'))).toBe(0xcbf43926)
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => crc32(bytes) === nodeCrc32(bytes)),
      { seed: 20314, numRuns: 100 },
    )
  })

  it('of another program is read too: deflated, with a comment behind', () => {
    const deflated = new Uint8Array(deflateRawSync(bytesOf('x'.repeat(1000))))
    const plain = writeZip([{ name: 'a', bytes: deflated }])
    const view = new DataView(plain.buffer)
    const directory = 30 + 1 + deflated.length
    view.setUint16(8, 8, true)
    view.setUint16(directory + 10, 8, true)
    view.setUint32(directory + 24, 1000, true)
    view.setUint16(plain.length - 2, 3, true)
    const commented = new Uint8Array([...plain, 1, 2, 3])
    expect(readZip(commented, 10)).toMatchObject({ ok: true, value: [{ name: 'a', method: 8, size: 1000 }] })
  })

  it('is refused where it is cut, locked, too many, or its entries share their bytes', () => {
    const whole = writeZip(pieces)
    for (let length = 0; length < whole.length; length++)
      expect(reasonOf(whole.slice(0, length))).toBe('broken')
    expect(reasonOf(whole, 1)).toBe('tooMany')
    const locked = whole.slice()
    const directory = whole.length - 22 - (46 + 9) - (46 + 13)
    locked[directory + 8] |= 1
    expect(reasonOf(locked)).toBe('encrypted')
    const many = Array.from({ length: 5 }, (_, k) => ({
      name: `${k}`,
      bytes: new Uint8Array(k === 0 ? 1000 : 0),
    }))
    const shared = writeZip(many)
    const view = new DataView(shared.buffer)
    const first = shared.length - 22 - 5 * 47
    for (let k = 1; k < 5; k++) {
      view.setUint32(first + 47 * k + 20, 1000, true)
      view.setUint32(first + 47 * k + 42, 0, true)
    }
    expect(reasonOf(shared)).toBe('broken')
  })

  it('never throws, whatever the bytes', () => {
    const whole = writeZip(pieces)
    const changes = fc.array(fc.tuple(fc.nat(whole.length - 1), fc.nat(255)), { minLength: 1, maxLength: 6 })
    fc.assert(
      fc.property(changes, (list) => {
        const bytes = whole.slice()
        for (const [at, byte] of list) bytes[at] = byte
        expect(typeof readZip(bytes, 10).ok).toBe('boolean')
      }),
      { seed: 20315, numRuns: 500 },
    )
  })
})

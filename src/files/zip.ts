import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'

/**
 * ZIP files by the .ZIP File Format Specification (APPNOTE 6.3.10, PKWARE): local headers, central directory and its
 * end; no encryption, no parts, no 64-bit sizes.
 */
export interface ZipEntry {
  readonly name: string
  /** 0: stored as it is; 8: deflated. */
  readonly method: number
  /** As packed. */
  readonly packed: Uint8Array<ArrayBuffer>
  /** Length once unpacked, as the directory says; hold it against what comes out. */
  readonly size: number
  readonly crc: number
}

export interface ZipPiece {
  readonly name: string
  readonly bytes: Uint8Array<ArrayBuffer>
}

const localMark = 0x04034b50
const directoryMark = 0x02014b50
const endMark = 0x06054b50
/** Names in UTF-8. */
const utf8Flag = 0x0800
const encryptedFlag = 0x0001
/** 1 January 1980, the first day that the format knows: the same pieces always give the same bytes. */
const firstDay = 0x0021

/** Whether bytes begin as a ZIP file with something in it does. */
export function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4
}

/** A ZIP file with each piece stored as it is: photos are packed already. Cost O(bytes). */
export function writeZip(pieces: readonly ZipPiece[]): Uint8Array<ArrayBuffer> {
  const named = pieces.map(({ name, bytes }) => ({
    name: new TextEncoder().encode(name),
    bytes,
    crc: crc32(bytes),
  }))
  const headers = named.reduce((sum, { name }) => sum + 30 + 46 + 2 * name.length, 22)
  const out = new Uint8Array(named.reduce((sum, { bytes }) => sum + bytes.length, headers))
  const view = new DataView(out.buffer)
  let at = 0
  const two = (value: number) => (view.setUint16(at, value, true), (at += 2))
  const four = (value: number) => (view.setUint32(at, value, true), (at += 4))
  const all = (bytes: Uint8Array) => (out.set(bytes, at), (at += bytes.length))
  const starts: number[] = []
  for (const { name, bytes, crc } of named) {
    starts.push(at)
    four(localMark)
    for (const value of [20, utf8Flag, 0, 0, firstDay]) two(value)
    for (const value of [crc, bytes.length, bytes.length]) four(value)
    two(name.length)
    two(0)
    all(name)
    all(bytes)
  }
  const directory = at
  named.forEach(({ name, bytes, crc }, k) => {
    four(directoryMark)
    for (const value of [20, 20, utf8Flag, 0, 0, firstDay]) two(value)
    for (const value of [crc, bytes.length, bytes.length]) four(value)
    for (const value of [name.length, 0, 0, 0, 0]) two(value)
    four(0)
    four(starts[k])
    all(name)
  })
  const size = at - directory
  four(endMark)
  for (const value of [0, 0, named.length, named.length]) two(value)
  four(size)
  four(directory)
  two(0)
  return out
}

/**
 * The entries of a ZIP file by its directory, still packed; no byte lies in two of them. At most `mostEntries`, or a
 * problem `zip.refused` with the reason.
 */
export function readZip(
  bytes: Uint8Array<ArrayBuffer>,
  mostEntries: number,
): Result<readonly ZipEntry[], Problem> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const end = findEnd(view)
  if (end === null) return refuse('broken')
  const count = view.getUint16(end + 10, true)
  if (view.getUint16(end + 4, true) !== 0 || view.getUint16(end + 8, true) !== count) return refuse('broken')
  if (count > mostEntries) return refuse('tooMany')
  const entries: ZipEntry[] = []
  let at = view.getUint32(end + 16, true)
  let taken = 0
  for (let k = 0; k < count; k++) {
    if (at + 46 > end || view.getUint32(at, true) !== directoryMark) return refuse('broken')
    const nameLength = view.getUint16(at + 28, true)
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength))
    if ((view.getUint16(at + 8, true) & encryptedFlag) !== 0) return refuse('encrypted', name)
    const length = view.getUint32(at + 20, true)
    const packed = packedBytes(bytes, view, view.getUint32(at + 42, true), length)
    taken += length
    // entries that share their bytes unpack to far more than the file
    if (!packed || taken > bytes.length) return refuse('broken', name)
    const method = view.getUint16(at + 10, true)
    entries.push({
      name,
      method,
      packed,
      size: view.getUint32(at + 24, true),
      crc: view.getUint32(at + 16, true),
    })
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true)
  }
  return ok(entries)
}

function refuse(reason: 'broken' | 'tooMany' | 'encrypted', name = ''): Result<never, Problem> {
  return fail(problem('zip.refused', { reason, name }))
}

/** The end stands at the very end, before a comment of 65535 bytes at most. */
function findEnd(view: DataView): number | null {
  const first = Math.max(0, view.byteLength - 22 - 65_535)
  for (let at = view.byteLength - 22; at >= first; at--) {
    if (view.getUint32(at, true) === endMark && at + 22 + view.getUint16(at + 20, true) === view.byteLength)
      return at
  }
  return null
}

function packedBytes(
  bytes: Uint8Array<ArrayBuffer>,
  view: DataView,
  local: number,
  length: number,
): Uint8Array<ArrayBuffer> | null {
  if (local + 30 > bytes.length || view.getUint32(local, true) !== localMark) return null
  const from = local + 30 + view.getUint16(local + 26, true) + view.getUint16(local + 28, true)
  return from + length > bytes.length ? null : bytes.subarray(from, from + length)
}

/** CRC-32 as ZIP has it (ISO/IEC 8802-3, reflected polynomial 0xEDB88320). */
export function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff
  for (const byte of bytes) crc = (crc >>> 8) ^ remainders[(crc ^ byte) & 0xff]
  return (crc ^ 0xffffffff) >>> 0
}

const remainders = Uint32Array.from({ length: 256 }, (_, byte) => {
  let crc = byte
  for (let bit = 0; bit < 8; bit++) crc = (crc & 1) === 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1
  return crc >>> 0
})

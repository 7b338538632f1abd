import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { offlineWorker } from '../../.ci/offlinePlugin.mjs'

let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'groundweave-offline-'))
  mkdirSync(join(folder, 'assets'))
  write('index.html', '<!doctype html>')
  write('assets/a b.js', '1')
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

function write(name: string, text: string) {
  writeFileSync(join(folder, name), text)
}

function built(): { version: string; files: string[] } {
  const text = offlineWorker(folder)
  const json = text.slice(text.indexOf('{'), text.indexOf('\n}\n') + 2)
  return JSON.parse(json) as { version: string; files: string[] }
}

describe('the list of the service worker', () => {
  it('has every file by an address that can be asked for, the page by that of its folder', () => {
    expect(built().files).toEqual(['./assets/a%20b.js', './'])
  })

  it('has neither the service worker itself nor source maps', () => {
    write('sw.js', 'old')
    write('assets/a.js.map', '{}')
    expect(built().files).toEqual(['./assets/a%20b.js', './'])
  })

  it('has a version that changes with content and names, and with nothing else', () => {
    const { version } = built()
    write('sw.js', 'old')
    expect(built().version).toBe(version)
    write('assets/a b.js', '2')
    const changed = built().version
    expect(changed).not.toBe(version)
    write('assets/a b.js', '1')
    expect(built().version).toBe(version)
    write('c.js', '')
    expect([version, changed]).not.toContain(built().version)
  })
})

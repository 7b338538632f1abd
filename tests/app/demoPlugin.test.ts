import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'vite'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { demoPlugin } from '../../.ci/demoPlugin.mjs'

const fieldFile = fileURLToPath(new URL('../../demo-data/field.json', import.meta.url))
let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'groundweave-demo-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

/** What a module that lists the demos of the folder comes to when it is built. */
async function builtList(): Promise<string> {
  const list = `import.meta.glob('./*.json', { query: '?describe', import: 'default', eager: true })`
  writeFileSync(join(folder, 'list.js'), `console.log(${list})`)
  const built = await build({
    root: folder,
    configFile: false,
    logLevel: 'error',
    plugins: [demoPlugin()],
    build: { write: false, rolldownOptions: { input: join(folder, 'list.js') } },
  })
  const [{ output }] = [built].flat() as { output: { code?: string }[] }[]
  return output.map(({ code }) => code ?? '').join('')
}

it('puts name and size of a demo into the build, not the file, and follows the file', async () => {
  cpSync(fieldFile, join(folder, 'demo.json'))
  const before = await builtList()
  expect(before).toContain('Larkmoor Field')
  expect(before).toContain('6 rows, 48 tables, 5440 joints; 50 readings in the record.')
  expect(before.length).toBeLessThan(1000)
  const renamed = readFileSync(fieldFile, 'utf8').replace('Larkmoor Field', 'Larkmoor West')
  writeFileSync(join(folder, 'demo.json'), renamed)
  expect(await builtList()).toContain('Larkmoor West')
})

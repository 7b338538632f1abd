import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { saveSite } from '../../src/files/saveSite.ts'
import { demoSites } from './demoSites.ts'

// Run by `npm run demo-data`, in the root of the project.
for (const [file, make] of Object.entries(demoSites)) {
  const text = saveSite(make())
  writeFileSync(join('demo-data', file), text)
  console.log(`demo-data/${file}: ${Buffer.byteLength(text)} bytes`)
}

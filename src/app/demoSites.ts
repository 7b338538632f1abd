import { demoAddresses } from './demoFiles.ts'
import type { DemoSite, DemoWords } from './demoSite.ts'

// What is said of them is drawn out of the same files by the build (.ci/demoPlugin.mjs).
const words = import.meta.glob<DemoWords>('../../demo-data/*.json', {
  query: '?describe',
  import: 'default',
  eager: true,
})

/** The demo sites that were there when the page was built. */
export const demoSites: readonly DemoSite[] = Object.entries(demoAddresses).map(([path, address]) => ({
  file: path.slice(path.lastIndexOf('/') + 1),
  address,
  ...words[path],
}))

import type { DemoSite, DemoWords } from './demoSite.ts'

// The files become part of the page when it is built; they are fetched from beside it, never from elsewhere.
const addresses = import.meta.glob<string>('../../demo-data/*.json', {
  query: '?url&no-inline',
  import: 'default',
  eager: true,
})

// What is said of them is drawn out of the same files by the build (.ci/demoPlugin.mjs).
const words = import.meta.glob<DemoWords>('../../demo-data/*.json', {
  query: '?describe',
  import: 'default',
  eager: true,
})

/** The demo sites that were there when the page was built. */
export const demoSites: readonly DemoSite[] = Object.entries(addresses).map(([path, address]) => ({
  file: path.slice(path.lastIndexOf('/') + 1),
  address,
  ...words[path],
}))

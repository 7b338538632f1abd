import { readDemoSite, type DemoSite } from './demoSite.ts'

// The files become part of the page when it is built; they are fetched from beside it, never from elsewhere.
const addresses = import.meta.glob<string>('../../demo-data/*.json', {
  query: '?url&no-inline',
  import: 'default',
  eager: true,
})

/** The demo sites that were there when the page was built; a file that does not load is told by its name. */
export function loadDemoSites(): Promise<DemoSite[]> {
  return Promise.all(
    Object.entries(addresses).map(async ([path, address]) => {
      const file = path.slice(path.lastIndexOf('/') + 1)
      return readDemoSite(file, address, await textOf(address))
    }),
  )
}

async function textOf(address: string): Promise<string> {
  try {
    const response = await fetch(address)
    return response.ok ? await response.text() : ''
  } catch {
    return ''
  }
}

// The files become part of the page when it is built; they are fetched from beside it, never from elsewhere.
export const demoAddresses = import.meta.glob<string>('../../demo-data/*.json', {
  query: '?url&no-inline',
  import: 'default',
  eager: true,
})

export function fetchDemoFile(address: string): Promise<Response> {
  return fetch(address)
}

const texts = import.meta.glob<string>('../../demo-data/*.json', {
  query: '?raw',
  import: 'default',
  eager: true,
})

/** Where the whole program is one file the texts lie in it, and an address is the path that names one. */
export const demoAddresses: Readonly<Record<string, string>> = Object.fromEntries(
  Object.keys(texts).map((path) => [path, path]),
)

export function fetchDemoFile(address: string): Promise<Response> {
  return Promise.resolve(new Response(texts[address]))
}

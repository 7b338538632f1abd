// The service worker of the built page: everything it needs is kept at installation, and answered from there
// ever after, with or without a network. `offlineBuild` ({ version, files }) is put before this text.
/* global offlineBuild */
const prefix = `groundweave ${self.registration.scope} `
const cacheName = prefix + offlineBuild.version
const pageAddress = new URL('./', self.registration.scope).href

self.addEventListener('install', (event) => event.waitUntil(keepAll()))
self.addEventListener('activate', (event) => event.waitUntil(dropOldCaches()))
self.addEventListener('fetch', (event) => {
  const { method, url } = event.request
  if (method === 'GET' && url.startsWith(self.registration.scope)) event.respondWith(answer(event.request))
})
// A new version waits until the page says that it may take over.
self.addEventListener('message', (event) => {
  if (event.data === 'takeOver') self.skipWaiting()
})

// All or nothing: a file that is missing fails the installation, and the version before stays.
async function keepAll() {
  const cache = await caches.open(cacheName)
  await cache.addAll(offlineBuild.files.map((file) => new Request(file, { cache: 'reload' })))
}

// The version before stays as well: a tab that still shows it may yet ask for one of its files.
async function dropOldCaches() {
  const others = (await caches.keys()).filter((name) => name.startsWith(prefix) && name !== cacheName)
  await Promise.all(others.slice(0, -1).map((name) => caches.delete(name)))
  await self.clients.claim()
}

async function answer(request) {
  const kept = await find(request.url)
  if (kept) return kept
  try {
    return await fetch(request)
  } catch (error) {
    // Relative addresses of the page hold only where the page belongs.
    if (request.mode === 'navigate') return Response.redirect(pageAddress)
    throw error
  }
}

async function find(address) {
  const { origin, pathname } = new URL(address)
  const plain = origin + pathname
  const wanted = plain === `${pageAddress}index.html` ? pageAddress : plain
  const kept = await matchIn(cacheName, wanted)
  if (kept) return kept
  const others = (await caches.keys()).filter((name) => name.startsWith(prefix) && name !== cacheName)
  for (const name of others) {
    const older = await matchIn(name, wanted)
    if (older) return older
  }
  return undefined
}

// What a server says of a response's variants concerns other networks, not this one copy.
async function matchIn(name, address) {
  const cache = await caches.open(name)
  return cache.match(address, { ignoreVary: true })
}

import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'

// A file of the build that the page does not ask for by itself, as a worker that starts later is.
const probe = { 'probe.js': `postMessage('version 1 ' + self.origin)` }
let browser: Browser
let served: ServedBuild
let context: BrowserContext
let page: Page
let watched: Watched

beforeAll(async () => {
  browser = await launchChromium()
})
afterAll(() => browser.close())
beforeEach(async () => {
  served = await serveBuild(probe)
  context = await browser.newContext()
  watched = watch(context, served.address)
  page = await context.newPage()
})
afterEach(async () => {
  await context.close()
  await served.end()
})

async function openControlled(): Promise<void> {
  await page.goto(served.address)
  await page.evaluate(async () => {
    const { serviceWorker } = navigator
    await serviceWorker.ready
    if (!serviceWorker.controller) {
      await new Promise((resolve) =>
        serviceWorker.addEventListener('controllerchange', resolve, { once: true }),
      )
    }
  })
}

const heading = () => page.getByRole('heading', { level: 1 }).first().textContent()

function startWorker(): Promise<string> {
  return page.evaluate(
    () =>
      new Promise<string>((resolve, reject) => {
        const worker = new Worker('./probe.js', { type: 'module' })
        worker.onmessage = ({ data }) => resolve(String(data))
        worker.onerror = () => reject(new Error('the worker did not start'))
      }),
  )
}

/** Lets the browser look for a new version and waits until one has been installed beside this one. */
function findUpdate(): Promise<void> {
  return page.evaluate(async () => {
    const registration = (await navigator.serviceWorker.getRegistration())!
    await registration.update()
    while (!registration.waiting) await new Promise((resolve) => setTimeout(resolve, 20))
  })
}

/** Those of the program; second copies of sites lie in one of their own. */
const cacheNames = async () =>
  (await page.evaluate(() => caches.keys())).filter((name) => !name.endsWith('second copies'))

describe('the built page', () => {
  it('opens again, starts workers and reads its files when the server is gone', async () => {
    await openControlled()
    const title = await heading()
    expect(title).toContain('Groundweave')
    await served.stop()
    await page.reload()
    expect(await heading()).toBe(title)
    expect(await startWorker()).toBe(`version 1 ${new URL(served.address).origin}`)
    const manifest = await page.evaluate(async () => {
      const address = document.querySelector<HTMLLinkElement>('link[rel=manifest]')!.href
      const { icons } = (await (await fetch(address)).json()) as { icons: { src: string }[] }
      return Promise.all(icons.map(async ({ src }) => (await fetch(src)).status))
    })
    expect(manifest).toEqual([200, 200, 200, 200])
    expect(watched).toEqual({ strayRequests: [], complaints: [] })
  })

  it('asks the server for nothing more once it is kept, but whether there is a new version', async () => {
    await openControlled()
    const before = served.asked.length
    await page.reload()
    await startWorker()
    expect(served.asked.slice(before).filter((path) => path !== '/sw.js')).toEqual([])
  })

  it('may ask nothing of another place', async () => {
    await page.goto(served.address)
    const outcome = await page.evaluate(() =>
      fetch('http://127.0.0.1:9/').then(
        () => 'sent',
        () => 'refused',
      ),
    )
    expect(outcome).toBe('refused')
    expect(watched.complaints.join()).toContain('Content Security Policy')
  })

  it('answers an address of no file with the page, also without a server', async () => {
    await openControlled()
    await served.stop()
    await page.goto(`${served.address}index.html?from=somewhere`)
    expect(await heading()).toContain('Groundweave')
    await page.goto(`${served.address}some/where#else`)
    expect(page.url()).toBe(`${served.address}#else`)
    expect(await heading()).toContain('Groundweave')
  })

  it('lets a new version wait until it is told to take over, and keeps the old files for other tabs', async () => {
    await openControlled()
    served.change({ 'probe.js': `postMessage('version 2')`, 'added.js': `postMessage('added')` })
    await findUpdate()
    await page.reload()
    expect(await startWorker()).toMatch(/^version 1/)
    await page.evaluate(async () => {
      const taken = new Promise((resolve) =>
        navigator.serviceWorker.addEventListener('controllerchange', resolve),
      )
      const registration = (await navigator.serviceWorker.getRegistration())!
      registration.waiting!.postMessage('takeOver')
      await taken
    })
    await page.reload()
    expect(await startWorker()).toBe('version 2')
    expect(await cacheNames()).toHaveLength(2)
    served.change({ 'probe.js': `postMessage('version 3')` })
    await findUpdate()
    await page.evaluate(async () => {
      const registration = (await navigator.serviceWorker.getRegistration())!
      const next = registration.waiting!
      const active = new Promise<void>((resolve) =>
        next.addEventListener('statechange', () => next.state === 'activated' && resolve()),
      )
      next.postMessage('takeOver')
      await active
    })
    expect(await cacheNames()).toHaveLength(2)
    expect(await startWorker()).toBe('version 3')
    expect(watched.strayRequests).toEqual([])
  })

  it('stays with the version it has when a new one does not come whole', async () => {
    await openControlled()
    const names = await cacheNames()
    served.change({ 'probe.js': `postMessage('version 2')`, 'gone.js': '' })
    served.lose('gone.js')
    await page.evaluate(async () => {
      const registration = (await navigator.serviceWorker.getRegistration())!
      const failed = new Promise<void>((resolve) =>
        registration.addEventListener('updatefound', () => {
          const next = registration.installing!
          next.addEventListener('statechange', () => next.state === 'redundant' && resolve())
        }),
      )
      await registration.update().catch(() => undefined)
      await failed
    })
    await served.stop()
    await page.reload()
    expect(await startWorker()).toMatch(/^version 1/)
    expect(await cacheNames()).toEqual(expect.arrayContaining(names))
  })
})

import axe from 'axe-core'
import { afterEach, describe, expect, it } from 'vitest'
import { cdp, page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import App from '../../src/app/App.svelte'
import { loadDemoSites } from '../../src/app/loadDemoSites.ts'
import type { DemoSite } from '../../src/app/demoSite.ts'

const roof: DemoSite = { file: 'roof.json', address: './roof.json', name: 'Roof', rows: 3, entries: 46 }
const field: DemoSite = { file: 'field.json', address: './field.json', name: 'Field', rows: 64 }

function show(sites: readonly DemoSite[] = [roof, field]) {
  return render(App, { demoSites: Promise.resolve(sites) })
}

/** What the session with the browser understands; the driver's own types leave it open. */
interface BrowserSession {
  send(method: string, parameters: unknown): Promise<unknown>
}

async function preferColours(scheme: 'light' | 'dark' | '') {
  const session = cdp() as unknown as BrowserSession
  await session.send('Emulation.setEmulatedMedia', {
    features: [{ name: 'prefers-color-scheme', value: scheme }],
  })
}

async function breaches(): Promise<string[]> {
  const { violations } = await axe.run(document.body)
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)
}

afterEach(async () => {
  await preferColours('')
  await page.viewport(1280, 800)
})

describe('the start page', () => {
  it('names the program and its job', async () => {
    await show()
    await expect.element(page.getByRole('heading', { level: 1, name: 'Groundweave' })).toBeVisible()
    await expect.element(page.getByRole('banner')).toHaveTextContent(/ranks the joints that could explain/)
    await expect.element(page.getByRole('contentinfo')).toHaveTextContent(/runs on this device/)
  })

  it('lists each demo site with its size, its file and the command', async () => {
    await show()
    const demos = page.getByRole('region', { name: 'Demo sites' })
    await expect.element(demos.getByRole('heading', { level: 3, name: 'Roof' })).toBeVisible()
    expect(demos.getByRole('listitem').elements()).toHaveLength(2)
    const first = demos.getByRole('listitem').first()
    await expect.element(first).toHaveTextContent('3 rows drawn, 46 entries in the record.')
    await expect.element(first).toHaveTextContent('npm run -s headless -- locate demo-data/roof.json')
    const link = first.getByRole('link', { name: 'Download roof.json' })
    await expect.element(link).toHaveAttribute('href', './roof.json')
    await expect.element(link).toHaveAttribute('download', 'roof.json')
  })

  it('says so when there are none, and while they are being read', async () => {
    const { rerender } = await render(App, { demoSites: new Promise<DemoSite[]>(() => undefined) })
    await expect.element(page.getByRole('status')).toHaveTextContent('Reading the demo sites')
    await rerender({ demoSites: Promise.resolve([]) })
    const demos = page.getByRole('region', { name: 'Demo sites' })
    await expect.element(demos).toHaveTextContent('There were no demo sites')
    expect(demos.getByRole('listitem').elements()).toHaveLength(0)
  })

  it('gives every caution, and never calls anything safe', async () => {
    const { container } = await show()
    const cautions = page.getByRole('region', { name: 'Before you measure' })
    for (const words of [
      'Test dead and locked out',
      'Measure volts before ohms',
      'Modules in daylight stay live, and an unbonded frame may be at string voltage',
      'Local code and site procedures',
      'Qualified persons only',
      'An answer is a lead for inspection',
      'not proof that anything is in order',
    ])
      await expect.element(cautions).toHaveTextContent(words)
    expect(container.textContent).not.toMatch(/\bsafe/i)
  })

  it('reads the files that lie in demo-data', async () => {
    const files = Object.keys(import.meta.glob('../../demo-data/*.json')).map((path) =>
      path.split('/').at(-1),
    )
    const sites = await loadDemoSites()
    expect(sites.map(({ file }) => file)).toEqual(files)
    for (const { name, file, rows, entries } of sites) {
      expect(name).not.toBe(file)
      expect(rows).toBeGreaterThan(0)
      expect(entries).toBeGreaterThan(0)
    }
  })

  it.each(['light', 'dark'] as const)(
    'has no breach of accessibility that axe can find, %s',
    async (scheme) => {
      await preferColours(scheme)
      await show()
      await expect.element(page.getByRole('link', { name: 'Download field.json' })).toBeVisible()
      expect(matchMedia('(prefers-color-scheme: dark)').matches).toBe(scheme === 'dark')
      document.documentElement.lang = 'en'
      expect(await breaches()).toEqual([])
    },
  )

  it('axe can find a breach here', async () => {
    const { container } = await show()
    container.querySelector('h1')?.setAttribute('style', 'color: #eee; background: #fff')
    expect((await breaches()).join()).toContain('color-contrast')
  })

  it.each([360, 768, 1280, 3840])('fits the width of %i px', async (width) => {
    await page.viewport(width, 800)
    await show([{ ...roof, name: 'A-site-with-a-very-long-name-and-not-one-space-in-it-to-break-a-line-at' }])
    await expect.element(page.getByRole('link')).toBeVisible()
    expect(document.documentElement.scrollWidth).toBe(width)
    const main = page.getByRole('main').element().getBoundingClientRect()
    expect(main.left).toBeGreaterThanOrEqual(0)
    expect(main.right).toBeLessThanOrEqual(width)
  })

  it('shows where the keyboard is', async () => {
    await show()
    const link = page.getByRole('link', { name: 'Download roof.json' })
    await expect.element(link).toBeVisible()
    await userEvent.keyboard('{Tab}')
    await expect.element(link).toHaveFocus()
    const { outlineStyle, outlineWidth } = getComputedStyle(link.element())
    expect([outlineStyle, outlineWidth]).toEqual(['solid', '3px'])
  })
})

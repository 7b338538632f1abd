import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type * as sveltePlugin from '@sveltejs/vite-plugin-svelte'
import type * as playwright from 'playwright'
import type { Browser, CDPSession, Page } from 'playwright'
import type * as vite from 'vite'
import { chromiumFlags, findChromium, findDownloadedChromium } from '../../../.ci/chromium.mjs'
import { serveFolder } from '../../program/staticServer.ts'

/** A page of a build in a browser of its own, with the processor time of its main thread. */
export interface MeasuredPage {
  readonly page: Page
  readonly address: string
  /** Milliseconds of processor time of the page's main thread so far. */
  readonly taskMs: () => Promise<number>
  readonly end: () => Promise<void>
}

export const viewport = { width: 1280, height: 800 }

/** Tools that are loaded as they are, at run time: they do not survive bundling. */
async function tool<T>(name: string): Promise<T> {
  return (await import(/* @vite-ignore */ name)) as T
}

export async function launch(): Promise<Browser> {
  const { chromium } = await tool<typeof playwright>('playwright')
  const executablePath = findChromium() ?? (await findDownloadedChromium())
  return chromium.launch({ executablePath, args: chromiumFlags })
}

/** Builds a page with Vite into a folder under the system's temporary one and returns the folder. */
export async function buildPage(options: {
  readonly root?: string
  readonly configFile?: string
}): Promise<string> {
  const { build } = await tool<typeof vite>('vite')
  const outDir = mkdtempSync(join(tmpdir(), 'groundweave-speed-'))
  process.on('exit', () => rmSync(outDir, { recursive: true, force: true }))
  const settings = { outDir, emptyOutDir: false, target: 'es2022' }
  if (options.configFile !== undefined) {
    await build({ configFile: options.configFile, logLevel: 'error', build: settings })
    return outDir
  }
  const { svelte } = await tool<typeof sveltePlugin>('@sveltejs/vite-plugin-svelte')
  await build({
    root: options.root,
    base: './',
    configFile: false,
    logLevel: 'error',
    plugins: [svelte({ configFile: false })],
    build: settings,
  })
  return outDir
}

export async function openMeasured(browser: Browser, folder: string): Promise<MeasuredPage> {
  const server = await serveFolder(folder)
  const context = await browser.newContext({ viewport })
  const page = await context.newPage()
  page.on('pageerror', (error) => process.stderr.write(`the page says: ${error.message}\n`))
  const session: CDPSession = await context.newCDPSession(page)
  await session.send('Performance.enable', { timeDomain: 'threadTicks' })
  return {
    page,
    address: server.address,
    async taskMs() {
      const { metrics } = await session.send('Performance.getMetrics')
      return 1000 * (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? NaN)
    },
    async end() {
      await context.close()
      await server.stop()
    },
  }
}

// Takes the pictures of the README and the docs from the running program: `npm run pictures`.
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chromium } from 'playwright'
import { build, preview } from 'vite'
import { chromiumFlags, findChromium, findDownloadedChromium } from './chromium.mjs'

const root = fileURLToPath(new URL('..', import.meta.url))
const pictures = join(root, 'docs', 'pictures')
const outDir = mkdtempSync(join(tmpdir(), 'groundweave-pictures-'))
mkdirSync(pictures, { recursive: true })

const configFile = join(root, 'vite.config.ts')
await build({ configFile, logLevel: 'error', build: { outDir } })
const server = await preview({
  configFile,
  logLevel: 'error',
  build: { outDir },
  preview: { host: '127.0.0.1', port: 0, open: false },
})
const address = server.resolvedUrls.local[0]
const executablePath = findChromium() ?? (await findDownloadedChromium())
const browser = await chromium.launch({ executablePath, args: chromiumFlags })

/** One picture: a fresh visitor at this size, in this theme, after these steps. */
async function take(name, [width, height], theme, steps = async () => {}) {
  const context = await browser.newContext({ viewport: { width, height }, hasTouch: width < 1000 })
  const page = await context.newPage()
  await page.addInitScript((kept) => localStorage.setItem('groundweave-preferences', JSON.stringify(kept)), {
    theme,
    workspace: 'locate',
    storySeen: true,
    lastSite: null,
  })
  await page.goto(address)
  await page.getByText('Lead for inspection').first().waitFor({ timeout: 60_000 })
  await steps(page)
  await page.waitForTimeout(1200)
  await page.screenshot({ path: join(pictures, `${name}.png`) })
  await context.close()
}

const chooseFirst = (page) =>
  page
    .getByRole('button', { name: /Jumper between/ })
    .first()
    .click()
const measure = (page) => page.getByRole('tab', { name: 'Measure' }).click()

try {
  await take('field-located', [1440, 860], 'light', chooseFirst)
  await take('field-measure-sunlight', [1180, 820], 'sunlight', measure)
  await take('field-phone-dark', [390, 844], 'dark')
} finally {
  await browser.close()
  await server.close()
  rmSync(outDir, { recursive: true, force: true })
}
process.stdout.write(`Pictures are in ${pictures}\n`)

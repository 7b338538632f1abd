import { spawnSync } from 'node:child_process'
import { cpSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import type { Browser } from 'playwright'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { singleName } from '../../.ci/singleFilePlugin.mjs'
import { launchChromium, watch } from './servedBuild.ts'
import { storyPage } from './storyPage.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
let browser: Browser
let folder: string

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'groundweave-single-'))
  const vite = join(root, 'node_modules', 'vite', 'bin', 'vite.js')
  const built = join(folder, 'built')
  const asked = [vite, 'build', '--config', 'vite.single.config.ts', '--outDir', built, '--logLevel', 'warn']
  const { NODE_ENV: _, ...environment } = process.env
  const { status, stderr } = spawnSync(process.execPath, asked, { cwd: root, env: environment })
  if (status !== 0) throw new Error(String(stderr))
  expect(readdirSync(built)).toEqual([singleName])
  cpSync(join(built, singleName), join(folder, 'handed on.html'))
  rmSync(built, { recursive: true })
  browser = await launchChromium()
})
afterAll(async () => {
  await browser.close()
  rmSync(folder, { recursive: true, force: true })
})

it('one file opens from a disk with everything in it: the demo, an answer, a reading that is kept', async () => {
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 } })
  const { href } = pathToFileURL(join(folder, 'handed on.html'))
  const watched = watch(context, href)
  const page = await context.newPage()
  const story = storyPage(page)
  await story.open(href)
  await story.endIntroduction()
  expect(await story.answered()).toMatch(/jumper between table 4-06 and table 4-07/)
  await page.getByRole('tab', { name: 'Measure' }).click()
  for (const [field, address] of [
    ['From', 'R4/T4/L1.5'],
    ['To', 'R4/T5/L1.5'],
  ]) {
    await story.panel.getByRole('combobox', { name: field, exact: true }).fill(address)
    await page.keyboard.press('Enter')
  }
  await story.panel.getByText(/^A sound array reads /).waitFor()
  await story.sayNoVolts()
  await story.resistance.fill('0.03')
  await story.resistance.press('Enter')
  await story.sayNulled()
  await story.counted(51)
  await story.saved()
  await page.getByRole('button', { name: /Open the list of sites/ }).click()
  await page
    .getByRole('dialog')
    .getByRole('button', { name: /^Open .*roof/i })
    .click()
  await page.getByRole('application').waitFor()
  await page.reload()
  await page.getByRole('button', { name: /Open the list of sites/ }).click()
  await page.getByText(/51 readings, saved/).waitFor()
  // the only things asked for are the file itself and what the page made: no picture, style or list beside it
  expect(watched.strayRequests.filter((address) => !address.startsWith('blob:null/'))).toEqual([])
  expect(watched.complaints).toEqual([])
  await context.close()
})

import { spawn } from 'node:child_process'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { chromium, type BrowserContext } from 'playwright'
import { chromiumFlags, findChromium, findDownloadedChromium } from '../../.ci/chromium.mjs'

/** A Chromium with a profile that outlives it, which can be ended without a chance to write anything. */
export interface KillableBrowser {
  readonly context: BrowserContext
  /** Ends every process of it at once with a signal that none can hear; resolves when all are gone. */
  kill(): Promise<void>
}

export async function startKillable(profile: string): Promise<KillableBrowser> {
  const path = findChromium() ?? (await findDownloadedChromium())
  if (!path) throw new Error('there is no Chromium')
  const portFile = join(profile, 'DevToolsActivePort')
  const isOld = existsSync(portFile) ? readFileSync(portFile, 'utf8') : ''
  const child = spawn(
    path,
    [
      ...chromiumFlags,
      '--headless',
      '--remote-debugging-port=0',
      '--remote-debugging-address=127.0.0.1',
      `--user-data-dir=${profile}`,
      '--window-size=1180,820',
      'about:blank',
    ],
    { stdio: 'ignore', detached: true },
  )
  const root = child.pid
  if (root === undefined) throw new Error('Chromium did not start')
  const isGone = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  const port = await devToolsPort(portFile, isOld)
  const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`)
  const kill = async () => {
    const all = [root, ...descendants(root)]
    for (const process_ of all) signal(process_)
    await isGone
    while (all.some(isRunning)) await pause(10)
    await browser.close().catch(() => undefined)
  }
  return { context: browser.contexts()[0], kill }
}

async function devToolsPort(file: string, old: string): Promise<string> {
  for (let waited = 0; waited < 30_000; waited += 25) {
    const found = existsSync(file) ? readFileSync(file, 'utf8') : ''
    if (found !== old && found.includes('\n')) return found.split('\n')[0]
    await pause(25)
  }
  throw new Error('Chromium opened no port')
}

/** Process ids below one, read from the system's table of processes. */
function descendants(root: number): number[] {
  const parents = new Map<number, number>()
  for (const name of readdirSync('/proc')) {
    const parent = /^\d+$/.test(name) ? statOf(Number(name))?.parent : undefined
    if (parent !== undefined) parents.set(Number(name), parent)
  }
  const isBelow = (id: number | undefined): boolean =>
    id !== undefined && (id === root || isBelow(parents.get(id)))
  return [...parents.keys()].filter((id) => id !== root && isBelow(id))
}

function statOf(id: number): { readonly state: string; readonly parent: number } | null {
  try {
    const text = readFileSync(`/proc/${id}/stat`, 'utf8')
    const [state, parent] = text.slice(text.lastIndexOf(')') + 2).split(' ')
    return { state, parent: Number(parent) }
  } catch {
    return null
  }
}

function signal(id: number): void {
  try {
    process.kill(id, 'SIGKILL')
  } catch {
    // it has gone by itself
  }
}

/** One that has ended and only waits to be counted does nothing any more. */
function isRunning(id: number): boolean {
  const stat = statOf(id)
  return stat !== null && stat.state !== 'Z'
}

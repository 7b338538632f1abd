import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium, type Browser, type BrowserContext } from 'playwright'
import { inject } from 'vitest'
import { chromiumFlags, findChromium, findDownloadedChromium } from '../../.ci/chromium.mjs'
import { offlineWorker } from '../../.ci/offlinePlugin.mjs'
import { serveFolder, type StaticServer } from './staticServer.ts'

export interface ServedBuild extends StaticServer {
  /** Adds or replaces files as another version of the build would, its service worker included. */
  change(files: Readonly<Record<string, string>>): void
  /** Removes a file that the service worker still lists. */
  lose(name: string): void
  /** Stops the server and removes the copy of the build. */
  end(): Promise<void>
}

/** Serves a copy of the build that was made for this run of the tests; `files` are added to it. */
export async function serveBuild(files: Readonly<Record<string, string>> = {}): Promise<ServedBuild> {
  const folder = mkdtempSync(join(tmpdir(), 'groundweave-served-'))
  cpSync(inject('builtFolder'), folder, { recursive: true })
  const change = (changed: Readonly<Record<string, string>>) => {
    for (const [name, text] of Object.entries(changed)) writeFileSync(join(folder, name), text)
    if (Object.keys(changed).length > 0) writeFileSync(join(folder, 'sw.js'), offlineWorker(folder))
  }
  change(files)
  const server = await serveFolder(folder)
  const end = async () => {
    await server.stop()
    rmSync(folder, { recursive: true, force: true })
  }
  const lose = (name: string) => rmSync(join(folder, name))
  return { ...server, change, lose, end }
}

/** A Chromium of its own, with the flags of the other browser tests; the caller closes it. */
export async function launchChromium(): Promise<Browser> {
  const executablePath = findChromium() ?? (await findDownloadedChromium())
  return chromium.launch({ executablePath, args: chromiumFlags })
}

/** What pages of a context ask for, and what they complain of. */
export interface Watched {
  /** Addresses that lie elsewhere than on the server. */
  readonly strayRequests: string[]
  /** Errors, and warnings of the content security policy among them. */
  readonly complaints: string[]
}

export function watch(context: BrowserContext, address: string): Watched {
  const watched: Watched = { strayRequests: [], complaints: [] }
  context.on('request', (request) => {
    const isOwn = [address, 'data:', `blob:${address}`].some((start) => request.url().startsWith(start))
    if (!isOwn) watched.strayRequests.push(request.url())
  })
  context.on('console', (message) => {
    if (message.type() === 'error') watched.complaints.push(message.text())
  })
  context.on('weberror', (error) => watched.complaints.push(String(error.error())))
  return watched
}

import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { TestProject } from 'vitest/node'

declare module 'vitest' {
  interface ProvidedContext {
    /** Folder of the page as `npm run build` makes it. */
    builtFolder: string
  }
}

const root = fileURLToPath(new URL('../..', import.meta.url))

/** Builds the page once for all tests of the program, in a process of its own: tests are no production. */
export default async function buildOnce(project: TestProject): Promise<() => void> {
  const folder = mkdtempSync(join(tmpdir(), 'groundweave-built-'))
  const vite = join(root, 'node_modules', 'vite', 'bin', 'vite.js')
  const { NODE_ENV: _, ...environment } = process.env
  const child = spawn(process.execPath, [vite, 'build', '--outDir', folder, '--logLevel', 'warn'], {
    cwd: root,
    env: environment,
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const said: string[] = []
  child.stdout.on('data', (piece) => said.push(String(piece)))
  child.stderr.on('data', (piece) => said.push(String(piece)))
  const code = await new Promise<number | null>((resolve) => child.on('close', resolve))
  if (code !== 0) throw new Error(`The page could not be built:\n${said.join('')}`)
  project.provide('builtFolder', folder)
  return () => rmSync(folder, { recursive: true, force: true })
}

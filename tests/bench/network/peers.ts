import { spawnSync } from 'node:child_process'
import { copyFileSync, existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

/** A program that times its own factor of a matrix in a file: `command ...args FILE REPEATS`. */
export interface Peer {
  readonly name: string
  readonly command: string
  readonly args: readonly string[]
}

export interface FoundPeers {
  readonly peers: readonly Peer[]
  /** Which peers could not be had, and why. */
  readonly missing: readonly string[]
}

/**
 * The peers of a folder that this machine can run: `cholesky_time.c`, built in the scratch folder with the
 * command that its head gives after `build:`, and `superlu_time.py`, where Python has its library.
 */
export function findPeers(folder: string, scratch: string): FoundPeers {
  const peers: Peer[] = []
  const missing: string[] = []
  const add = (found: Peer | string) => (typeof found === 'string' ? missing.push(found) : peers.push(found))
  add(choleskyIn(folder, scratch))
  add(superluIn(folder))
  return { peers, missing }
}

function choleskyIn(folder: string, scratch: string): Peer | string {
  const source = join(folder, 'cholesky_time.c')
  if (!existsSync(source)) return `${source} is not there`
  const command = buildCommand(readFileSync(source, 'utf8'))
  if (!command) return `${source} does not say how it is built`
  copyFileSync(source, join(scratch, 'cholesky_time.c'))
  const built = spawnSync(command[0], command.slice(1), { cwd: scratch, encoding: 'utf8' })
  if (built.error || built.status !== 0) {
    const reason = built.error?.message ?? built.stderr.trim().split('\n')[0]
    return `CHOLMOD could not be built (${command.join(' ')}): ${reason}`
  }
  return { name: 'CHOLMOD', command: join(scratch, 'cholesky_time'), args: [] }
}

function superluIn(folder: string): Peer | string {
  const script = join(folder, 'superlu_time.py')
  if (!existsSync(script)) return `${script} is not there`
  const python = ['python3', '/usr/bin/python3'].find(
    (each) => spawnSync(each, ['-c', 'import scipy.sparse.linalg, scipy.io']).status === 0,
  )
  if (python === undefined) return 'SuperLU: no Python here has SciPy'
  return { name: 'SuperLU', command: python, args: [script] }
}

/** The words after `build:` in the head of a C file, up to a remark in brackets or the end of the line. */
export function buildCommand(source: string): readonly string[] | null {
  const line = /^[\s*/]*build:\s*([^(\n]+)/m.exec(source)
  return line ? line[1].trim().split(/\s+/) : null
}

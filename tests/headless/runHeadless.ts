import { spawnSync } from 'node:child_process'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const root = fileURLToPath(new URL('../..', import.meta.url))
export const roof = join(root, 'demo-data', 'roof.json')
export const field = join(root, 'demo-data', 'field.json')
export const program = join(root, 'dist-headless', 'groundweave.mjs')

/** Builds the program if it is older than its sources. */
export function buildHeadless(): void {
  const built = spawnSync(process.execPath, [join(root, '.ci', 'headless.mjs'), '--version'], {
    encoding: 'utf8',
  })
  if (built.status !== 0) throw new Error(built.stderr)
}

export interface Run {
  readonly code: number | null
  readonly out: string
  readonly err: string
}

/** Runs the bundled program as its users do: another process, with standard input given. */
export function runHeadless(args: readonly string[], input: string | Uint8Array = ''): Run {
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...args], {
    input,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  })
  return { code: status, out: stdout, err: stderr }
}

/** Runs a line of shell in which $0 is the program's start. */
export function runShell(line: string, ...args: readonly string[]): Run {
  const start = `node() { ${JSON.stringify(process.execPath)} "$@"; }; prog() { node ${JSON.stringify(program)} "$@"; };`
  const { status, stdout, stderr } = spawnSync('bash', ['-c', `${start} ${line}`, 'bash', ...args], {
    encoding: 'utf8',
  })
  return { code: status, out: stdout, err: stderr }
}

import { spawn } from 'node:child_process'

/**
 * Runs a program of its own and gives the JSON of the last line that it prints; what it says on standard
 * error goes on. Rejects when it fails.
 */
export function askProgram<T>(command: string, args: readonly string[]): Promise<T> {
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, { stdio: ['ignore', 'pipe', 'inherit'] })
    const pieces: Buffer[] = []
    child.stdout.on('data', (piece: Buffer) => pieces.push(piece))
    child.on('error', reject)
    child.on('close', (code) => {
      const lines = Buffer.concat(pieces).toString().trim().split('\n')
      if (code === 0) resolve(JSON.parse(lines[lines.length - 1]) as T)
      else reject(new Error(`${command} ended with ${code}: ${lines.join(' ')}`))
    })
  })
}

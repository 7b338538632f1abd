import { streamOutput } from './output.ts'
import { runProgram } from './program.ts'

const { stdin, stdout, stderr } = process
const isTerminal = stdout.isTTY === true
const err = streamOutput(stderr)

// The exit code is set, not exited with: what is still on its way into a pipe gets there.
try {
  process.exitCode = await runProgram(process.argv.slice(2), {
    out: streamOutput(stdout),
    err,
    input: stdin,
    style: {
      width: isTerminal ? stdout.columns : Infinity,
      isTerminal: isTerminal && process.env['NO_COLOR'] === undefined,
    },
  })
} catch (error) {
  process.exitCode = 2
  const what = error instanceof Error ? (error.stack ?? error.message) : String(error)
  await err.write(`This is an error of the program, not of the file.\n${what}\n`)
  await err.flush().catch(() => undefined)
}

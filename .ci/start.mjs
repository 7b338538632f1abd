// Builds the page and serves it on this machine only, until it is stopped. PORT chooses another port.
import { preview, build } from 'vite'
import { fileURLToPath } from 'node:url'

const configFile = fileURLToPath(new URL('../vite.config.ts', import.meta.url))
const port = Number(process.env['PORT'] ?? 4173)

// npm puts a shell between itself and this process, and a signal to npm ends only the shell.
function endWithParent() {
  const parent = process.ppid
  setInterval(() => {
    if (process.ppid !== parent) process.exit(0)
  }, 500).unref()
}

if (process.env['npm_lifecycle_event'] === 'start') endWithParent()
process.chdir(fileURLToPath(new URL('..', import.meta.url)))
await build({ configFile, logLevel: 'warn' })
const server = await preview({ configFile, preview: { host: '127.0.0.1', port } })
console.log(`Groundweave is at ${server.resolvedUrls.local[0]} (Ctrl+C ends it)`)

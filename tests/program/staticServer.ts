import { readFileSync, statSync } from 'node:fs'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { extname, join, normalize, sep } from 'node:path'

const contentTypes: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
}

export interface StaticServer {
  /** Ends with a slash. */
  readonly address: string
  /** Paths in the order in which they were asked for. */
  readonly asked: readonly string[]
  stop(): Promise<void>
}

/** Serves a folder as it is, on this machine only, on a port that the system chooses. */
export async function serveFolder(folder: string): Promise<StaticServer> {
  const asked: string[] = []
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://127.0.0.1').pathname)
    asked.push(path)
    const file = join(folder, normalize(path.endsWith('/') ? `${path}index.html` : path))
    const isThere = file.startsWith(folder + sep) && statSync(file, { throwIfNoEntry: false })?.isFile()
    if (!isThere) {
      response.writeHead(404, { 'content-type': 'text/plain' }).end('not here')
      return
    }
    const contentType = contentTypes[extname(file)] ?? 'application/octet-stream'
    response.writeHead(200, { 'content-type': contentType }).end(readFileSync(file))
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  return {
    address: `http://127.0.0.1:${port}/`,
    asked,
    stop: () =>
      new Promise((resolve) => {
        server.close(() => resolve())
        server.closeAllConnections()
      }),
  }
}

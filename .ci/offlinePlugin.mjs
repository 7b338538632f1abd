// A plugin of the build: writes `sw.js`, a service worker that keeps every file of the build and answers
// with it. Nothing of it exists while developing.
import { createHash } from 'node:crypto'
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join, relative, resolve, sep } from 'node:path'
import { fileURLToPath } from 'node:url'

import { singleName } from './singleFilePlugin.mjs'

const workerName = 'sw.js'
const source = fileURLToPath(new URL('serviceWorker.js', import.meta.url))

/** @returns {string[]} paths of all files below a folder, in a fixed order, written with slashes */
function filesBelow(folder) {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) =>
      relative(folder, join(entry.parentPath ?? entry.path, entry.name))
        .split(sep)
        .join('/'),
    )
    .sort()
}

// `./` is the page itself, which some servers will not give by the name of its file.
function addressOf(file) {
  return file === 'index.html' ? './' : `./${file.split('/').map(encodeURIComponent).join('/')}`
}

/** The service worker for a folder of built files: its version changes with any byte of any of them. */
export function offlineWorker(folder) {
  // Of the program as one file the page has no use: it is for handing on.
  const leftOut = [workerName, singleName]
  const files = filesBelow(folder).filter((file) => !leftOut.includes(file) && !file.endsWith('.map'))
  const text = readFileSync(source, 'utf8')
  const hash = createHash('sha256').update(text)
  for (const file of files) hash.update(`\n${file}\n`).update(readFileSync(join(folder, file)))
  const build = { version: hash.digest('hex').slice(0, 16), files: files.map(addressOf) }
  return `const offlineBuild = ${JSON.stringify(build, null, 2)}\n${text}`
}

export function offlinePlugin() {
  let folder = ''
  return {
    name: 'groundweave-offline',
    apply: 'build',
    configResolved({ root, build }) {
      folder = resolve(root, build.outDir)
    },
    writeBundle: {
      order: 'post',
      sequential: true,
      handler: () => writeFileSync(join(folder, workerName), offlineWorker(folder)),
    },
  }
}

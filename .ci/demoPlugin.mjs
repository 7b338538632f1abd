// A plugin of the build: `site.json?describe` is the name of a demo site and a sentence about it instead of
// the whole file, so that the page can list demos without fetching them.
import { readFileSync } from 'node:fs'
import { basename } from 'node:path'
import { fileURLToPath } from 'node:url'
import { runnerImport } from 'vite'

const describedFile = /^(.*\.json)\?describe$/
const describer = fileURLToPath(new URL('../src/app/describeDemo.ts', import.meta.url))

export function demoPlugin() {
  // Imported while running, not above: what a configuration imports restarts the server when it is edited.
  let imported = null
  return {
    name: 'groundweave-demo',
    load: {
      filter: { id: describedFile },
      async handler(id) {
        const path = describedFile.exec(id)[1]
        this.addWatchFile(path)
        imported ??= runnerImport(describer, { configFile: false, logLevel: 'error' })
        const { describeDemo } = (await imported).module
        const words = describeDemo(readFileSync(path), basename(path))
        return { code: `export default ${JSON.stringify(words)}`, moduleType: 'js' }
      },
    },
  }
}

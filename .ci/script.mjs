// Runs a TypeScript program of the project with Node, which cannot read it as it stands: bundled first into
// node_modules/.cache. `node .ci/script.mjs tests/bench/plantedJumpers.ts --seeds 5`
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { basename, join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { build } from 'vite'

const root = fileURLToPath(new URL('..', import.meta.url))
const [script, ...args] = process.argv.slice(2)
if (script === undefined) {
  process.stderr.write('Which program? node .ci/script.mjs file.ts [arguments]\n')
  process.exit(1)
}

const cache = join(root, 'node_modules', '.cache', 'groundweave')
mkdirSync(cache, { recursive: true })
// A folder for each run, so that two runs at once do no harm.
const folder = mkdtempSync(join(cache, `${basename(script, '.ts')}-`))
process.on('exit', () => rmSync(folder, { recursive: true, force: true }))

await build({
  root,
  configFile: false,
  publicDir: false,
  logLevel: 'error',
  ssr: { noExternal: true },
  build: {
    ssr: script,
    outDir: folder,
    emptyOutDir: false,
    target: 'node20',
    rolldownOptions: { output: { entryFileNames: 'program.mjs', codeSplitting: false } },
  },
})
const program = join(folder, 'program.mjs')
process.argv = [process.argv[0], program, ...args]
await import(pathToFileURL(program).href)

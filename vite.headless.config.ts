import { defineConfig } from 'vite'

// The command-line program, one file for Node 20 with everything in it.
export default defineConfig({
  publicDir: false,
  ssr: { noExternal: true },
  build: {
    ssr: 'src/headless/main.ts',
    outDir: 'dist-headless',
    emptyOutDir: true,
    target: 'node20',
    rolldownOptions: { output: { entryFileNames: 'groundweave.mjs', codeSplitting: false } },
  },
})

import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'vite'
import { demoPlugin } from './.ci/demoPlugin.mjs'
import { singleFilePlugin } from './.ci/singleFilePlugin.mjs'

// The whole program in one HTML file that opens from a disk, `dist/groundweave.html`; made after the page itself.
export default defineConfig({
  root: 'src/app',
  base: './',
  mode: 'single',
  publicDir: false,
  plugins: [svelte({ configFile: '../../svelte.config.js' }), demoPlugin(), singleFilePlugin()],
  build: {
    outDir: '../../dist',
    emptyOutDir: false,
    target: 'es2022',
    modulePreload: false,
    cssCodeSplit: false,
    rolldownOptions: { output: { codeSplitting: false } },
  },
})

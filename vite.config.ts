import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'vite'
import { demoPlugin } from './.ci/demoPlugin.mjs'
import { offlinePlugin } from './.ci/offlinePlugin.mjs'

export default defineConfig({
  root: 'src/app',
  base: './',
  publicDir: 'public',
  plugins: [svelte({ configFile: '../../svelte.config.js' }), demoPlugin(), offlinePlugin()],
  build: { outDir: '../../dist', emptyOutDir: true, target: 'es2022' },
})

import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'vite'

export default defineConfig({
  root: 'src/app',
  base: './',
  publicDir: 'public',
  plugins: [svelte({ configFile: '../../svelte.config.js' })],
  build: { outDir: '../../dist', emptyOutDir: true, target: 'es2022' },
})

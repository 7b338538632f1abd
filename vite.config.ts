import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig, type Plugin } from 'vite'
import { demoPlugin } from './.ci/demoPlugin.mjs'
import { offlinePlugin } from './.ci/offlinePlugin.mjs'

/** While developing, styles come in elements of their own, which the page's policy forbids. */
function looseStyles(): Plugin {
  const allow = (html: string) => html.replace(`style-src 'self'`, `style-src 'self' 'unsafe-inline'`)
  return { name: 'groundweave-loose-styles', apply: 'serve', transformIndexHtml: allow }
}

export default defineConfig({
  root: 'src/app',
  base: './',
  publicDir: 'public',
  plugins: [svelte({ configFile: '../../svelte.config.js' }), demoPlugin(), offlinePlugin(), looseStyles()],
  build: { outDir: '../../dist', emptyOutDir: true, target: 'es2022' },
})
